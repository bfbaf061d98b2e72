package store

import (
	"context"
	"time"

	"tendfold/domain/calendar"
	"tendfold/server/app"
)

type servedRow struct {
	OpenedAt    micros
	FirstWordBy micros
	FirstWordAt micros
	SettledAt   micros
	FromCall    bool
	Reopened    bool
}

// Served are the tickets of a scope that were opened in the days of a query,
// with the instants of their service.
func (s *Store) Served(ctx context.Context, sc app.Scope, q app.LoadQuery) ([]app.ServedTicket, error) {
	rows := s.loadTickets(ctx, sc, q).Where("t.opened_on >= ? AND t.opened_on <= ? AND t.joined_into = ''", q.From, q.To).
		Select("t.opened_at, t.first_word_by, t.first_word_at, t.settled_at, t.origin = 'call' AS from_call, t.reopened <> '[]' AS reopened")
	return many(rows, "ticket", func(r servedRow) app.ServedTicket {
		return app.ServedTicket{
			OpenedAt: r.OpenedAt.time(), FirstWordBy: r.FirstWordBy.time(), FirstWordAt: r.FirstWordAt.time(), SettledAt: r.SettledAt.time(),
			FromCall: r.FromCall, Reopened: r.Reopened,
		}
	})
}

// Stale counts the open tickets of a scope that nobody has touched for a day
// and that wait for nobody.
func (s *Store) Stale(ctx context.Context, sc app.Scope, q app.LoadQuery, now time.Time) (int, error) {
	var n int64
	err := s.loadTickets(ctx, sc, q).Where("t.state NOT IN ('settled', 'waiting') AND t.touched_at < ?", toMicros(now.Add(-24*time.Hour))).Count(&n).Error
	return int(n), mapError(err, "ticket")
}

// Hands is what each person of a scope has in hand now, and has settled in the
// days of a query, by name.
func (s *Store) Hands(ctx context.Context, sc app.Scope, q app.LoadQuery, now time.Time) ([]app.AdvisorLoad, error) {
	held := s.loadTickets(ctx, sc, q).Where("t.state <> 'settled' AND t.holder_id <> ''").
		Select("t.holder_id AS person_id, 1 AS held, CASE WHEN t.state = 'waiting' THEN 1 ELSE 0 END AS waits, CASE WHEN t.due_at <= ? THEN 1 ELSE 0 END AS late, 0 AS done", toMicros(now))
	by := q
	by.Holder = ""
	done := s.loadTickets(ctx, sc, by).Where("t.state = 'settled' AND t.settled_by <> '' AND t.settled_on >= ? AND t.settled_on <= ?", q.From, q.To).
		Select("t.settled_by AS person_id, 0 AS held, 0 AS waits, 0 AS late, 1 AS done")
	if q.Holder != "" {
		done = done.Where("t.settled_by = ?", q.Holder)
	}
	var out []app.AdvisorLoad
	err := s.reader(ctx).Raw(`SELECT r.person_id, p.name, SUM(r.held) AS in_hand, SUM(r.waits) AS waiting, SUM(r.late) AS overdue, SUM(r.done) AS settled
		FROM (? UNION ALL ?) AS r JOIN people p ON p.id = r.person_id GROUP BY r.person_id, p.name, p.folded ORDER BY p.folded, r.person_id`, held, done).Scan(&out).Error
	return out, mapError(err, "ticket")
}

// SignCases are the reports of signs in a scope since a day, on farms whose
// position is known, joined ones once.
func (s *Store) SignCases(ctx context.Context, sc app.Scope, since calendar.Date) ([]app.SignCase, error) {
	cond, args := s.farmsOf(sc)
	var out []app.SignCase
	err := s.reader(ctx).Table("tickets t").Joins("JOIN farms f ON f.id = t.farm_id").
		Where("t.rule = '' AND t.subject <> '' AND t.joined_into = '' AND t.opened_on >= ? AND f.position_known", since).Where(cond, args...).
		Select("t.subject AS sign, t.farm_id, f.name AS farm, f.branch_id, f.lat, f.lng, t.opened_on AS \"on\"").
		Order("t.opened_on, t.id").Limit(caseMost).Scan(&out).Error
	return out, mapError(err, "ticket")
}

// caseMost bounds what one look for outbreaks reads.
const caseMost = 5000
