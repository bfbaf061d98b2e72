package store_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"tendfold/domain"
	"tendfold/server/store"
	"tendfold/server/store/storetest"

	"github.com/stretchr/testify/require"
)

func TestBackupAndRestore(t *testing.T) {
	dir := storetest.Folder(t)
	s, err := store.Open(ctx, store.Config{DB: dir})
	require.NoError(t, err)
	newWorld(t, s)
	file := filepath.Join(t.TempDir(), "copy.db")
	require.NoError(t, s.InTx(ctx, func(ctx context.Context) error { return s.AddBranches(ctx, branch("kept", "Kept")) }))
	require.NoError(t, s.Backup(ctx, file))
	info, err := os.Stat(file)
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o600), info.Mode().Perm())
	require.Equal(t, "file-exists", domain.CodeOf(s.Backup(ctx, file)), "a backup never writes over a file")

	require.NoError(t, s.AddBranches(ctx, branch("lost", "Lost")))
	require.Equal(t, "data-folder-in-use", domain.CodeOf(store.Restore(ctx, file, dir)), "somebody has it open")
	require.NoError(t, s.Close())

	// A log that is left over from a crash belongs to the old file alone.
	for _, end := range []string{"-wal", "-shm"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, store.FileName+end), []byte("left over"), 0o600))
	}
	require.NoError(t, os.Remove(filepath.Join(dir, store.FileName+"-shm")))
	require.NoError(t, os.WriteFile(filepath.Join(dir, store.FileName+"-wal"), nil, 0o600))
	require.NoError(t, store.Restore(ctx, file, dir))
	r := storetest.Open(t, dir)
	all, err := r.Branches(ctx)
	require.NoError(t, err)
	require.Equal(t, []string{"buea", "douala", "kept"}, branchIDs(all))

	before := filepath.Join(t.TempDir(), "before")
	require.NoError(t, os.MkdirAll(before, 0o700))
	require.NoError(t, os.Rename(filepath.Join(dir, store.FileName+".before"), filepath.Join(before, store.FileName)))
	old := storetest.Open(t, before)
	all, err = old.Branches(ctx)
	require.NoError(t, err)
	require.Equal(t, []string{"buea", "douala", "kept", "lost"}, branchIDs(all), "what was replaced is kept aside")
}

func TestRestoreIntoANewFolder(t *testing.T) {
	s := storetest.Open(t, storetest.Folder(t))
	newWorld(t, s)
	file := filepath.Join(t.TempDir(), "copy.db")
	require.NoError(t, s.Backup(ctx, file))
	dir := filepath.Join(t.TempDir(), "new")
	require.NoError(t, store.Restore(ctx, file, dir))
	r := storetest.Open(t, dir)
	ok, err := r.Migrated(ctx)
	require.NoError(t, err)
	require.True(t, ok)
}

func TestRestoreRefusesWhatIsNoBackup(t *testing.T) {
	dir := storetest.Folder(t)
	good, err := os.ReadFile(filepath.Join(dir, store.FileName))
	require.NoError(t, err)
	torn := append([]byte(nil), good...)
	for i := len(torn) / 2; i < len(torn); i++ {
		torn[i] = 0x5a
	}
	for name, c := range map[string]struct {
		content []byte
		code    string
	}{
		"text":         {[]byte("hello, this is a letter and not a database at all; it goes on for a while, and a while"), "backup-damaged"},
		"empty":        {nil, "backup-damaged"},
		"torn":         {torn, "backup-damaged"},
		"cut in half":  {good[:len(good)/2], "backup-damaged"},
		"not anything": {nil, "file-not-found"},
	} {
		t.Run(name, func(t *testing.T) {
			file := filepath.Join(t.TempDir(), "backup")
			if c.code != "file-not-found" {
				require.NoError(t, os.WriteFile(file, c.content, 0o600))
			}
			require.Equal(t, c.code, domain.CodeOf(store.Restore(ctx, file, dir)))
			still, err := os.ReadFile(filepath.Join(dir, store.FileName))
			require.NoError(t, err)
			require.Equal(t, good, still, "nothing was changed")
		})
	}
}

func TestPostgresBacksUpWithItsOwnTools(t *testing.T) {
	s := storetest.Open(t, storetest.Database(t))
	require.ErrorContains(t, s.Backup(ctx, filepath.Join(t.TempDir(), "x")), "pg_dump")
	require.ErrorContains(t, store.Restore(ctx, "x", "postgres://someone@localhost/db"), "pg_restore")
}
