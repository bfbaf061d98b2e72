package main

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"tendfold/checklists"
	"tendfold/domain/calendar"
	"tendfold/server"
	"tendfold/server/media"
	"tendfold/server/store"
)

// dataFlags are those of every command that touches data.
type dataFlags struct {
	DB    string `help:"Folder of the SQLite database, or a PostgreSQL URL." default:"./data" placeholder:"DIR|URL"`
	Packs string `help:"Folder with packs beside those inside." type:"existingdir" placeholder:"DIR" name:"packs"`
	Media string `help:"Folder of photos and voice notes; media in the folder of SQLite, ./data/media with PostgreSQL." placeholder:"DIR"`
	Scan  string `help:"Command that looks at each photo and voice note before it is kept, with its arguments; the file's name is added. Exit 0 lets it in, 1 keeps it out." placeholder:"COMMAND" name:"media-scanner"`
	Zone  string `help:"Time zone to work in while no firm is set yet." default:"UTC" placeholder:"ZONE"`
}

// commandBusy is how long a command waits for the server's writes on SQLite.
const commandBusy = time.Minute

func (f dataFlags) config() server.Config {
	return server.Config{
		DB: f.DB, Packs: f.Packs, Media: f.Media, MediaScanner: strings.Fields(f.Scan), Busy: commandBusy, Version: version, SigningKey: os.Getenv("TENDFOLD_SIGNING_KEY"),
	}
}

// with opens the house for one command.
func (f dataFlags) with(ctx context.Context, do func(h *server.House) error) error {
	h, err := server.Open(ctx, f.config())
	if err != nil {
		return err
	}
	return errors.Join(do(h), h.Close())
}

// answer writes JSON when asked for, else the words.
func answer(w io.Writer, asJSON bool, v any, words string) error {
	if !asJSON {
		_, err := fmt.Fprintln(w, words)
		return err
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

type migrateCmd struct {
	dataFlags
	JSON bool `help:"Answer as JSON." name:"json"`
}

// Run makes or updates the tables: opening the house does.
func (c *migrateCmd) Run(ctx context.Context, std streams) error {
	return c.with(ctx, func(h *server.House) error {
		return answer(std.Out, c.JSON, map[string]any{"migrated": true, "dialect": h.Store.Dialect()}, "The tables are up to date.")
	})
}

type packsCmd struct {
	Check packsCheckCmd `cmd:"" help:"Check the packs inside, or those in a folder."`
}

type packsCheckCmd struct {
	Dir  string `arg:"" optional:"" type:"existingdir" help:"Folder of one pack, or of packs."`
	JSON bool   `help:"Answer as JSON." name:"json"`
}

// Run checks packs and fails when any is refused.
func (c *packsCheckCmd) Run(std streams) error {
	problems := checklists.CheckEmbedded()
	if c.Dir != "" {
		problems = checklists.Check(os.DirFS(c.Dir))
	}
	if c.JSON {
		if problems == nil {
			problems = []checklists.Problem{}
		}
		if err := answer(std.Out, true, map[string]any{"ok": len(problems) == 0, "problems": problems}, ""); err != nil {
			return err
		}
	} else {
		for _, p := range problems {
			p.File = filepath.Join(c.Dir, p.File)
			fmt.Fprintln(std.Out, p)
		}
	}
	if len(problems) > 0 {
		return fmt.Errorf("%d problems in the packs", len(problems))
	}
	if !c.JSON {
		fmt.Fprintln(std.Out, "The packs are good.")
	}
	return nil
}

type sweepCmd struct {
	dataFlags
	On   calendar.Date `help:"Day to work out; today where left out. A day before the last sweep is reported and nothing is written." placeholder:"2026-03-12"`
	JSON bool          `help:"Answer as JSON." name:"json"`
}

// Run sweeps every farm, with progress on stderr.
func (c *sweepCmd) Run(ctx context.Context, std streams) error {
	return c.with(ctx, func(h *server.House) error {
		sum, err := h.Sweeps.All(ctx, c.On, func(farms int) { fmt.Fprintf(std.Err, "\r%d farms", farms) })
		fmt.Fprintln(std.Err)
		if err != nil {
			return err
		}
		return answer(std.Out, c.JSON, sum, sum.Words())
	})
}

type backupCmd struct {
	dataFlags
	File string `arg:"" help:"File to write; it must not exist."`
}

// Run writes one consistent file.
func (c *backupCmd) Run(ctx context.Context, std streams) error {
	return c.with(ctx, func(h *server.House) error {
		if err := h.Store.Backup(ctx, c.File); err != nil {
			return err
		}
		n, err := h.Files.Pack(c.File + mediaEnd)
		if err != nil {
			return err
		}
		fmt.Fprintf(std.Out, "Wrote %s, and %d photos and voice notes (with their small pictures) to %s. Keep a copy of both on another machine, with the file of the signing key.\n", c.File, n, c.File+mediaEnd)
		return nil
	})
}

// mediaEnd names the file of photos and voice notes beside a backup.
const mediaEnd = ".media.tar"

type restoreCmd struct {
	File  string `arg:"" type:"existingfile" help:"Backup to put back; photos and voice notes come from the file of that name and .media.tar."`
	DB    string `help:"Folder of the SQLite database." default:"./data" placeholder:"DIR"`
	Media string `help:"Folder of photos and voice notes; media in the folder of SQLite when left out." placeholder:"DIR"`
}

// Run puts a backup into a folder in which no server runs.
func (c *restoreCmd) Run(ctx context.Context, std streams) error {
	if err := store.Restore(ctx, c.File, c.DB); err != nil {
		return err
	}
	fmt.Fprintf(std.Out, "Restored %s into %s.\n", c.File, c.DB)
	if _, err := os.Stat(c.File + mediaEnd); errors.Is(err, fs.ErrNotExist) {
		fmt.Fprintf(std.Out, "There is no %s: photos and voice notes were left as they are.\n", c.File+mediaEnd)
		return nil
	}
	files, err := media.Open(cmp.Or(c.Media, filepath.Join(c.DB, "media")), nil)
	if err != nil {
		return err
	}
	n, err := files.Unpack(c.File + mediaEnd)
	if err != nil {
		return err
	}
	fmt.Fprintf(std.Out, "Put %d photos and voice notes (with their small pictures) back.\n", n)
	return nil
}

type versionCmd struct {
	JSON bool `help:"Answer as JSON." name:"json"`
}

// Run prints the version.
func (c *versionCmd) Run(std streams) error {
	return answer(std.Out, c.JSON, map[string]string{"version": version}, "tendfold "+version)
}
