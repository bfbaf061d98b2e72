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

type learnerRow struct {
	PersonID, Name, Language, FarmID, Farm, BranchID string
	InCharge                                         bool
}

// Learners are those who work on the farms of a scope that are not closed, by
// farm and name, with the enterprises of the farms' units.
func (s *Store) Learners(ctx context.Context, sc app.Scope, q app.LearnerQuery) ([]app.Learner, error) {
	cond, args := s.farmsOf(sc)
	where := cond + " AND f.status <> 'closed' AND p.active"
	if q.BranchID != "" {
		where, args = where+" AND f.branch_id = ?", append(args, q.BranchID)
	}
	if q.FarmID != "" {
		where, args = where+" AND f.id = ?", append(args, q.FarmID)
	}
	var rows []learnerRow
	err := s.reader(ctx).Raw("SELECT w.person_id, p.name, p.language, f.id AS farm_id, f.name AS farm, f.branch_id, w.in_charge"+
		" FROM farms f JOIN farm_people w ON w.farm_id = f.id JOIN people p ON p.id = w.person_id WHERE "+where+
		" ORDER BY f.name, f.id, p.name, w.person_id", args...).Scan(&rows).Error
	if err != nil {
		return nil, mapError(err, "learner")
	}
	enterprises, err := s.enterprisesOf(ctx, each(rows, func(r learnerRow) string { return r.FarmID }))
	if err != nil {
		return nil, err
	}
	return each(rows, func(r learnerRow) app.Learner {
		return app.Learner{
			PersonID: r.PersonID, Name: r.Name, Language: r.Language, FarmID: r.FarmID, Farm: r.Farm, BranchID: r.BranchID,
			InCharge: r.InCharge, Enterprises: enterprises[r.FarmID],
		}
	}), nil
}

// enterprisesOf are those of the farms' units, each once.
func (s *Store) enterprisesOf(ctx context.Context, farmIDs []string) (map[string][]string, error) {
	var rows []struct{ FarmID, Enterprise string }
	cond, list := s.in("farm_id", farmIDs)
	err := s.reader(ctx).Raw("SELECT DISTINCT farm_id, enterprise FROM units WHERE "+cond+" ORDER BY farm_id, enterprise", list).Scan(&rows).Error
	out := map[string][]string{}
	for _, id := range farmIDs {
		out[id] = []string{}
	}
	for _, r := range rows {
		out[r.FarmID] = append(out[r.FarmID], r.Enterprise)
	}
	return out, mapError(err, "unit")
}

// AnswerCounts counts how often each question was asked and failed on the
// farms of a scope.
func (s *Store) AnswerCounts(ctx context.Context, sc app.Scope, branchID string) ([]app.AnswerCount, error) {
	cond, args := s.farmsOf(sc)
	if branchID != "" {
		cond, args = cond+" AND f.branch_id = ?", append(args, branchID)
	}
	var rows []struct {
		Enterprise, Module, Question string
		Asked, Failed                int
	}
	err := s.reader(ctx).Raw("SELECT m.enterprise, m.module, a.question, COUNT(*) AS asked, SUM(CASE WHEN a.correct THEN 0 ELSE 1 END) AS failed"+
		" FROM module_answers a JOIN module_attempts m ON m.event_id = a.event_id JOIN farms f ON f.id = m.farm_id WHERE "+cond+
		" GROUP BY m.enterprise, m.module, a.question ORDER BY m.enterprise, m.module, a.question", args...).Scan(&rows).Error
	if err != nil {
		return nil, mapError(err, "answer")
	}
	out := make([]app.AnswerCount, len(rows))
	for i, r := range rows {
		out[i] = app.AnswerCount{ModuleKey: app.ModuleKey{Enterprise: r.Enterprise, Module: r.Module}, Question: r.Question, Asked: r.Asked, Wrong: r.Failed}
	}
	return out, nil
}

type certificateRow struct {
	Code     string `gorm:"primaryKey"`
	PersonID string
	Modules  string
	IssuedAt micros
	ByID     string
}

func (certificateRow) TableName() string { return "certificates" }

// AddCertificate notes a certificate as issued.
func (s *Store) AddCertificate(ctx context.Context, c app.Certificate) error {
	return s.insert(ctx, "certificate", []certificateRow{{c.Code, c.PersonID, toJSON(c.Modules), toMicros(c.IssuedAt), c.ByID}})
}

// Certificate is the one with a code.
func (s *Store) Certificate(ctx context.Context, code string) (app.Certificate, error) {
	r, err := one[certificateRow](s.reader(ctx).Where("code = ?", code), "certificate")
	if err != nil {
		return app.Certificate{}, err
	}
	modules, err := fromJSON[[]app.ModuleKey](r.Modules)
	return app.Certificate{Code: r.Code, PersonID: r.PersonID, Modules: modules, IssuedAt: r.IssuedAt.time(), ByID: r.ByID}, err
}
