// Command tendfold is the aftercare desk of a farm-setup consultancy: the
// server, and what an operator does at its host.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"os/signal"
	"syscall"
	"time"

	"tendfold/domain"

	"github.com/alecthomas/kong"
)

// version is set by the build.
var version = "unknown"

// cli is what can be asked for. Every setting is also read from the
// environment: TENDFOLD_ and the flag's name.
type cli struct {
	LogLevel string `help:"Least level of the log: debug, info, warn or error." enum:"debug,info,warn,error" default:"info"`

	Serve    serveCmd    `cmd:"" help:"Serve the web app and the API, and work off jobs."`
	Demo     demoCmd     `cmd:"" help:"Serve an invented firm with about sixty farms, in a throw-away folder."`
	Migrate  migrateCmd  `cmd:"" help:"Make or update the tables."`
	Packs    packsCmd    `cmd:"" help:"Work with packs."`
	Intake   intakeCmd   `cmd:"" help:"Read a register from a CSV or XLSX file; a dry run unless --commit."`
	Sweep    sweepCmd    `cmd:"" help:"Work out every farm's standing; open, update and clear tickets."`
	Rehearse rehearseCmd `cmd:"" help:"Prove the rules on invented farms whose truth is known."`
	Reckon   reckonCmd   `cmd:"" help:"Reckon stock, feed, water and the like from a sheet of figures; no database is needed."`
	Person   personCmd   `cmd:"" help:"Add people and let them in."`
	Export   exportCmd   `cmd:"" help:"Write everything as CSV files into a folder."`
	Backup   backupCmd   `cmd:"" help:"Write a backup of the SQLite database into one file."`
	Restore  restoreCmd  `cmd:"" help:"Put a backup back into an SQLite folder."`
	PushKeys pushKeysCmd `cmd:"" help:"Make a key pair for notices to browsers (web push)."`
	Openapi  openapiCmd  `cmd:"" help:"Print the description of the API."`
	Health   healthCmd   `cmd:"" help:"Ask a running server whether it is ready."`
	Version  versionCmd  `cmd:"" help:"Print the version."`
}

// streams are where a command reads and answers: data alone on Out, the rest
// on Err.
type streams struct {
	In  io.Reader
	Out io.Writer
	Err io.Writer
}

// Exit codes: done, failed, wrong use.
const (
	exitDone  = 0
	exitError = 1
	exitUsage = 2
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := run(ctx, os.Args[1:], streams{os.Stdin, os.Stdout, os.Stderr})
	stop()
	os.Exit(code)
}

func run(ctx context.Context, args []string, std streams) (code int) {
	var c cli
	parser, err := kong.New(&c,
		kong.Name("tendfold"), kong.Description("The aftercare desk of a farm-setup consultancy."),
		kong.DefaultEnvars("TENDFOLD"), kong.Writers(std.Out, std.Err), kong.Vars{"version": version, "topics": topics()},
		kong.BindTo(ctx, (*context.Context)(nil)), kong.Bind(std),
		kong.Exit(func(int) { panic(asked{}) }),
	)
	if err != nil {
		fmt.Fprintln(std.Err, "tendfold:", err)
		return exitError
	}
	defer func() {
		if r := recover(); r != nil {
			if _, ok := r.(asked); !ok {
				panic(r)
			}
		}
	}()
	k, err := parser.Parse(args)
	if err != nil {
		fmt.Fprintf(std.Err, "tendfold: %s\nTry: tendfold --help\n", err)
		return exitUsage
	}
	setLog(c.LogLevel, std.Err)
	if err := k.Run(); err != nil {
		tell(std.Err, err)
		return exitError
	}
	return exitDone
}

// asked ends a run that was asked for help only.
type asked struct{}

// tell says what went wrong: our own errors in their plain words, with each
// field; anything else as it is.
func tell(w io.Writer, err error) {
	var e *domain.Error
	if !errors.As(err, &e) || e.Kind == domain.KindInternal {
		fmt.Fprintln(w, "tendfold:", err)
		return
	}
	fmt.Fprintln(w, "tendfold:", e.Text)
	for _, f := range e.Fields {
		fmt.Fprintf(w, "  %s: %s\n", f.Path, f.Text)
	}
	if e.Err != nil {
		fmt.Fprintln(w, "  because:", e.Err)
	}
}

func setLog(level string, w io.Writer) {
	var l slog.Level
	if err := l.UnmarshalText([]byte(level)); err != nil {
		l = slog.LevelInfo
	}
	slog.SetDefault(slog.New(slog.NewJSONHandler(w, &slog.HandlerOptions{Level: l, ReplaceAttr: utc})))
}

// utc keeps the log's times in UTC, whatever the host's zone.
func utc(_ []string, a slog.Attr) slog.Attr {
	if a.Value.Kind() == slog.KindTime {
		a.Value = slog.TimeValue(a.Value.Time().UTC().Truncate(time.Millisecond))
	}
	return a
}
