// Package store keeps everything that outlives a process, in SQLite (one
// folder) or PostgreSQL, from one code base. It owns the schema, the
// transactions, the mapping of database errors to the house's one error type
// and the row structs; rows never leave it. gorm is used here only, without
// hooks, callbacks, AutoMigrate or Save.
package store

import (
	"context"
	"database/sql"
	"errors"
	"log/slog"
	"strings"
	"time"

	"gorm.io/gorm"
	"gorm.io/gorm/logger"
)

// Dialect names the database behind a Store.
type Dialect string

// The dialects.
const (
	SQLite     Dialect = "sqlite"
	PostgreSQL Dialect = "postgres"
)

// Config says where the data is and how long to wait for it.
type Config struct {
	// DB is a folder for SQLite (made with 0700 when missing) or the URL of
	// a PostgreSQL database (postgres://user@host/name).
	DB string
	// Busy is how long a write waits for another process's write on SQLite
	// before it gives up with a busy error; 0 means five seconds.
	Busy time.Duration
	// MaxConns bounds the PostgreSQL pool, and the readers on SQLite; 0 means
	// 16 and 4.
	MaxConns int
}

// Store is the database. Its methods take the context of a request and join
// the transaction that InTx put into it.
type Store struct {
	dialect Dialect
	folder  string // of SQLite, else ""
	write   *gorm.DB
	read    *gorm.DB
	pools   []*sql.DB
}

// DialectOf says which database the text of Config.DB names.
func DialectOf(db string) Dialect {
	if strings.HasPrefix(db, "postgres://") || strings.HasPrefix(db, "postgresql://") {
		return PostgreSQL
	}
	return SQLite
}

// Open connects to the database and proves that it answers with the settings
// that the house relies on. It does not migrate. The error is a domain.Error
// of KindBusy when the database cannot be reached now.
func Open(ctx context.Context, c Config) (*Store, error) {
	if c.Busy <= 0 {
		c.Busy = 5 * time.Second
	}
	if DialectOf(c.DB) == PostgreSQL {
		return openPostgres(ctx, c)
	}
	return openSQLite(ctx, c)
}

// Dialect is the database behind the store.
func (s *Store) Dialect() Dialect { return s.dialect }

// Close releases all connections; on SQLite the write-ahead log is folded
// into the database file by the last one.
func (s *Store) Close() error {
	var errs []error
	for _, p := range s.pools {
		errs = append(errs, p.Close())
	}
	return errors.Join(errs...)
}

// Ping says whether the database answers, for readiness checks.
func (s *Store) Ping(ctx context.Context) error {
	var one int
	return mapError(s.reader(ctx).Raw("SELECT 1").Scan(&one).Error, "database")
}

// SQL is the pool that may write, for libraries that bring their own
// statements (the job queue). On SQLite it has one connection: never use it
// while a transaction of InTx is open in the same goroutine.
func (s *Store) SQL() *sql.DB { return s.pools[0] }

func gormConfig() *gorm.Config {
	return &gorm.Config{
		SkipDefaultTransaction: true,
		TranslateError:         true,
		DisableAutomaticPing:   true,
		Logger:                 logger.Discard, // errors are returned, and logged once where they stop
	}
}

func closeAfter(err error, pools ...*sql.DB) error {
	for _, p := range pools {
		if e := p.Close(); e != nil {
			slog.Warn("closing a database pool", "error", e)
		}
	}
	return err
}
