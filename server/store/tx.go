package store

import (
	"context"
	"database/sql"
	"errors"
	"math/rand/v2"
	"time"

	"tendfold/domain"

	"gorm.io/gorm"
)

// txKey finds the transaction of one store in a context; two stores in one
// process (a test, a copy) never take each other's.
type txKey struct{ s *Store }

// tx is a transaction under way and what must still be done before it
// commits.
type tx struct {
	db    *gorm.DB
	stale staleDocs
	news  []newsRow
}

// retries is how often a transaction is run again that PostgreSQL gave up
// because of another one.
const retries = 4

// InTx runs fn in one transaction. A nested call joins: only the outermost
// commits, and an error anywhere undoes all. A panic undoes it and goes on.
// On PostgreSQL fn is run again, from its start, when the server gave the
// transaction up for another's sake: it must have no effect but on the
// database. No network call belongs inside.
func (s *Store) InTx(ctx context.Context, fn func(ctx context.Context) error) error {
	if s.tx(ctx) != nil {
		return fn(ctx)
	}
	var err error
	for i := range retries {
		if err = s.once(ctx, fn); !lostRace(err) {
			return err
		}
		if err := pause(ctx, i); err != nil {
			return err
		}
	}
	return busy("busy", "Others changed the same things at the same moment. Try again.", err)
}

// pause waits a little before another try, longer each time and never twice
// the same, so that the two that met do not meet again.
func pause(ctx context.Context, try int) error {
	wait := time.Duration(1+rand.IntN(10<<(2*try))) * time.Millisecond // not a secret
	select {
	case <-ctx.Done():
		return mapError(ctx.Err(), "database")
	case <-time.After(wait):
		return nil
	}
}

func (s *Store) once(ctx context.Context, fn func(ctx context.Context) error) error {
	db := s.write.WithContext(ctx).Begin()
	if db.Error != nil {
		return mapError(db.Error, "database")
	}
	t := &tx{db: db}
	over := false
	defer func() {
		if !over {
			// Reached by an error and by a panic alike. What fails here is
			// no news: the connection is gone, and the transaction with it.
			db.Rollback()
		}
	}()
	inner := context.WithValue(ctx, txKey{s}, t)
	if err := fn(inner); err != nil {
		return err
	}
	if err := s.reindex(inner, t.stale); err != nil {
		return err
	}
	if err := s.publish(inner, t.news); err != nil {
		return err
	}
	over = true // a commit ends it, even one that fails
	return mapError(db.Commit().Error, "database")
}

// Try runs fn within the transaction of ctx so that an error of fn undoes what
// fn did and nothing else. Without a transaction it is InTx.
func (s *Store) Try(ctx context.Context, fn func(ctx context.Context) error) error {
	t := s.tx(ctx)
	if t == nil {
		return s.InTx(ctx, fn)
	}
	const mark = "try"
	if err := t.db.WithContext(ctx).SavePoint(mark).Error; err != nil {
		return mapError(err, "database")
	}
	failed := fn(ctx)
	if failed == nil {
		return nil
	}
	if err := t.db.WithContext(ctx).RollbackTo(mark).Error; err != nil {
		return mapError(err, "database")
	}
	return failed
}

func (s *Store) tx(ctx context.Context) *tx {
	t, _ := ctx.Value(txKey{s}).(*tx)
	return t
}

// from is the handle for a write, or for a read that a write depends on: the
// transaction in ctx, else the writer. Nothing in this package may hold a
// handle for longer than a call: on SQLite that deadlocks, and on PostgreSQL
// it silently leaves the transaction.
func (s *Store) from(ctx context.Context) *gorm.DB {
	if t := s.tx(ctx); t != nil {
		return t.db.WithContext(ctx)
	}
	return s.write.WithContext(ctx)
}

// reader is the handle for a read: the transaction in ctx, so that it sees
// its own writes, else a reader.
func (s *Store) reader(ctx context.Context) *gorm.DB {
	if t := s.tx(ctx); t != nil {
		return t.db.WithContext(ctx)
	}
	return s.read.WithContext(ctx)
}

// SQLTx is the transaction in ctx as database/sql knows it, so that a job is
// queued in the same transaction as what it is about.
func (s *Store) SQLTx(ctx context.Context) (*sql.Tx, error) {
	t := s.tx(ctx)
	if t == nil {
		return nil, &domain.Error{Kind: domain.KindInternal, Code: "no-transaction", Text: "This needs a transaction, and none is open."}
	}
	if p, ok := t.db.Statement.ConnPool.(*preparedTx); ok {
		return p.tx, nil
	}
	return nil, &domain.Error{Kind: domain.KindInternal, Code: "no-transaction", Err: errors.New("the transaction is of an unknown make")}
}
