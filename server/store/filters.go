package store

import (
	"context"
	"time"

	"tendfold/server/app"

	"gorm.io/gorm/clause"
)

type filterRow struct {
	PersonID string
	Name     string
	Filter   string
}

func (filterRow) TableName() string { return "saved_filters" }

// Filters are those that a person has saved, by name.
func (s *Store) Filters(ctx context.Context, personID string) ([]app.SavedFilter, error) {
	return manyOr(s.reader(ctx).Where("person_id = ?", personID).Order("name").Limit(listMost), "filter", func(r filterRow) (app.SavedFilter, error) {
		f, err := fromJSON[app.Filter](r.Filter)
		return app.SavedFilter{Name: r.Name, Filter: f}, err
	})
}

// PutFilter saves one under its name; another of that name is replaced.
func (s *Store) PutFilter(ctx context.Context, personID string, f app.SavedFilter) error {
	return s.insert(ctx, "filter", []filterRow{{personID, f.Name, toJSON(f.Filter)}}, clause.OnConflict{
		Columns: []clause.Column{{Name: "person_id"}, {Name: "name"}}, DoUpdates: clause.AssignmentColumns([]string{"filter"}),
	})
}

// DropFilter forgets one.
func (s *Store) DropFilter(ctx context.Context, personID, name string) error {
	return mapError(s.from(ctx).Where("person_id = ? AND name = ?", personID, name).Delete(&filterRow{}).Error, "filter")
}

type linkRow struct {
	TicketID string
	OtherID  string
	ByID     string
	At       micros
}

func (linkRow) TableName() string { return "ticket_links" }

// Link notes that two tickets belong together; twice is once.
func (s *Store) Link(ctx context.Context, a, b, by string, at time.Time) error {
	if b < a {
		a, b = b, a // one row for a pair
	}
	return s.insert(ctx, "link", []linkRow{{a, b, by, toMicros(at)}}, keepFirst)
}

// Unlink takes that back.
func (s *Store) Unlink(ctx context.Context, a, b string) error {
	if b < a {
		a, b = b, a
	}
	return mapError(s.from(ctx).Where("ticket_id = ? AND other_id = ?", a, b).Delete(&linkRow{}).Error, "link")
}

// Linked are the tickets of a scope that belong with one, by number.
func (s *Store) Linked(ctx context.Context, sc app.Scope, id string) ([]app.TicketLine, error) {
	cond, args := s.farmsOf(sc)
	q := s.ticketLines(ctx).Where("t.id IN (SELECT other_id FROM ticket_links WHERE ticket_id = ? UNION SELECT ticket_id FROM ticket_links WHERE other_id = ?)", id, id).Where(cond, args...)
	return manyOr(q.Order("t.year, t.seq").Limit(listMost), "ticket", ticketLineRow.line)
}
