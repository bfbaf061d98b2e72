package store

import (
	"context"

	"tendfold/server/app"
)

type callRow struct {
	ID        string
	FarmID    string
	PersonID  string
	Phone     string
	Channel   string
	Said      string
	Advice    string
	TicketID  string
	TakenBy   string
	StartedAt micros
	EndedAt   micros
	Version   int
}

func (callRow) TableName() string { return "calls" }

func (r callRow) call() app.Call {
	return app.Call{
		ID: r.ID, FarmID: r.FarmID, PersonID: r.PersonID, Phone: r.Phone, Channel: r.Channel, Said: r.Said, Advice: r.Advice,
		TicketID: r.TicketID, TakenBy: r.TakenBy, StartedAt: r.StartedAt.time(), EndedAt: r.EndedAt.time(), Version: r.Version,
	}
}

// AddCall notes a call.
func (s *Store) AddCall(ctx context.Context, c app.Call) error {
	return s.insert(ctx, "call", []callRow{{
		c.ID, c.FarmID, c.PersonID, c.Phone, c.Channel, c.Said, c.Advice, c.TicketID, c.TakenBy, toMicros(c.StartedAt), toMicros(c.EndedAt), 1,
	}})
}

// ChangeCall writes a call at its version; who took it and when stay.
func (s *Store) ChangeCall(ctx context.Context, c app.Call) error {
	return s.update(ctx, "call", &callRow{}, c.ID, c.Version, map[string]any{
		"farm_id": c.FarmID, "person_id": c.PersonID, "phone": c.Phone, "channel": c.Channel, "said": c.Said,
		"advice": c.Advice, "ticket_id": c.TicketID, "ended_at": toMicros(c.EndedAt),
	})
}

// Call is the call with this id, when the scope sees its farm; one about no
// known farm yet is seen by whoever took it and by those who see everything.
func (s *Store) Call(ctx context.Context, sc app.Scope, personID, id string) (app.Call, error) {
	q := s.reader(ctx).Where("id = ?", id)
	if !sc.All {
		cond, args := s.farmsOf(sc)
		q = q.Where("(farm_id = '' AND taken_by = ?) OR EXISTS (SELECT 1 FROM farms f WHERE f.id = calls.farm_id AND "+cond+")", append([]any{personID}, args...)...)
	}
	r, err := one[callRow](q, "call")
	return r.call(), err
}
