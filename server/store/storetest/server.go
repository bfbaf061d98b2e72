package storetest

import (
	"context"
	"database/sql"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// start makes a PostgreSQL server from the installed binaries in a folder of
// its own, as another user than root, on a socket only. It is stopped, and
// its folder removed, when this process ends in whatever way.
func start() (string, error) {
	bin, err := binaries()
	if err != nil {
		return "", err
	}
	dir, err := os.MkdirTemp(tempRoot(), "tendfold-pg-")
	if err != nil {
		return "", err
	}
	who, err := serverUser(dir)
	if err != nil {
		return "", err
	}
	initdb := exec.CommandContext(context.Background(), filepath.Join(bin, "initdb"), // an installed program
		"--pgdata", filepath.Join(dir, "data"), "--username=tendfold", "--auth=trust", "--encoding=UTF8", "--locale=C", "--no-sync")
	initdb.Dir = dir
	who.apply(initdb)
	if out, err := initdb.CombinedOutput(); err != nil {
		return "", fmt.Errorf("initdb: %w\n%s", err, out)
	}
	if err := watch(bin, dir, who); err != nil {
		return "", err
	}
	address := (&url.URL{Scheme: "postgres", User: url.User("tendfold"), Path: "/postgres", RawQuery: url.Values{"host": {dir}}.Encode()}).String()
	return address, ready(address, filepath.Join(dir, "log"))
}

// watchdog runs the server until its input ends, which is when the test
// process ends, be it by a panic, a timeout or kill -9. Interrupts at the
// keyboard reach it too and must not stop it first.
const watchdog = `trap '' INT TERM HUP
"$1/postgres" -D "$2/data" -k "$2" -c listen_addresses= -c fsync=off -c synchronous_commit=off \
  -c full_page_writes=off -c max_connections=300 -c shared_buffers=64MB -c max_wal_size=2GB </dev/null >"$2/log" 2>&1 &
server=$!
read -r _
kill -QUIT "$server" 2>/dev/null
wait "$server"
rm -rf "$2"`

func watch(bin, dir string, who account) error {
	cmd := exec.CommandContext(context.Background(), "sh", "-c", watchdog, "sh", bin, dir) // constant text
	cmd.Dir = dir
	who.apply(cmd)
	lifeline, err := cmd.StdinPipe()
	if err != nil {
		return err
	}
	lifelines = append(lifelines, lifeline)
	return cmd.Start()
}

// lifelines keeps the watchdogs' inputs from being collected, and so closed.
var lifelines []any

func ready(address, log string) error {
	db, err := sql.Open("pgx", address)
	if err != nil {
		return err
	}
	defer db.Close() // it only asked
	ctx, cancel := context.WithTimeout(context.Background(), 30*time.Second)
	defer cancel()
	for {
		if err = db.PingContext(ctx); err == nil {
			return nil
		}
		select {
		case <-ctx.Done():
			text, _ := os.ReadFile(log) // a path of ours
			return fmt.Errorf("PostgreSQL did not start: %w\n%s", err, text)
		case <-time.After(20 * time.Millisecond):
		}
	}
}

// binaries is the folder of the newest installed server.
func binaries() (string, error) {
	if path, err := exec.LookPath("initdb"); err == nil {
		return filepath.Dir(path), nil
	}
	found, err := filepath.Glob("/usr/lib/postgresql/*/bin/initdb")
	if err != nil || len(found) == 0 {
		return "", errNoServer
	}
	slices.SortFunc(found, func(a, b string) int { return len(a) - len(b) + strings.Compare(a, b) })
	return filepath.Dir(found[len(found)-1]), nil
}

// tempRoot is a folder that another user can reach: root's own is closed to
// all others.
func tempRoot() string {
	if dir := os.TempDir(); !strings.HasPrefix(dir+"/", "/root/") {
		return dir
	}
	return "/tmp"
}
