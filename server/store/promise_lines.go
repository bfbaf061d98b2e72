package store

import (
	"context"
	"strings"

	"tendfold/domain/calendar"
	"tendfold/server/app"

	"gorm.io/gorm"
)

// promiseLineRow is a promise with the names that lists show.
type promiseLineRow struct {
	Row      promiseRow `gorm:"embedded"`
	Farm     string
	BranchID string
	Maker    string
}

func (r promiseLineRow) line() app.PromiseLine {
	return app.PromiseLine{Promise: r.Row.promise(), Farm: r.Farm, BranchID: r.BranchID, Maker: r.Maker}
}

// dueKey is the place of something in a list by day.
type dueKey struct {
	On calendar.Date `json:"o"`
	ID string        `json:"i"`
}

// PromiseLines are the promises of a scope, first due first.
func (s *Store) PromiseLines(ctx context.Context, sc app.Scope, in app.PromiseQuery) (app.Page[app.PromiseLine], error) {
	limit, at := in.Limit, in.Cursor
	in.Limit, in.Cursor = 0, ""
	hash := queryHash([]any{"promises", in})
	key, later, err := decodeCursor[dueKey](at, hash)
	if err != nil {
		return app.Page[app.PromiseLine]{}, err
	}
	cond, args := s.farmsOf(sc)
	q := s.reader(ctx).Table("promises p").Select("p.*, f.name AS farm, f.branch_id, COALESCE(k.name, '') AS maker").
		Joins("JOIN farms f ON f.id = p.farm_id LEFT JOIN people k ON k.id = p.made_by").Where(cond, args...)
	if by := append(in.Covered, in.MadeBy); len(in.Covered) > 0 {
		made, list := s.in("p.made_by", by)
		q, in.MadeBy = q.Where(made, list), ""
	}
	q = promisesWhere(q, in)
	if later {
		q = q.Where("(p.due_on, p.id) > (?, ?)", key.On, key.ID)
	}
	return page(q.Order("p.due_on, p.id"), "promise", hash, limit,
		func(r promiseLineRow) dueKey { return dueKey{r.Row.DueOn, r.Row.ID} }, sure(promiseLineRow.line))
}

func promisesWhere(q *gorm.DB, in app.PromiseQuery) *gorm.DB {
	for _, w := range [...]struct{ column, value string }{
		{"p.made_by", in.MadeBy}, {"f.branch_id", in.Branch}, {"p.farm_id", in.FarmID}, {"p.kind", in.Kind},
	} { // in this order always: the statement is kept by its text
		if w.value != "" {
			q = q.Where(w.column+" = ?", w.value)
		}
	}
	if in.Kept != nil && *in.Kept {
		q = q.Where("p.kept_on <> 0")
	} else if in.Kept != nil {
		q = q.Where("p.kept_on = 0")
	}
	if in.DueFrom != 0 {
		q = q.Where("p.due_on >= ?", in.DueFrom)
	}
	if in.DueTo != 0 {
		q = q.Where("p.due_on <= ?", in.DueTo)
	}
	return q
}

// lastHeard is the day from which the quiet of a farm (aliased f) counts up
// to a day, which is named twice: the last news or visit, else the later of
// handover and intake.
const lastHeard = "COALESCE(NULLIF(GREATEST(" +
	"COALESCE((SELECT MAX(e.on_date) FROM evidence_days e WHERE e.farm_id = f.id AND e.on_date <= ?), 0), " +
	"COALESCE((SELECT MAX(v.done_on) FROM visits v WHERE v.farm_id = f.id AND v.state = 'done' AND v.done_on <= ?), 0)), 0), " +
	"GREATEST(f.intake_on, COALESCE((SELECT MAX(u.handed_over_on) FROM units u WHERE u.farm_id = f.id), 0)))"

// greatest is the word of a dialect for the greater of two values.
func (s *Store) greatest(query string) string {
	if s.dialect == SQLite {
		return strings.ReplaceAll(query, "GREATEST(", "MAX(")
	}
	return query
}

// QuietFarms are the watched, active farms of a scope with a cycle that goes
// on, from which nothing was heard for so many days; the longest quiet first.
func (s *Store) QuietFarms(ctx context.Context, sc app.Scope, in app.QuietQuery) ([]app.QuietFarm, error) {
	cond, args := s.farmsOf(sc)
	inner := s.reader(ctx).Table("farms f").Select("f.id AS farm_id, "+s.greatest(lastHeard)+" AS since", in.On, in.On).
		Where("f.watched_on <> 0 AND f.status = 'active' AND f.standing NOT IN ('paused', 'complete')").
		Where("EXISTS (SELECT 1 FROM cycles c WHERE c.farm_id = f.id AND "+runningCycle+")", in.On, in.On).Where(cond, args...)
	if in.Branch != "" {
		inner = inner.Where("f.branch_id = ?", in.Branch)
	}
	type row struct {
		FarmID string
		Since  calendar.Date
	}
	q := s.reader(ctx).Table("(?) AS q", inner).Where("q.since <> 0 AND q.since <= ?", in.On.Add(-in.Days)).
		Order("q.since, q.farm_id").Limit(in.Limit)
	return many(q, "farm", func(r row) app.QuietFarm { return app.QuietFarm{FarmID: r.FarmID, Since: r.Since} })
}
