package store

import (
	"cmp"
	"context"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/server/app"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"
)

type markRow struct {
	CycleID  string `gorm:"primaryKey"`
	Item     string `gorm:"primaryKey"`
	Answer   string
	Value    float64
	HasValue bool
	Grade    string
	OnDate   calendar.Date
	PersonID string
	EventID  string
	Made     string
}

func (markRow) TableName() string { return "marks" }

func markToRow(m app.Mark) markRow {
	r := markRow{
		CycleID: m.CycleID, Item: m.Item, Answer: string(m.Answer), Grade: string(m.Grade),
		OnDate: m.On, PersonID: m.PersonID, EventID: m.EventID, Made: m.Made,
	}
	if m.Value != nil {
		r.Value, r.HasValue = *m.Value, true
	}
	return r
}

func (r markRow) mark() app.Mark {
	m := app.Mark{
		CycleID: r.CycleID, Item: r.Item, Answer: farm.Answer(r.Answer), Grade: farm.Grade(r.Grade),
		On: r.OnDate, PersonID: r.PersonID, EventID: r.EventID, Made: r.Made,
	}
	if r.HasValue {
		m.Value = &r.Value
	}
	return m
}

// PutMarks sets the state of checklist items. A mark of an earlier day than
// the one that is kept changes nothing: it only arrived late. Of two marks of
// one day the one whose entry was made last stands, in whatever order they
// come: merge.Word.Beats in SQL.
func (s *Store) PutMarks(ctx context.Context, ms ...app.Mark) error {
	return s.insert(ctx, "mark", each(ms, markToRow), clause.OnConflict{
		Columns:   []clause.Column{{Name: "cycle_id"}, {Name: "item"}},
		DoUpdates: clause.AssignmentColumns([]string{"answer", "value", "has_value", "grade", "on_date", "person_id", "event_id", "made"}),
		Where:     clause.Where{Exprs: []clause.Expression{gorm.Expr("(excluded.on_date, excluded.made, excluded.event_id) >= (marks.on_date, marks.made, marks.event_id)")}},
	})
}

// MarksOf are the marks of the cycles.
func (s *Store) MarksOf(ctx context.Context, cycleIDs []string) ([]app.Mark, error) {
	return readOf(ctx, s, "mark", "marks", "cycle_id", cycleIDs, func(a, b markRow) int {
		return cmp.Or(cmp.Compare(a.CycleID, b.CycleID), cmp.Compare(a.Item, b.Item))
	}, markRow.mark)
}

type readingRow struct {
	ID      string
	CycleID string
	Kind    string
	OnDate  calendar.Date
	Value   float64
	N       int
	SD      float64 `gorm:"column:sd"`
}

func (readingRow) TableName() string { return "readings" }

func (r readingRow) reading() app.Reading {
	return app.Reading{ID: r.ID, CycleID: r.CycleID, Reading: programme.Reading{Kind: r.Kind, On: r.OnDate, Value: r.Value, N: r.N, SD: r.SD}}
}

// AddReadings keeps readings; one whose event brought it before is left as
// it is.
func (s *Store) AddReadings(ctx context.Context, rs ...app.Reading) error {
	return s.insert(ctx, "reading", each(rs, func(r app.Reading) readingRow {
		return readingRow{r.ID, r.CycleID, r.Kind, r.On, r.Value, r.N, r.SD}
	}), keepFirst)
}

// RemoveReading takes back the reading of an event that was corrected.
func (s *Store) RemoveReading(ctx context.Context, eventID string) error {
	return mapError(s.from(ctx).Where("id = ?", eventID).Delete(&readingRow{}).Error, "reading")
}

// ReadingsOf are the readings of the cycles, by cycle and day.
func (s *Store) ReadingsOf(ctx context.Context, cycleIDs []string) ([]app.Reading, error) {
	return readOf(ctx, s, "reading", "readings", "cycle_id", cycleIDs, func(a, b readingRow) int {
		return cmp.Or(cmp.Compare(a.CycleID, b.CycleID), cmp.Compare(a.OnDate, b.OnDate), cmp.Compare(a.ID, b.ID))
	}, readingRow.reading)
}

type passRow struct {
	PersonID   string        `gorm:"primaryKey"`
	Enterprise string        `gorm:"primaryKey"`
	Module     string        `gorm:"primaryKey"`
	PassedOn   calendar.Date `gorm:"primaryKey;autoIncrement:false"`
	ValidUntil calendar.Date
	How        string
	ByID       string
	EventID    string
}

func (passRow) TableName() string { return "passes" }

func (r passRow) pass() app.Pass {
	return app.Pass{
		PersonID: r.PersonID, Enterprise: r.Enterprise, Module: r.Module, On: r.PassedOn, Until: r.ValidUntil, How: r.How, ByID: r.ByID, EventID: r.EventID,
	}
}

// AddPasses notes modules as passed; the same module on the same day is left
// as it is.
func (s *Store) AddPasses(ctx context.Context, ps ...app.Pass) error {
	return s.insert(ctx, "pass", each(ps, func(p app.Pass) passRow {
		return passRow{p.PersonID, p.Enterprise, p.Module, p.On, p.Until, p.How, p.ByID, p.EventID}
	}), keepFirst)
}

// PassesOf are the passes of the people, by person and day.
func (s *Store) PassesOf(ctx context.Context, personIDs []string) ([]app.Pass, error) {
	return readOf(ctx, s, "pass", "passes", "person_id", personIDs, func(a, b passRow) int {
		return cmp.Or(cmp.Compare(a.PersonID, b.PersonID), cmp.Compare(a.PassedOn, b.PassedOn), cmp.Compare(a.Enterprise, b.Enterprise), cmp.Compare(a.Module, b.Module))
	}, passRow.pass)
}
