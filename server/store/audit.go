package store

import (
	"context"
	"encoding/json"
	"time"

	"tendfold/server/app"
)

type auditRow struct {
	ID       string
	At       micros
	PersonID string
	Verb     string
	Thing    string
	ThingID  string
	FarmID   string
	Before   string
	After    string
}

func (auditRow) TableName() string { return "audit" }

func (r auditRow) line() app.AuditLine {
	return app.AuditLine{
		ID: r.ID, At: r.At.time(), PersonID: r.PersonID, Verb: r.Verb, Thing: r.Thing, ThingID: r.ThingID, FarmID: r.FarmID,
		Before: json.RawMessage(r.Before), After: json.RawMessage(r.After),
	}
}

// Record writes a line of the audit, in the transaction of the change.
func (s *Store) Record(ctx context.Context, id string, at time.Time, personID string, c app.Change) error {
	return s.RecordAll(ctx, at, personID, func() string { return id }, []app.Change{c})
}

// RecordAll is Record for many lines.
func (s *Store) RecordAll(ctx context.Context, at time.Time, personID string, newID func() string, changes []app.Change) error {
	rows := make([]auditRow, 0, len(changes))
	for _, c := range changes {
		before, err := side(c.Before)
		if err != nil {
			return err
		}
		after, err := side(c.After)
		if err != nil {
			return err
		}
		rows = append(rows, auditRow{newID(), toMicros(at), personID, c.Verb, c.Thing, c.ThingID, c.FarmID, before, after})
	}
	return s.insert(ctx, "audit", rows)
}

// side is how a thing stood, "" when it was not there.
func side(v any) (string, error) {
	if v == nil {
		return "", nil
	}
	b, err := json.Marshal(v)
	return string(b), mapError(err, "audit")
}

// auditKey is the place of a line in the audit.
type auditKey struct {
	At micros `json:"a"`
	ID string `json:"i"`
}

// Audit are the lines about a thing or a farm that the scope sees, newest
// first. Lines without a farm are seen by those who see everything.
func (s *Store) Audit(ctx context.Context, sc app.Scope, in app.AuditQuery) (app.Page[app.AuditLine], error) {
	limit, at := in.Limit, in.Cursor
	in.Limit, in.Cursor = 0, ""
	hash := queryHash(in)
	key, later, err := decodeCursor[auditKey](at, hash)
	if err != nil {
		return app.Page[app.AuditLine]{}, err
	}
	q := s.within(s.reader(ctx), sc, "audit.farm_id")
	if in.Thing != "" {
		q = q.Where("thing = ? AND thing_id = ?", in.Thing, in.ThingID)
	}
	if in.FarmID != "" {
		q = q.Where("farm_id = ?", in.FarmID)
	}
	if later {
		q = q.Where("(at, id) < (?, ?)", key.At, key.ID)
	}
	return page(q.Order("at DESC, id DESC"), "audit", hash, limit, func(r auditRow) auditKey { return auditKey{r.At, r.ID} }, sure(auditRow.line))
}
