package store

import (
	"context"

	"tendfold/server/app"
)

type complaintRow struct {
	ID             string
	Seq            int
	Year           int
	FarmID         string
	TicketID       string
	PersonID       string
	Channel        string
	Said           string
	State          string
	Severity       string
	Safety         bool
	HolderID       string
	ReceivedAt     micros
	ReceivedBy     string
	AcknowledgedAt micros
	Found          string
	Decision       string
	AnsweredAt     micros
	Content        string
	ClosedAt       micros
	ClosedBy       string
	Version        int
}

func (complaintRow) TableName() string { return "complaints" }

func (r complaintRow) complaint() app.Complaint {
	return app.Complaint{
		ID: r.ID, Seq: r.Seq, Year: r.Year, FarmID: r.FarmID, TicketID: r.TicketID, PersonID: r.PersonID, Channel: r.Channel, Said: r.Said,
		State: app.ComplaintState(r.State), Severity: r.Severity, Safety: r.Safety, HolderID: r.HolderID, ReceivedAt: r.ReceivedAt.time(),
		ReceivedBy: r.ReceivedBy, AcknowledgedAt: r.AcknowledgedAt.time(), Found: r.Found, Decision: r.Decision,
		AnsweredAt: r.AnsweredAt.time(), Content: r.Content, ClosedAt: r.ClosedAt.time(), ClosedBy: r.ClosedBy, Version: r.Version,
	}.Numbered()
}

// AddComplaint keeps one under the next number of its year.
func (s *Store) AddComplaint(ctx context.Context, c app.Complaint) error {
	return s.InTx(ctx, func(ctx context.Context) error {
		// Complaints count in the negative years of the tickets' own counter: one
		// row a year that stays locked until the transaction ends.
		seq, err := s.takeNumber(ctx, -c.Year)
		if err != nil {
			return err
		}
		return s.insert(ctx, "complaint", []complaintRow{{
			c.ID, seq, c.Year, c.FarmID, c.TicketID, c.PersonID, c.Channel, c.Said, string(c.State), c.Severity, c.Safety, c.HolderID,
			toMicros(c.ReceivedAt), c.ReceivedBy, toMicros(c.AcknowledgedAt), c.Found, c.Decision, toMicros(c.AnsweredAt), c.Content,
			toMicros(c.ClosedAt), c.ClosedBy, 1,
		}})
	})
}

// ChangeComplaint writes one at its version; what was said and received stays.
func (s *Store) ChangeComplaint(ctx context.Context, c app.Complaint) error {
	return s.update(ctx, "complaint", &complaintRow{}, c.ID, c.Version, map[string]any{
		"state": string(c.State), "severity": c.Severity, "safety": c.Safety, "holder_id": c.HolderID, "found": c.Found, "decision": c.Decision,
		"answered_at": toMicros(c.AnsweredAt), "content": c.Content, "closed_at": toMicros(c.ClosedAt), "closed_by": c.ClosedBy,
	})
}

// Complaint is the one with this id, when the scope sees its farm.
func (s *Store) Complaint(ctx context.Context, sc app.Scope, id string) (app.Complaint, error) {
	r, err := one[complaintRow](s.within(s.reader(ctx), sc, "complaints.farm_id").Where("id = ?", id), "complaint")
	return r.complaint(), err
}

// Complaints are those of a scope, open ones first, newest first, at most 200.
func (s *Store) Complaints(ctx context.Context, sc app.Scope, farmID string) ([]app.Complaint, error) {
	q := s.within(s.reader(ctx), sc, "complaints.farm_id")
	if farmID != "" {
		q = q.Where("farm_id = ?", farmID)
	}
	return many(q.Order("CASE WHEN state = 'closed' THEN 1 ELSE 0 END, received_at DESC, id").Limit(listMost), "complaint", complaintRow.complaint)
}
