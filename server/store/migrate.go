package store

import (
	"context"
	"database/sql"
	"errors"
	"path/filepath"

	"tendfold/server/store/migrations"

	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/lock"
	"gorm.io/driver/sqlite"
)

// Migrate brings the schema to the newest version. Several processes may
// start at once: one migrates, the others wait.
func (s *Store) Migrate(ctx context.Context) error {
	p, err := s.migrations()
	if err != nil {
		return err
	}
	_, err = p.Up(ctx)
	return mapError(err, "database")
}

// Migrated says whether the schema is at the version that this program needs.
func (s *Store) Migrated(ctx context.Context) (bool, error) {
	p, err := s.migrations()
	if err != nil {
		return false, err
	}
	pending, err := p.HasPending(ctx)
	return err == nil && !pending, mapError(err, "database")
}

func (s *Store) migrations() (*goose.Provider, error) {
	opts := []goose.ProviderOption{goose.WithLogger(goose.NopLogger()), goose.WithDisableGlobalRegistry(true)}
	dialect := goose.DialectSQLite3
	if s.dialect == PostgreSQL {
		dialect = goose.DialectPostgres
		locker, err := lock.NewPostgresSessionLocker(lock.WithLockTimeout(1, 120))
		if err != nil {
			return nil, mapError(err, "database")
		}
		opts = append(opts, goose.WithSessionLocker(locker))
	} else {
		opts = append(opts, goose.WithLocker(&folderLock{folder: s.folder}))
	}
	p, err := goose.NewProvider(dialect, s.pools[0], migrations.FS(string(s.dialect)), opts...)
	return p, mapError(err, "database")
}

// folderLock lets one process at a time migrate a SQLite folder. SQLite locks
// a statement or a transaction, and a migration is many; so an exclusive
// transaction is held on a small file beside the database. The system lets it
// go when the process dies.
type folderLock struct {
	folder string
	db     *sql.DB
	tx     *sql.Tx
}

// Lock waits up to two minutes.
func (l *folderLock) Lock(ctx context.Context, _ *sql.DB) error {
	file := filepath.Join(l.folder, "migrate.lock")
	db, err := sql.Open(sqlite.DriverName, fileAddress(file)+"?_txlock=exclusive&_busy_timeout=120000")
	if err != nil {
		return err
	}
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return errors.Join(err, db.Close())
	}
	l.db, l.tx = db, tx
	return nil
}

// Unlock lets the next process in.
func (l *folderLock) Unlock(context.Context, *sql.DB) error {
	return errors.Join(l.tx.Rollback(), l.db.Close())
}
