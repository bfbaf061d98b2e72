package store

import (
	"context"
	"database/sql"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"tendfold/domain"

	"gorm.io/driver/sqlite"
	"gorm.io/gorm"
)

// FileName is the database file in the folder that Config.DB names.
const FileName = "tendfold.db"

// sqliteReaders is enough to keep a few cores busy; reads are short.
const sqliteReaders = 4

// pageCache is what each connection keeps of the file, in KiB: with SQLite's
// own 2 MB a reader of 10,000 farms asks the system for most pages anew.
const pageCache = 16 << 10

// walLimit is the size to which the write-ahead log is cut after a
// checkpoint, in bytes.
const walLimit = 64 << 20

// minSQLite is the first release in which a WAL database with several
// connections that write and checkpoint cannot be damaged by a reset of the
// log at the wrong moment.
var minSQLite = [3]int{3, 51, 3}

// openSQLite opens one connection that writes and a few that only read. One
// writer, because with more of them SQLite answers "locked" instead of
// waiting its turn, and reads on their own so that they never wait for it.
func openSQLite(ctx context.Context, c Config) (*Store, error) {
	folder, err := filepath.Abs(c.DB)
	if err != nil {
		return nil, folderError(c.DB, err)
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return nil, folderError(c.DB, err)
	}
	file := filepath.Join(folder, FileName)
	s := &Store{dialect: SQLite, folder: folder}
	if s.write, err = s.openPool(sqliteDSN(file, c, false), 1); err != nil {
		return nil, closeAfter(mapError(err, "database"), s.pools...)
	}
	if err := os.Chmod(file, 0o600); err != nil {
		return nil, closeAfter(folderError(c.DB, err), s.pools...)
	}
	readers := c.MaxConns
	if readers <= 0 {
		readers = sqliteReaders
	}
	if s.read, err = s.openPool(sqliteDSN(file, c, true), readers); err != nil {
		return nil, closeAfter(mapError(err, "database"), s.pools...)
	}
	if err := s.readBack(ctx, c); err != nil {
		return nil, closeAfter(err, s.pools...)
	}
	return s, nil
}

func folderError(folder string, err error) error {
	return &domain.Error{
		Kind: domain.KindBusy, Code: "data-folder",
		Text: fmt.Sprintf("The data folder %q cannot be made or read. Check the path, its owner and the free space.", folder), Err: err,
	}
}

// sqliteDSN puts every setting into the address, because a PRAGMA that is
// sent once reaches only one connection of a pool.
func sqliteDSN(file string, c Config, reader bool) string {
	q := url.Values{
		"_journal_mode": {"WAL"},
		"_synchronous":  {"FULL"},
		"_foreign_keys": {"on"},
		"_cache_size":   {strconv.Itoa(-pageCache)},
		"_busy_timeout": {strconv.FormatInt(c.Busy.Milliseconds(), 10)},
		"_mutex":        {"no"},        // database/sql lets one goroutine at a time use a connection
		"_txlock":       {"immediate"}, // a deferred one fails, without waiting, when it turns from reading to writing
	}
	if reader {
		q.Set("_query_only", "true")
		q.Set("_txlock", "deferred")
	}
	return fileAddress(file) + "?" + q.Encode()
}

func (s *Store) openPool(dsn string, conns int) (*gorm.DB, error) {
	pool, err := sql.Open(sqlite.DriverName, dsn)
	if err != nil {
		return nil, err
	}
	pool.SetMaxOpenConns(conns)
	pool.SetMaxIdleConns(conns)
	s.pools = append(s.pools, pool)
	return gorm.Open(sqlite.New(sqlite.Config{Conn: newPrepared(pool)}), gormConfig())
}

// readBack asks each pool what it runs with: a typing error in the address
// is silently ignored by the driver, and would cost data one day.
func (s *Store) readBack(ctx context.Context, c Config) error {
	var version string
	if err := s.pools[0].QueryRowContext(ctx, "SELECT sqlite_version()").Scan(&version); err != nil {
		return mapError(err, "database")
	}
	if !atLeast(version, minSQLite) {
		return settingError("SQLite", version, fmt.Sprintf("%d.%d.%d or newer", minSQLite[0], minSQLite[1], minSQLite[2]))
	}
	want := map[string]string{"journal_mode": "wal", "synchronous": "2", "foreign_keys": "1", "busy_timeout": strconv.FormatInt(c.Busy.Milliseconds(), 10)}
	for i, pool := range s.pools {
		want["query_only"] = strconv.Itoa(i) // the second pool only reads
		for name, value := range want {
			var got string
			if err := pool.QueryRowContext(ctx, "PRAGMA "+name).Scan(&got); err != nil {
				return mapError(err, "database")
			}
			if got != value {
				return settingError(name, got, value)
			}
		}
	}
	_, err := s.pools[0].ExecContext(ctx, "PRAGMA journal_size_limit = "+strconv.Itoa(walLimit))
	return mapError(err, "database")
}

func settingError(what, got, want string) error {
	return &domain.Error{Kind: domain.KindInternal, Code: "database-setting", Text: fmt.Sprintf("%s is %s, and must be %s.", what, got, want)}
}

// atLeast compares a version such as 3.51.3 with a least one.
func atLeast(version string, least [3]int) bool {
	parts := strings.SplitN(version, ".", 3)
	for i, want := range least {
		if i >= len(parts) {
			return false
		}
		if got, err := strconv.Atoi(parts[i]); err != nil || got != want {
			return err == nil && got > want
		}
	}
	return true
}

// Checkpoint folds the write-ahead log into the database file and cuts it,
// so that it cannot grow behind a long reader; it does nothing on
// PostgreSQL. It waits for readers no longer than the busy time.
func (s *Store) Checkpoint(ctx context.Context) error {
	if s.dialect != SQLite {
		return nil
	}
	_, err := s.pools[0].ExecContext(ctx, "PRAGMA wal_checkpoint(TRUNCATE)")
	return mapError(err, "database")
}
