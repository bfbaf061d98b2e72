package store

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"net"
	"slices"

	"tendfold/domain"

	"github.com/jackc/pgx/v5/pgconn"
	"github.com/mattn/go-sqlite3"
	"gorm.io/gorm"
)

// mapError turns what a database said into the house's error; what is the
// word for the thing asked for. It is the only place that knows the codes of
// both dialects.
func mapError(err error, what string) error {
	var known *domain.Error
	var connect *pgconn.ConnectError
	switch {
	case err == nil || errors.As(err, &known) || errors.Is(err, context.Canceled):
		return err
	case errors.As(err, &connect): // before the deadline, which bounds the attempt to connect
		return unreachable(err)
	case errors.Is(err, gorm.ErrRecordNotFound), errors.Is(err, sql.ErrNoRows):
		return domain.NotFound(what)
	case errors.Is(err, gorm.ErrDuplicatedKey):
		return &domain.Error{Kind: domain.KindConflict, Code: what + "-exists", Text: "There is such a " + what + " already. Open that one, or use another name.", Err: err}
	case errors.Is(err, gorm.ErrForeignKeyViolated):
		return &domain.Error{Kind: domain.KindConflict, Code: what + "-link", Text: "This " + what + " refers to something that is not here, or something still refers to it.", Err: err}
	case errors.Is(err, context.DeadlineExceeded):
		return tookTooLong(err)
	}
	if e := sqliteError(err); e != nil {
		return e
	}
	if e := postgresError(err); e != nil {
		return e
	}
	return &domain.Error{Kind: domain.KindInternal, Code: "database", Err: err}
}

func busy(code, text string, err error) error {
	return &domain.Error{Kind: domain.KindBusy, Code: code, Text: text, Err: err}
}

func tookTooLong(err error) error {
	return busy("took-too-long", "The database took too long to answer. Try again shortly.", err)
}

func diskFull(err error) error {
	return busy("disk-full", "The disk is full, so nothing was saved. Free some space, then try again.", err)
}

func unreachable(err error) error {
	return busy("database-unreachable", "The database does not answer just now, so nothing was saved. Try again shortly.", err)
}

// Codes: https://www.sqlite.org/rescode.html
func sqliteError(err error) error {
	var e sqlite3.Error
	if !errors.As(err, &e) {
		return nil
	}
	switch e.Code {
	case sqlite3.ErrBusy, sqlite3.ErrLocked:
		return busy("busy", "Another write is taking long. Try again shortly.", err)
	case sqlite3.ErrInterrupt:
		return tookTooLong(err)
	case sqlite3.ErrFull:
		return diskFull(err)
	case sqlite3.ErrCantOpen, sqlite3.ErrReadonly, sqlite3.ErrPerm, sqlite3.ErrAuth:
		return busy("data-folder", "The data folder cannot be read or written. Check its owner, its rights and the free space.", err)
	case sqlite3.ErrCorrupt, sqlite3.ErrNotADB:
		return busy("database-damaged", "The database file is damaged or is not one. Restore the last backup.", err)
	case sqlite3.ErrConstraint:
		return constraint(err)
	}
	return nil
}

// Codes: https://www.postgresql.org/docs/current/errcodes-appendix.html
func postgresError(err error) error {
	if e, ok := errors.AsType[*pgconn.PgError](err); ok {
		return postgresCode(e)
	}
	var network net.Error
	if errors.As(err, &network) || errors.Is(err, driver.ErrBadConn) || errors.Is(err, net.ErrClosed) || pgconn.SafeToRetry(err) {
		return unreachable(err)
	}
	return nil
}

func postgresCode(e *pgconn.PgError) error {
	switch class := e.Code[:min(2, len(e.Code))]; {
	case slices.Contains(raceCodes, e.Code):
		return busy("busy", "Others changed the same things at the same moment. Try again.", e)
	case e.Code == "55P03":
		return busy("busy", "Another write is taking long. Try again shortly.", e)
	case e.Code == "57014":
		return tookTooLong(e)
	case e.Code == "53100":
		return diskFull(e)
	case class == "08" || class == "53" || class == "57" || class == "28" || e.Code == "3D000":
		return unreachable(e)
	case class == "22":
		return &domain.Error{Kind: domain.KindInvalid, Code: "value-not-storable", Text: "A value is too large, or holds a character that cannot be stored.", Err: e}
	case class == "23":
		return constraint(e)
	}
	return nil
}

func constraint(err error) error {
	return &domain.Error{Kind: domain.KindInvalid, Code: "value-not-allowed", Text: "A value is outside what may be stored.", Err: err}
}

// raceCodes are serialization failure and deadlock: the server gave this
// transaction up so that another could go on.
var raceCodes = []string{"40001", "40P01"}

// lostRace says whether the whole transaction may simply be run again.
func lostRace(err error) bool {
	var e *pgconn.PgError
	return errors.As(err, &e) && slices.Contains(raceCodes, e.Code)
}
