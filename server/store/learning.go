package store

import (
	"context"

	"tendfold/domain/calendar"
	"tendfold/server/app"
)

type roundRow struct {
	EventID    string `gorm:"primaryKey"`
	PersonID   string
	FarmID     string
	Enterprise string
	Module     string
	OnDate     calendar.Date
	How        string
	Asked      int
	Correct    int
	Passed     bool
	AtOnce     bool
	ByID       string
}

func (roundRow) TableName() string { return "module_attempts" }

func (r roundRow) attempt() app.Attempt {
	return app.Attempt{
		EventID: r.EventID, PersonID: r.PersonID, FarmID: r.FarmID, ModuleKey: app.ModuleKey{Enterprise: r.Enterprise, Module: r.Module},
		On: r.OnDate, How: r.How, Asked: r.Asked, Correct: r.Correct, Passed: r.Passed, AtOnce: r.AtOnce, ByID: r.ByID,
	}
}

type answerRow struct {
	EventID  string `gorm:"primaryKey"`
	Question string `gorm:"primaryKey"`
	Correct  bool
}

func (answerRow) TableName() string { return "module_answers" }

// AddAttempt notes a round of questions with what came of each.
func (s *Store) AddAttempt(ctx context.Context, a app.Attempt) error {
	row := roundRow{
		a.EventID, a.PersonID, a.FarmID, a.Enterprise, a.Module, a.On, a.How, a.Asked, a.Correct, a.Passed, a.AtOnce, a.ByID,
	}
	if err := s.insert(ctx, "attempt", []roundRow{row}); err != nil {
		return err
	}
	answers := make([]answerRow, 0, len(a.Answers))
	for question, right := range a.Answers {
		answers = append(answers, answerRow{a.EventID, question, right})
	}
	return s.insert(ctx, "answer", answers)
}

// AttemptsOf are the rounds of questions of the people, oldest first.
func (s *Store) AttemptsOf(ctx context.Context, personIDs []string) ([]app.Attempt, error) {
	cond, list := s.in("person_id", personIDs)
	return many(s.reader(ctx).Where(cond, list).Order("person_id, on_date, event_id"), "attempt", roundRow.attempt)
}

type checkRow struct {
	EventID    string `gorm:"primaryKey"`
	PersonID   string
	FarmID     string
	Enterprise string
	Module     string
	OnDate     calendar.Date
	How        string
	Passed     bool
	Missed     string
	ByID       string
}

func (checkRow) TableName() string { return "module_checks" }

func (r checkRow) check() (app.PracticalCheck, error) {
	missed, err := fromJSON[[]string](r.Missed)
	return app.PracticalCheck{
		EventID: r.EventID, PersonID: r.PersonID, FarmID: r.FarmID, ModuleKey: app.ModuleKey{Enterprise: r.Enterprise, Module: r.Module},
		On: r.OnDate, How: r.How, Passed: r.Passed, Missed: missed, ByID: r.ByID,
	}, err
}

// AddCheck notes a practical check.
func (s *Store) AddCheck(ctx context.Context, c app.PracticalCheck) error {
	return s.insert(ctx, "check", []checkRow{{
		c.EventID, c.PersonID, c.FarmID, c.Enterprise, c.Module, c.On, c.How, c.Passed, toJSON(c.Missed), c.ByID,
	}})
}

// ChecksOf are the practical checks of the people, oldest first.
func (s *Store) ChecksOf(ctx context.Context, personIDs []string) ([]app.PracticalCheck, error) {
	cond, list := s.in("person_id", personIDs)
	return manyOr(s.reader(ctx).Where(cond, list).Order("person_id, on_date, event_id"), "check", checkRow.check)
}

// PutEarned replaces the passes of a person and module that rest on parts; a
// pass without parts, of the register say, is left as it is.
func (s *Store) PutEarned(ctx context.Context, personID string, key app.ModuleKey, ps ...app.Pass) error {
	res := s.from(ctx).Where("person_id = ? AND enterprise = ? AND module = ? AND event_id <> ''", personID, key.Enterprise, key.Module).Delete(&passRow{})
	if res.Error != nil {
		return mapError(res.Error, "pass")
	}
	return s.AddPasses(ctx, ps...)
}

// EndPasses shortens what a person holds of a module, of that day or before,
// to a last day.
func (s *Store) EndPasses(ctx context.Context, personID string, key app.ModuleKey, on, until calendar.Date) error {
	q := s.from(ctx).Model(&passRow{}).Where("person_id = ? AND enterprise = ? AND module = ?", personID, key.Enterprise, key.Module)
	return mapError(q.Where("passed_on <= ? AND valid_until > ?", on, until).Update("valid_until", until).Error, "pass")
}
