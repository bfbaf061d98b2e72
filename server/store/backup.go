package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"

	"tendfold/domain"

	"gorm.io/driver/sqlite"
)

// usePgDump is the answer of Backup and Restore on PostgreSQL, which has its
// own tools.
func usePgDump() error {
	return domain.Invalid("backup-postgres", "This is a PostgreSQL database. Back it up with pg_dump --format=custom, and restore it with pg_restore.")
}

// Backup writes a whole copy of the database, as it stands at one moment, to
// a new file that only its owner can read. Reads and writes go on meanwhile.
// A file that exists is left alone.
func (s *Store) Backup(ctx context.Context, file string) error {
	if s.dialect != SQLite {
		return usePgDump()
	}
	out, err := os.OpenFile(file, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600) // the file that the operator names
	if err != nil {
		return fileError(file, err)
	}
	if err := out.Close(); err != nil {
		return fileError(file, err)
	}
	// The copy goes into the empty file just made, so that no other user can
	// read it for a moment. It writes, so the pool that only reads refuses it.
	if _, err := s.pools[0].ExecContext(ctx, "VACUUM INTO ?", file); err != nil {
		return errors.Join(mapError(err, "backup"), os.Remove(file))
	}
	return syncFile(file)
}

// Restore puts a backup in the place of the database in a folder, which is
// made when missing. The backup is checked first, and what was there is kept
// beside it as tendfold.db.before. No process may have the folder open.
func Restore(ctx context.Context, file, folder string) error {
	if DialectOf(folder) != SQLite {
		return usePgDump()
	}
	if err := checkBackup(ctx, file); err != nil {
		return err
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return folderError(folder, err)
	}
	if err := alone(ctx, folder); err != nil {
		return err
	}
	draft := filepath.Join(folder, FileName+".restoring")
	if err := copyFile(file, draft); err != nil {
		return err
	}
	return swap(folder, draft)
}

// checkBackup refuses a file that is no database of ours, or is damaged.
func checkBackup(ctx context.Context, file string) error {
	if _, err := os.Stat(file); err != nil {
		return fileError(file, err)
	}
	db, err := sql.Open(sqlite.DriverName, fileAddress(file)+"?mode=ro&immutable=1")
	if err != nil {
		return mapError(err, "backup")
	}
	defer db.Close() // it only read
	var verdict string
	if err := db.QueryRowContext(ctx, "PRAGMA integrity_check(1)").Scan(&verdict); err != nil {
		return damaged(file, err)
	}
	var farms int
	err = db.QueryRowContext(ctx, "SELECT COUNT(*) FROM goose_db_version, farms WHERE 1 = 0").Scan(&farms)
	if verdict != "ok" || err != nil {
		return damaged(file, errors.Join(errors.New(verdict), err))
	}
	return nil
}

func damaged(file string, err error) error {
	return &domain.Error{
		Kind: domain.KindInvalid, Code: "backup-damaged",
		Text: fmt.Sprintf("%q is damaged, or is no backup of Tendfold. Nothing was changed; try an older backup.", file), Err: err,
	}
}

// alone refuses to go on while another process has the database open: it
// would go on writing to the file that was put aside.
func alone(ctx context.Context, folder string) error {
	file := filepath.Join(folder, FileName)
	if _, err := os.Stat(file); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	db, err := sql.Open(sqlite.DriverName, fileAddress(file)+"?_txlock=exclusive&_locking_mode=EXCLUSIVE&_busy_timeout=1000")
	if err != nil {
		return mapError(err, "database")
	}
	db.SetMaxOpenConns(1)
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		err = errors.Join(err, db.Close())
		if domain.CodeOf(mapError(err, "database")) == "database-damaged" {
			return nil // the very reason to restore
		}
		return busy("data-folder-in-use", "A server or a command has this folder open. Stop it first.", err)
	}
	return errors.Join(tx.Rollback(), db.Close())
}

// swap puts the old database aside and the new one in its place. The old log
// goes with the old file: beside the new one it would destroy it.
func swap(folder, draft string) error {
	file := filepath.Join(folder, FileName)
	for _, end := range []string{"-wal", "-shm", ""} {
		err := os.Rename(file+end, file+".before"+end)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fileError(file+end, err)
		}
		if err != nil {
			// A log of an earlier restore must not outlive its database either.
			if err := os.Remove(file + ".before" + end); err != nil && !errors.Is(err, fs.ErrNotExist) {
				return fileError(file+".before"+end, err)
			}
		}
	}
	if err := os.Rename(draft, file); err != nil {
		return fileError(file, err)
	}
	return syncFile(folder)
}

func copyFile(from, to string) error {
	in, err := os.Open(from) // the file that the operator names
	if err != nil {
		return fileError(from, err)
	}
	defer in.Close()                                                       // it was only read
	out, err := os.OpenFile(to, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600) // in the data folder
	if err != nil {
		return fileError(to, err)
	}
	if _, err := out.ReadFrom(in); err != nil {
		return errors.Join(fileError(to, err), out.Close())
	}
	if err := errors.Join(out.Sync(), out.Close()); err != nil {
		return fileError(to, err)
	}
	return nil
}

// syncFile makes a file, or the names in a folder, outlive a power cut.
func syncFile(path string) error {
	f, err := os.Open(path) // ours, or the operator's
	if err != nil {
		return fileError(path, err)
	}
	if err := errors.Join(f.Sync(), f.Close()); err != nil {
		return fileError(path, err)
	}
	return nil
}

func fileAddress(file string) string {
	u := url.URL{Path: filepath.ToSlash(file)}
	return "file:" + u.EscapedPath()
}

func fileError(file string, err error) error {
	switch {
	case errors.Is(err, fs.ErrExist):
		return domain.Conflict("file-exists", fmt.Sprintf("There is a file %q already. Name another one.", file))
	case errors.Is(err, fs.ErrNotExist):
		return &domain.Error{Kind: domain.KindNotFound, Code: "file-not-found", Text: fmt.Sprintf("There is no file %q, or no folder to put it in.", file), Err: err}
	}
	return &domain.Error{Kind: domain.KindBusy, Code: "file", Text: fmt.Sprintf("The file %q cannot be read or written. Check its owner and the free space.", file), Err: err}
}
