package store

import (
	"context"
	"time"

	"tendfold/domain/ticket"
	"tendfold/server/app"

	"gorm.io/gorm"
)

// ticketLineRow is a ticket with the names that the queue shows.
type ticketLineRow struct {
	Row      ticketRow `gorm:"embedded"`
	Farm     string
	BranchID string
	Holder   string
}

func (r ticketLineRow) line() (app.TicketLine, error) {
	t, err := r.Row.ticket()
	return app.TicketLine{Ticket: t, Farm: r.Farm, BranchID: r.BranchID, Holder: r.Holder, TouchedAt: r.Row.TouchedAt.time()}, err
}

func (s *Store) ticketLines(ctx context.Context) *gorm.DB {
	return s.reader(ctx).Table("tickets t").
		Select("t.*, f.name AS farm, f.branch_id, COALESCE(p.name, '') AS holder").
		Joins("JOIN farms f ON f.id = t.farm_id LEFT JOIN people p ON p.id = t.holder_id")
}

// queueKey is the place of a ticket in the queue.
type queueKey struct {
	Rank int    `json:"r"`
	Due  micros `json:"d"`
	ID   string `json:"i"`
}

// Tickets are the tickets of a scope, most urgent first, then by what is due
// first.
func (s *Store) Tickets(ctx context.Context, sc app.Scope, in app.TicketQuery) (app.Page[app.TicketLine], error) {
	limit, at := in.Limit, in.Cursor
	in.Limit, in.Cursor = 0, ""
	hash := queryHash(in)
	key, later, err := decodeCursor[queueKey](at, hash)
	if err != nil {
		return app.Page[app.TicketLine]{}, err
	}
	cond, args := s.farmsOf(sc)
	q := ticketsWhere(s.ticketLines(ctx).Where(cond, args...), in)
	if later {
		q = q.Where("(t.rank, t.due_at, t.id) > (?, ?, ?)", key.Rank, key.Due, key.ID)
	}
	return page(q.Order("t.rank, t.due_at, t.id"), "ticket", hash, limit,
		func(r ticketLineRow) queueKey { return queueKey{r.Row.Rank, r.Row.DueAt, r.Row.ID} }, ticketLineRow.line)
}

func ticketsWhere(q *gorm.DB, in app.TicketQuery) *gorm.DB {
	if in.State == "" {
		q = q.Where("t.state <> 'settled'")
	}
	for _, w := range [...]struct{ column, value string }{
		{"t.state", string(in.State)},
		{"t.holder_id", in.Holder},
		{"f.branch_id", in.Branch},
		{"t.farm_id", in.FarmID},
		{"t.urgency", string(in.Urgency)},
		{"t.origin", string(in.Origin)},
		{"t.rule", in.Rule},
	} { // in this order always: the statement is kept by its text
		if w.value != "" {
			q = q.Where(w.column+" = ?", w.value)
		}
	}
	if in.Nobody {
		q = q.Where("t.holder_id = ''")
	}
	if !in.OverdueAt.IsZero() {
		q = q.Where("t.due_at <= ?", toMicros(in.OverdueAt))
	}
	if !in.DueBefore.IsZero() {
		q = q.Where("t.due_at < ?", toMicros(in.DueBefore))
	}
	return q
}

// Untouched are the open tickets whose due time has passed at t and that no
// person has touched since, oldest first, at most 200: what the manager must
// hear of.
func (s *Store) Untouched(ctx context.Context, t time.Time) ([]app.TicketLine, error) {
	q := lying(s.ticketLines(ctx), t).
		Where("NOT EXISTS (SELECT 1 FROM ticket_events e WHERE e.ticket_id = t.id AND e.kind = ? AND e.at >= t.due_at)", ticket.Untouched)
	return manyOr(q.Order("t.due_at, t.id").Limit(listMost), "ticket", ticketLineRow.line)
}
