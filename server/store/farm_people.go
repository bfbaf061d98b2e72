package store

import (
	"cmp"
	"context"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"

	"gorm.io/gorm/clause"
)

type workRow struct {
	FarmID   string `gorm:"primaryKey"`
	PersonID string `gorm:"primaryKey"`
	InCharge bool
	Since    calendar.Date
}

func (workRow) TableName() string { return "farm_people" }

func (r workRow) work() farm.Work {
	return farm.Work{FarmID: r.FarmID, PersonID: r.PersonID, InCharge: r.InCharge, Since: r.Since.String()}
}

// SetWork says that people work on farms; what was said of the same person
// and farm before is replaced.
func (s *Store) SetWork(ctx context.Context, ws ...farm.Work) error {
	rows := make([]workRow, 0, len(ws))
	for _, w := range ws {
		since, err := calendar.ParseDate(w.Since)
		if err != nil {
			return domain.Invalid("date-none", err.Error(), domain.Field{Path: "since", Code: "date-none", Text: err.Error()})
		}
		rows = append(rows, workRow{w.FarmID, w.PersonID, w.InCharge, since})
	}
	return s.InTx(ctx, func(ctx context.Context) error {
		s.touchFarms(ctx, each(ws, func(w farm.Work) string { return w.FarmID })...)
		s.touchLoose(ctx, each(ws, func(w farm.Work) string { return w.PersonID })...)
		return s.insert(ctx, "work", rows, clause.OnConflict{
			Columns:   []clause.Column{{Name: "farm_id"}, {Name: "person_id"}},
			DoUpdates: clause.AssignmentColumns([]string{"in_charge", "since"}),
		})
	})
}

// EndWork says that a person works on a farm no more.
func (s *Store) EndWork(ctx context.Context, farmID, personID string) error {
	return s.InTx(ctx, func(ctx context.Context) error {
		s.touchFarms(ctx, farmID)
		s.touchLoose(ctx, personID)
		res := s.from(ctx).Where("farm_id = ? AND person_id = ?", farmID, personID).Delete(&workRow{})
		return found(res, "work")
	})
}

// WorkOn is who works on the farms.
func (s *Store) WorkOn(ctx context.Context, farmIDs []string) ([]farm.Work, error) {
	return readOf(ctx, s, "work", "farm_people", "farm_id", farmIDs, func(a, b workRow) int {
		return cmp.Or(cmp.Compare(a.FarmID, b.FarmID), cmp.Compare(a.PersonID, b.PersonID))
	}, workRow.work)
}

// WorkOf is where a person works.
func (s *Store) WorkOf(ctx context.Context, personID string) ([]farm.Work, error) {
	return many(s.reader(ctx).Where("person_id = ?", personID).Order("farm_id"), "work", workRow.work)
}
