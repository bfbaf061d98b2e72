package storetest

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"net/url"
	"os"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"tendfold/server/store/migrations"

	_ "github.com/jackc/pgx/v5/stdlib" // the driver that makes and drops databases
	"github.com/stretchr/testify/require"
)

// ServerVar names a running PostgreSQL server (postgres://user@host/postgres)
// on which the tests may make and drop databases. Without it each test
// process starts a server of its own.
const ServerVar = "TENDFOLD_TEST_PG"

// errNoServer says that PostgreSQL is not installed.
var errNoServer = errors.New("PostgreSQL is not installed (no initdb on the PATH or under /usr/lib/postgresql); install it, or name a server in " + ServerVar)

// Database is a fresh, migrated PostgreSQL database. Where PostgreSQL is not
// installed the test is skipped, except when CI=true: there it fails.
func Database(t testing.TB) string {
	t.Helper()
	server := serverFor(t)
	return server.database(t, server.template)
}

// EmptyDatabase is a fresh PostgreSQL database without any table.
func EmptyDatabase(t testing.TB) string {
	t.Helper()
	return serverFor(t).database(t, "template0")
}

func serverFor(t testing.TB) *cluster {
	t.Helper()
	server, err := templateServer()
	if errors.Is(err, errNoServer) && os.Getenv("CI") != "true" {
		t.Skip(err)
	}
	require.NoError(t, err)
	return server
}

func (c *cluster) database(t testing.TB, template string) string {
	t.Helper()
	name := fmt.Sprintf("t%d_%d_%d", os.Getpid(), time.Now().UnixNano(), made.Add(1))
	require.NoError(t, c.exec("CREATE DATABASE "+name+" TEMPLATE "+template))
	t.Cleanup(func() { require.NoError(t, c.exec("DROP DATABASE "+name+" WITH (FORCE)")) })
	return c.address(name)
}

var made atomic.Int64

// cluster is a running server with a migrated template database.
type cluster struct {
	url      *url.URL
	template string
	admin    *sql.DB
}

func (c *cluster) address(database string) string {
	u := *c.url
	u.Path = "/" + database
	return u.String()
}

func (c *cluster) exec(statement string) error {
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	_, err := c.admin.ExecContext(ctx, statement)
	return err
}

var templateServer = sync.OnceValues(func() (*cluster, error) {
	address := os.Getenv(ServerVar)
	if address == "" {
		var err error
		if address, err = start(); err != nil {
			return nil, err
		}
	}
	u, err := url.Parse(address)
	if err != nil {
		return nil, err
	}
	admin, err := sql.Open("pgx", address)
	if err != nil {
		return nil, err
	}
	c := &cluster{url: u, admin: admin, template: "tendfold_" + migrationsHash()}
	return c, c.makeTemplate()
})

// migrationsHash names the template after what is in it, so that a server
// that outlives the tests never serves an old schema.
func migrationsHash() string {
	h := sha256.New()
	for _, f := range migrations.Files("postgres") {
		h.Write([]byte(f.Name + "\n" + f.Text))
	}
	return hex.EncodeToString(h.Sum(nil))[:12]
}

// makeTemplate migrates under another name and renames at the end: the
// template's name means that it is complete. Several test processes may share
// the server, so one at a time looks.
func (c *cluster) makeTemplate() error {
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	conn, err := c.admin.Conn(ctx)
	if err != nil {
		return err
	}
	defer conn.Close() // it gives the advisory lock back; nothing is lost
	if _, err := conn.ExecContext(ctx, "SELECT pg_advisory_lock(20260312)"); err != nil {
		return err
	}
	defer func() { _, _ = conn.ExecContext(ctx, "SELECT pg_advisory_unlock(20260312)") }() // see above
	var there bool
	if err := conn.QueryRowContext(ctx, "SELECT EXISTS (SELECT 1 FROM pg_database WHERE datname = $1)", c.template).Scan(&there); err != nil || there {
		return err
	}
	draft := c.template + "_draft"
	for _, q := range []string{"DROP DATABASE IF EXISTS " + draft + " WITH (FORCE)", "CREATE DATABASE " + draft + " TEMPLATE template0"} {
		if _, err := conn.ExecContext(ctx, q); err != nil {
			return err
		}
	}
	if err := migrate(c.address(draft)); err != nil {
		return err
	}
	_, err = conn.ExecContext(ctx, "ALTER DATABASE "+draft+" RENAME TO "+c.template)
	return err
}
