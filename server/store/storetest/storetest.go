// Package storetest gives tests real databases: a fresh SQLite folder and a
// fresh PostgreSQL database, both migrated, the queue's tables too. A test
// written with Each runs on both.
package storetest

import (
	"context"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"tendfold/server/jobs"
	"tendfold/server/store"

	"github.com/stretchr/testify/require"
)

// Each runs the test once on each database, on a store of its own.
func Each(t *testing.T, test func(t *testing.T, s *store.Store)) {
	t.Helper()
	EachDB(t, func(t *testing.T, db string) { test(t, Open(t, db)) })
}

// EachDB is Each for tests that open the database themselves: db is the
// text for store.Config.DB.
func EachDB(t *testing.T, test func(t *testing.T, db string)) {
	t.Helper()
	t.Run("sqlite", func(t *testing.T) { test(t, Folder(t)) })
	t.Run("postgres", func(t *testing.T) { test(t, Database(t)) })
}

// EachEmpty is EachDB for tests of the migrations: nothing is in the database
// yet.
func EachEmpty(t *testing.T, test func(t *testing.T, db string)) {
	t.Helper()
	t.Run("sqlite", func(t *testing.T) { test(t, t.TempDir()) })
	t.Run("postgres", func(t *testing.T) { test(t, EmptyDatabase(t)) })
}

// Open opens a store that the test closes at its end.
func Open(t testing.TB, db string) *store.Store {
	t.Helper()
	s, err := store.Open(context.Background(), store.Config{DB: db})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, s.Close()) })
	return s
}

// Folder is a folder with a migrated SQLite database.
func Folder(t testing.TB) string {
	t.Helper()
	template, err := sqliteTemplate()
	require.NoError(t, err)
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, store.FileName), template, 0o600))
	return dir
}

// sqliteTemplate migrates once; a copy of the file is a hundred times
// cheaper than to migrate again.
var sqliteTemplate = sync.OnceValues(func() ([]byte, error) {
	dir, err := os.MkdirTemp("", "tendfold-template-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	if err := migrate(dir); err != nil {
		return nil, err
	}
	// The last connection has folded the log in, so the file is whole.
	return os.ReadFile(filepath.Join(dir, store.FileName))
})

func migrate(db string) error {
	ctx := context.Background()
	s, err := store.Open(ctx, store.Config{DB: db})
	if err != nil {
		return err
	}
	if err := s.Migrate(ctx); err != nil {
		return err
	}
	queue := jobs.Config{DB: s}
	if s.Dialect() == store.PostgreSQL {
		queue.Postgres = db
	}
	if err := jobs.Migrate(ctx, queue); err != nil {
		return err
	}
	return s.Close()
}
