package store

import (
	"context"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/server/app"
)

type absenceRow struct {
	ID        string
	PersonID  string
	CoverID   string
	FromDate  calendar.Date
	UntilDate calendar.Date
	MadeBy    string
}

func (absenceRow) TableName() string { return "absences" }

type absenceLine struct {
	ID        string
	PersonID  string
	Person    string
	CoverID   string
	Cover     string
	FromDate  calendar.Date
	UntilDate calendar.Date
	MadeBy    string
}

func (r absenceLine) absence() app.Absence {
	return app.Absence{
		ID: r.ID, PersonID: r.PersonID, Person: r.Person, CoverID: r.CoverID, Cover: r.Cover, From: r.FromDate, Until: r.UntilDate, MadeBy: r.MadeBy,
	}
}

const absenceLines = "SELECT a.id, a.person_id, p.name AS person, a.cover_id, c.name AS cover, a.from_date, a.until_date, a.made_by" +
	" FROM absences a JOIN people p ON p.id = a.person_id JOIN people c ON c.id = a.cover_id WHERE "

// AddAbsence notes who is away.
func (s *Store) AddAbsence(ctx context.Context, a app.Absence) error {
	return s.insert(ctx, "absence", []absenceRow{{a.ID, a.PersonID, a.CoverID, a.From, a.Until, a.MadeBy}})
}

// Absence is the one with this id.
func (s *Store) Absence(ctx context.Context, id string) (app.Absence, error) {
	rows, err := read[absenceLine](ctx, s, "absence", absenceLines+"a.id = ?", id)
	if err != nil {
		return app.Absence{}, err
	}
	if len(rows) == 0 {
		return app.Absence{}, domain.NotFound("absence")
	}
	return rows[0].absence(), nil
}

// RemoveAbsence takes one back.
func (s *Store) RemoveAbsence(ctx context.Context, id string) error {
	return mapError(s.from(ctx).Where("id = ?", id).Delete(&absenceRow{}).Error, "absence")
}

// absencesMost bounds the list: more are away only when the firm is closed.
const absencesMost = 200

// AbsencesFrom are those that last until a day or longer, the first to go
// first.
func (s *Store) AbsencesFrom(ctx context.Context, on calendar.Date) ([]app.Absence, error) {
	rows, err := read[absenceLine](ctx, s, "absence", absenceLines+"a.until_date >= ? ORDER BY a.from_date, a.id LIMIT ?", on, absencesMost)
	return each(rows, absenceLine.absence), err
}

// CoveredBy are the people whose work somebody does on a day.
func (s *Store) CoveredBy(ctx context.Context, personID string, on calendar.Date) ([]string, error) {
	type covered struct{ PersonID string }
	rows, err := read[covered](ctx, s, "absence", "SELECT DISTINCT person_id FROM absences WHERE cover_id = ? AND from_date <= ? AND until_date >= ? ORDER BY person_id", personID, on, on)
	return each(rows, func(c covered) string { return c.PersonID }), err
}
