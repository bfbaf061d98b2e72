package main

import (
	"context"
	"fmt"
	"os"
	"strings"

	"tendfold/domain/farm"
	"tendfold/server"
	"tendfold/server/app"
	"tendfold/server/app/register"
	"tendfold/server/intake"
)

type intakeCmd struct {
	dataFlags
	File     string `arg:"" type:"existingfile" help:"CSV or XLSX file with the register."`
	Commit   bool   `help:"Write the good rows; without it only say what would be written."`
	Watch    bool   `help:"Start watching the farms at once."`
	Language string `help:"Language of the problems, en or fr; the firm's where left out." enum:"en,fr," default:""`
	Country  string `help:"Country of phone numbers without a country code (ISO 3166)." placeholder:"CM"`
	JSON     bool   `help:"Answer as JSON." name:"json"`
}

// Run plans the import, and carries it out when asked to.
func (c *intakeCmd) Run(ctx context.Context, std streams) error {
	f, err := os.Open(c.File)
	if err != nil {
		return err
	}
	table, err := intake.Read(f)
	if err = firstOf(err, f.Close()); err != nil {
		return err
	}
	return c.with(ctx, func(h *server.House) error {
		firm, err := h.Store.Firm(ctx)
		if err != nil {
			return err
		}
		lang := firm.Language
		if c.Language != "" {
			lang = c.Language
		}
		result, err := h.Imports.Run(ctx, app.System, register.Import{
			Sheet: table, Name: c.File, Commit: c.Commit, Watch: c.Watch, Branch: farm.Branch{Zone: c.Zone, Country: c.Country}, Country: c.Country,
			Progress: func(stage register.Stage, done, total int) {
				fmt.Fprintf(std.Err, "\r%s %d of %d   ", stage, done, total)
			},
		})
		fmt.Fprintln(std.Err)
		if err != nil {
			return err
		}
		told := result.Tell(lang, table.Header(), c.Commit)
		return answer(std.Out, c.JSON, told, intakeWords(told))
	})
}

// intakeWords is the answer for people at a terminal: totals, then every
// problem on a line.
func intakeWords(a register.Answer) string {
	var b strings.Builder
	done := "Nothing was written: this was a dry run. Run it again with --commit to write the good rows."
	if a.Committed {
		done = "The good rows were written."
	}
	fmt.Fprintf(&b, "%d rows: %d new, %d changed, %d same, %d refused; %d possible doubles.\n%s", a.Rows, a.New, a.Changed, a.Same, a.Refused, a.Doubles, done)
	for _, p := range a.Problems {
		fmt.Fprintf(&b, "\n  row %d, %s (%s): %s", p.Row, p.Column, p.Severity, p.Text)
	}
	return b.String()
}

func firstOf(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

type exportCmd struct {
	dataFlags
	Dir string `arg:"" help:"Folder to write into; it is made when missing."`
}

// Run writes everything as CSV files, and photos and voice notes as they are,
// with a line on stderr for each.
func (c *exportCmd) Run(ctx context.Context, std streams) error {
	return c.with(ctx, func(h *server.House) error {
		files, err := h.Export(ctx, c.Dir, func(f intake.File) { fmt.Fprintf(std.Err, "%s: %d\n", f.Name, f.Rows) })
		if err != nil {
			return err
		}
		fmt.Fprintf(std.Out, "Wrote %d files into %s, with photos and voice notes in media. They hold personal data: keep them where only you can read them.\n", len(files)-1, c.Dir)
		return nil
	})
}
