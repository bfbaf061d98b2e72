package store

import (
	"context"

	"tendfold/domain/calendar"
	"tendfold/server/app"
)

type askedRow struct {
	ID          string
	FarmID      string
	UnitID      string
	TicketID    string
	Text        string
	FromOn      calendar.Date
	DueOn       calendar.Date
	AskedBy     string
	AskedAt     micros
	WithdrawnOn calendar.Date
	Answer      string
	Reason      string
	Note        string
	AnsweredBy  string
	AnsweredOn  calendar.Date
	AnswerID    string
	AnswerMade  string
	Version     int
}

func (askedRow) TableName() string { return "requests" }

func askedOf(r app.Request) askedRow {
	return askedRow{
		r.ID, r.FarmID, r.UnitID, r.TicketID, r.Text, r.From, r.DueOn, r.AskedBy, toMicros(r.AskedAt), r.WithdrawnOn,
		r.Answer, r.Reason, r.Note, r.AnsweredBy, r.AnsweredOn, r.AnswerID, r.AnswerMade, 1,
	}
}

func (r askedRow) request() app.Request {
	return app.Request{
		ID: r.ID, FarmID: r.FarmID, UnitID: r.UnitID, TicketID: r.TicketID, Text: r.Text, From: r.FromOn, DueOn: r.DueOn,
		AskedBy: r.AskedBy, AskedAt: r.AskedAt.time(), WithdrawnOn: r.WithdrawnOn, Answer: r.Answer, Reason: r.Reason, Note: r.Note,
		AnsweredBy: r.AnsweredBy, AnsweredOn: r.AnsweredOn, AnswerID: r.AnswerID, AnswerMade: r.AnswerMade, Version: r.Version,
	}
}

// AddRequests notes what the firm asks of farms.
func (s *Store) AddRequests(ctx context.Context, rs ...app.Request) error {
	return s.insert(ctx, "request", each(rs, askedOf))
}

// ChangeRequest writes the answer to a request, or that it was withdrawn, at
// its version.
func (s *Store) ChangeRequest(ctx context.Context, r app.Request) error {
	return s.update(ctx, "request", &askedRow{}, r.ID, r.Version, map[string]any{
		"withdrawn_on": r.WithdrawnOn, "answer": r.Answer, "reason": r.Reason, "note": r.Note,
		"answered_by": r.AnsweredBy, "answered_on": r.AnsweredOn, "answer_id": r.AnswerID, "answer_made": r.AnswerMade,
	})
}

// Request is the request with this id, when the scope sees its farm.
func (s *Store) Request(ctx context.Context, sc app.Scope, id string) (app.Request, error) {
	r, err := one[askedRow](s.within(s.reader(ctx), sc, "requests.farm_id").Where("id = ?", id), "request")
	return r.request(), err
}

// RequestsOf are the requests to a farm that are open, or were answered or
// withdrawn since a day, first due first.
func (s *Store) RequestsOf(ctx context.Context, farmID string, since calendar.Date) ([]app.Request, error) {
	q := s.reader(ctx).Where("farm_id = ?", farmID).
		Where("(answer = '' AND withdrawn_on = 0) OR answered_on >= ? OR withdrawn_on >= ?", since, since)
	return many(q.Order("due_on, id"), "request", askedRow.request)
}
