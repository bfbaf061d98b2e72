package store

import (
	"context"
	"time"

	"tendfold/domain/calendar"
	"tendfold/domain/ticket"
	"tendfold/server/app"

	"gorm.io/gorm"
)

type raisedRow struct {
	At       micros
	OnDate   calendar.Date
	BranchID string
	Rule     string
	Origin   string
	Reopened bool
	BySweep  bool
}

func (r raisedRow) raised() app.RaisedTicket {
	return app.RaisedTicket{
		At: r.At.time(), On: r.OnDate, BranchID: r.BranchID, Rule: r.Rule, Origin: ticket.Origin(r.Origin), Reopened: r.Reopened, BySweep: r.BySweep,
	}
}

// Raised are the tickets of a scope that were opened, and those that were
// reopened, in the days of a query, in order of time.
func (s *Store) Raised(ctx context.Context, sc app.Scope, q app.LoadQuery) ([]app.RaisedTicket, error) {
	opened := s.loadTickets(ctx, sc, q).Where("t.opened_on >= ? AND t.opened_on <= ?", q.From, q.To).
		Select("t.opened_at AS at, t.opened_on AS on_date, f.branch_id, t.rule, t.origin, FALSE AS reopened, t.origin = 'sweep' AS by_sweep")
	reopened := s.loadTickets(ctx, sc, q).Joins("JOIN ticket_events e ON e.ticket_id = t.id").
		Where("e.kind = ? AND e.on_date >= ? AND e.on_date <= ?", ticket.Reopened, q.From, q.To).
		Select("e.at, e.on_date, f.branch_id, t.rule, t.origin, TRUE AS reopened, e.person_id = '' AS by_sweep")
	both := s.reader(ctx).Raw("SELECT * FROM (? UNION ALL ?) AS r ORDER BY at", opened, reopened)
	return many(both, "ticket", raisedRow.raised)
}

// loadTickets are the tickets of a scope, by branch and holder.
func (s *Store) loadTickets(ctx context.Context, sc app.Scope, q app.LoadQuery) *gorm.DB {
	cond, args := s.farmsOf(sc)
	db := s.reader(ctx).Table("tickets t").Joins("JOIN farms f ON f.id = t.farm_id").Where(cond, args...)
	if q.Branch != "" {
		db = db.Where("f.branch_id = ?", q.Branch)
	}
	if q.Holder != "" {
		db = db.Where("t.holder_id = ?", q.Holder)
	}
	return db
}

// TicketTotals counts the tickets of a scope that are open and overdue now,
// and those settled in the days of a query; with a holder, those that this
// person settled.
func (s *Store) TicketTotals(ctx context.Context, sc app.Scope, q app.LoadQuery, now time.Time) (app.TicketTotals, error) {
	var out app.TicketTotals
	err := s.loadTickets(ctx, sc, q).Where("t.state <> 'settled'").
		Select("COUNT(*) AS open, COALESCE(SUM(CASE WHEN t.due_at <= ? THEN 1 ELSE 0 END), 0) AS overdue", toMicros(now)).Scan(&out).Error
	if err != nil {
		return out, mapError(err, "ticket")
	}
	by := q
	by.Holder = ""
	settled := s.loadTickets(ctx, sc, by).Where("t.state = 'settled' AND t.settled_on >= ? AND t.settled_on <= ?", q.From, q.To)
	if q.Holder != "" {
		settled = settled.Where("t.settled_by = ?", q.Holder)
	}
	var n int64
	err = settled.Count(&n).Error
	out.Settled = int(n)
	return out, mapError(err, "ticket")
}

// LeftLying are the open tickets of a scope that are past their time and that
// no person has touched since, oldest first.
func (s *Store) LeftLying(ctx context.Context, sc app.Scope, in app.LoadQuery, now time.Time, limit int) ([]app.TicketLine, error) {
	cond, args := s.farmsOf(sc)
	q := lying(s.ticketLines(ctx), now).Where(cond, args...)
	if in.Branch != "" {
		q = q.Where("f.branch_id = ?", in.Branch)
	}
	if in.Holder != "" {
		q = q.Where("t.holder_id = ?", in.Holder)
	}
	return manyOr(q.Order("t.due_at, t.id").Limit(limit), "ticket", ticketLineRow.line)
}

// lying keeps the open tickets that are past their time and untouched.
func lying(q *gorm.DB, now time.Time) *gorm.DB {
	return q.Where("t.state <> 'settled' AND t.due_at <= ? AND t.touched_at <= t.due_at", toMicros(now))
}

// UnwatchedFarms are the farms of a branch in a scope that nobody watches and
// that are not closed, by id.
func (s *Store) UnwatchedFarms(ctx context.Context, sc app.Scope, branchID string) ([]app.FarmLine, error) {
	cond, args := s.farmsOf(sc)
	q := s.farmLines(ctx).Where("f.branch_id = ? AND f.watched_on = 0 AND f.status <> 'closed'", branchID).Where(cond, args...)
	return many(q.Order("f.id"), "farm", farmLine.line)
}
