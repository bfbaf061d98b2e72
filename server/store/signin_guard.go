package store

import (
	"context"
	"database/sql"
	"time"

	"tendfold/server/app/signin"
)

type nonceRow struct {
	Nonce     string `gorm:"primaryKey"`
	ExpiresAt micros
}

func (nonceRow) TableName() string { return "nonces" }

// SpendNonce writes down that a nonce was used; first is false when it was
// before.
func (s *Store) SpendNonce(ctx context.Context, nonce string, until time.Time) (first bool, err error) {
	row := nonceRow{Nonce: nonce, ExpiresAt: toMicros(until)}
	res := s.from(ctx).Clauses(keepFirst).Create(&row)
	return res.RowsAffected == 1, mapError(res.Error, "nonce")
}

type attemptRow struct {
	Scope     string `gorm:"primaryKey"`
	Failures  int
	NotBefore micros
	SeenAt    micros
}

func (attemptRow) TableName() string { return "attempts" }

// LockTries is the count of a scope, held until the transaction ends; one
// that is not there yet is made, so that there is a row to hold.
func (s *Store) LockTries(ctx context.Context, scope string, now time.Time) (signin.Tries, error) {
	blank := attemptRow{Scope: scope, SeenAt: toMicros(now)}
	if err := s.insert(ctx, "attempt", []attemptRow{blank}, keepFirst); err != nil {
		return signin.Tries{}, err
	}
	r, err := one[attemptRow](s.from(ctx).Clauses(forUpdate).Where("scope = ?", scope), "attempt")
	return signin.Tries{Scope: r.Scope, Failures: r.Failures, NotBefore: r.NotBefore.time(), SeenAt: r.SeenAt.time()}, err
}

// PutTries writes the count of a scope that LockTries gave.
func (s *Store) PutTries(ctx context.Context, t signin.Tries) error {
	return found(s.from(ctx).Model(&attemptRow{}).Where("scope = ?", t.Scope).Updates(map[string]any{
		"failures": t.Failures, "not_before": toMicros(t.NotBefore), "seen_at": toMicros(t.SeenAt),
	}), "attempt")
}

// DropTries forgets the count of a scope.
func (s *Store) DropTries(ctx context.Context, scope string) error {
	return mapError(s.from(ctx).Where("scope = ?", scope).Delete(&attemptRow{}).Error, "attempt")
}

type serverKeyRow struct {
	Kid    string `gorm:"primaryKey"`
	MadeAt micros
}

func (serverKeyRow) TableName() string { return "server_keys" }

// NoteKeys adds the ids of signing keys to those that this database was
// served with, and gives them all.
func (s *Store) NoteKeys(ctx context.Context, kids []string, now time.Time) ([]string, error) {
	rows := each(kids, func(kid string) serverKeyRow { return serverKeyRow{kid, toMicros(now)} })
	if err := s.insert(ctx, "key", rows, keepFirst); err != nil {
		return nil, err
	}
	return many(s.from(ctx).Order("made_at, kid"), "key", func(r serverKeyRow) string { return r.Kid })
}

// PurgeSignIn deletes what signing in has no more use for, and says how many
// rows that were.
func (s *Store) PurgeSignIn(ctx context.Context, p signin.Purge) (rows int, err error) {
	err = s.InTx(ctx, func(ctx context.Context) error {
		rows = 0
		for _, old := range []struct {
			row  any
			cond string
			at   time.Time
		}{
			{&nonceRow{}, "expires_at < @at", p.Now},
			{&attemptRow{}, "seen_at < @at", p.Tries},
			{&sessionRow{}, "expires_at < @at OR ended_at <> 0 AND ended_at < @at", p.Sessions},
			{&enrolmentRow{}, "expires_at < @at", p.Ways},
		} {
			res := s.from(ctx).Where(old.cond, sql.Named("at", toMicros(old.at))).Delete(old.row)
			if res.Error != nil {
				return mapError(res.Error, "session")
			}
			rows += int(res.RowsAffected)
		}
		return nil
	})
	return rows, err
}

var _ signin.Store = (*Store)(nil)
