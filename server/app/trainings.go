package app

import (
	"cmp"
	"context"
	"slices"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/share"
	"tendfold/domain/training"
)

// trainingStore is what Trainings needs of the database.
type trainingStore interface {
	Store
	factStore
	learnStore
	Farm(ctx context.Context, sc Scope, id string) (FarmLine, error)
	Learners(ctx context.Context, sc Scope, q LearnerQuery) ([]Learner, error)
	PassesOf(ctx context.Context, personIDs []string) ([]Pass, error)
	AnswerCounts(ctx context.Context, sc Scope, branchID string) ([]AnswerCount, error)
	PeopleByIDs(ctx context.Context, ids []string) ([]farm.Person, error)
	Branches(ctx context.Context) ([]farm.Branch, error)
}

// Trainings is what staff see of the training: who is learning what, how far
// farms and branches are covered, and which questions fail.
type Trainings struct {
	Core
	store trainingStore
	plans *Plans
	days  *Days
}

// NewTrainings wires the use case.
func NewTrainings(core Core, store trainingStore, plans *Plans, days *Days) *Trainings {
	return &Trainings{Core: core, store: store, plans: plans, days: days}
}

// LearnerQuery narrows Learners to a branch or a farm.
type LearnerQuery struct{ BranchID, FarmID string }

// Learner is a person who works on a farm, with the enterprises there.
type Learner struct {
	PersonID    string   `json:"person_id"`
	Name        string   `json:"name"`
	Language    string   `json:"language"`
	FarmID      string   `json:"farm_id"`
	Farm        string   `json:"farm"`
	BranchID    string   `json:"branch_id"`
	InCharge    bool     `json:"in_charge"`
	Enterprises []string `json:"enterprises"`
}

// LearnerRow is a learner with the modules of the farm's enterprises.
type LearnerRow struct {
	Learner
	Modules []TodayModule `json:"modules"`
}

// CoverRow is how far a group is trained: caretakers in charge against the
// modules that go-aheads ask for.
type CoverRow struct {
	ID         string `json:"id"`
	Name       string `json:"name"`
	BranchID   string `json:"branch_id,omitempty"`
	Enterprise string `json:"enterprise"`
	training.Coverage
}

// TrainingPage is the whole picture.
type TrainingPage struct {
	On       calendar.Date `json:"on"`
	People   []LearnerRow  `json:"people" doc:"Those who learn or lack something first."`
	Farms    []CoverRow    `json:"farms" doc:"One row a farm and enterprise; those with nobody in charge count no people."`
	Branches []CoverRow    `json:"branches" doc:"One row a branch and enterprise, with the counts of each module."`
}

// Page is the training of a branch, or of all branches of the actor.
func (s *Trainings) Page(ctx context.Context, who Actor, branchID, language string) (TrainingPage, error) {
	out := TrainingPage{People: []LearnerRow{}, Farms: []CoverRow{}, Branches: []CoverRow{}}
	if err := who.Need(desk...); err != nil {
		return out, err
	}
	learners, err := s.store.Learners(ctx, who.Scope(), LearnerQuery{BranchID: branchID})
	if err != nil {
		return out, err
	}
	if out.On, err = s.days.Today(ctx, who, branchID); err != nil {
		return out, err
	}
	if out.People, err = s.rows(ctx, learners, language, out.On, nil); err != nil {
		return out, err
	}
	branches, err := s.store.Branches(ctx)
	if err != nil {
		return out, err
	}
	c := coverer{packs: s.Packs}
	for _, r := range out.People {
		c.add(r, branches)
	}
	out.Farms, out.Branches = orEmpty(c.farms), orEmpty(c.branches)
	slices.SortStableFunc(out.People, func(a, b LearnerRow) int {
		return cmp.Or(cmp.Compare(unlearned(b), unlearned(a)), cmp.Compare(a.Name, b.Name))
	})
	return out, nil
}

// unlearned counts the modules that a person does not hold.
func unlearned(r LearnerRow) int {
	n := 0
	for _, m := range r.Modules {
		if m.Until == 0 {
			n++
		}
	}
	return n
}

// OfFarm is where those who work on a farm stand, with what is needed to ask
// them the questions aloud.
func (s *Trainings) OfFarm(ctx context.Context, who Actor, farmID, language string) ([]LearnerRow, error) {
	if err := who.Need(desk...); err != nil {
		return nil, err
	}
	line, err := s.store.Farm(ctx, who.Scope(), farmID)
	if err != nil {
		return nil, err
	}
	learners, err := s.store.Learners(ctx, Everything, LearnerQuery{FarmID: farmID})
	if err != nil {
		return nil, err
	}
	on, err := s.plans.Today(ctx, line.BranchID, s.Now())
	if err != nil {
		return nil, err
	}
	l, err := loadFarm(ctx, s.store, s.plans, farmID, on)
	if domain.KindOf(err) == domain.KindNotFound {
		l, err = &Loaded{}, nil // no cycle runs there
	}
	if err != nil {
		return nil, err
	}
	return s.rows(ctx, learners, language, on, waiting(l, on))
}

func (s *Trainings) rows(ctx context.Context, learners []Learner, language string, on calendar.Date, waits []ModuleKey) ([]LearnerRow, error) {
	ids := make([]string, len(learners))
	for i, l := range learners {
		ids[i] = l.PersonID
	}
	passes, err := s.store.PassesOf(ctx, ids)
	if err != nil {
		return nil, err
	}
	parts, err := loadLearned(ctx, s.store, ids...)
	if err != nil {
		return nil, err
	}
	byPerson := splitByPerson(passes, parts)
	out := make([]LearnerRow, len(learners))
	for i, l := range learners {
		out[i] = LearnerRow{Learner: l, Modules: []TodayModule{}}
		t := trainee{personID: l.PersonID, language: language, today: on}
		if own := byPerson[l.PersonID]; own != nil {
			t.passes, t.learned = own.passes, own.learned
		}
		for _, key := range modulesOf(s.Packs, l.Enterprises) {
			m := moduleIn(s.Packs, key)
			out[i].Modules = append(out[i].Modules, t.module(key, m, slices.Contains(waits, key)))
		}
	}
	return out, nil
}

// splitByPerson deals rows out to their people, so that following one does
// not walk through those of all.
func splitByPerson(passes []Pass, parts learned) map[string]*trainee {
	out := map[string]*trainee{}
	of := func(id string) *trainee {
		if out[id] == nil {
			out[id] = &trainee{}
		}
		return out[id]
	}
	for _, p := range passes {
		of(p.PersonID).passes = append(of(p.PersonID).passes, p)
	}
	for _, a := range parts.attempts {
		of(a.PersonID).learned.attempts = append(of(a.PersonID).learned.attempts, a)
	}
	for _, c := range parts.checks {
		of(c.PersonID).learned.checks = append(of(c.PersonID).learned.checks, c)
	}
	return out
}

func modulesOf(packs *checklists.Set, enterprises []string) []ModuleKey {
	var out []ModuleKey
	for _, e := range enterprises {
		if p, ok := packs.Pack(e); ok {
			for _, m := range p.Modules {
				out = append(out, ModuleKey{e, m.Key})
			}
		}
	}
	return out
}

// moduleIn is a module that modulesOf has named.
func moduleIn(packs *checklists.Set, key ModuleKey) checklists.Module {
	p, _ := packs.Pack(key.Enterprise)
	m, _ := p.Module(key.Module)
	return m
}

// coverer counts people into their farm and branch, by enterprise.
type coverer struct {
	packs    *checklists.Set
	farms    []CoverRow
	branches []CoverRow
}

func (c *coverer) add(r LearnerRow, branches []farm.Branch) {
	branch := r.BranchID
	if i := slices.IndexFunc(branches, func(b farm.Branch) bool { return b.ID == r.BranchID }); i >= 0 {
		branch = branches[i].Name
	}
	for _, e := range r.Enterprises {
		required := c.required(e)
		c.farms = count(c.farms, CoverRow{ID: r.FarmID, Name: r.Farm, BranchID: r.BranchID, Enterprise: e}, r, required)
		c.branches = count(c.branches, CoverRow{ID: r.BranchID, Name: branch, Enterprise: e}, r, required)
	}
}

func (c *coverer) required(enterprise string) []string {
	var out []string
	if p, ok := c.packs.Pack(enterprise); ok {
		for _, m := range p.Modules {
			if len(m.GoAheads) > 0 {
				out = append(out, m.Key)
			}
		}
	}
	return out
}

// count adds a person to the group's row, made when it is the first.
func count(rows []CoverRow, group CoverRow, r LearnerRow, required []string) []CoverRow {
	i := slices.IndexFunc(rows, func(x CoverRow) bool { return x.ID == group.ID && x.Enterprise == group.Enterprise })
	if i < 0 {
		group.Modules = make([]training.ModuleCoverage, len(required))
		for n, m := range required {
			group.Modules[n].Module = m
		}
		rows, i = append(rows, group), len(rows)
	}
	if !r.InCharge {
		return rows
	}
	row, complete := &rows[i], true
	row.People++
	for n, m := range required {
		at := slices.IndexFunc(r.Modules, func(x TodayModule) bool { return x.Enterprise == group.Enterprise && x.Key == m })
		switch {
		case r.Modules[at].Until != 0:
			row.Modules[n].Held++
			continue
		case r.Modules[at].Lapsed != 0:
			row.Modules[n].Lapsed++
		default:
			row.Modules[n].Missing++
		}
		complete = false
	}
	if complete {
		row.Complete++
	}
	return rows
}

// AnswerCount is how often a question was asked, and answered wrongly.
type AnswerCount struct {
	ModuleKey
	Question string `json:"question"`
	Asked    int    `json:"asked"`
	Wrong    int    `json:"wrong"`
}

// QuestionRow is a question with the share of wrong answers and how sure it
// is: the 95 % score interval of Wilson.
type QuestionRow struct {
	AnswerCount
	Ask     string  `json:"ask"`
	Safety  bool    `json:"safety"`
	Share   float64 `json:"share"`
	Low     float64 `json:"low"`
	High    float64 `json:"high"`
	Rewrite bool    `json:"rewrite" doc:"Even the low end of the interval is above a third: the question or its card is at fault, not the people."`
}

// rewriteFrom is the share of wrong answers that even the low end of the
// interval must reach for a question to be rewritten: with three options,
// guessing gets two thirds wrong, so half of that. Our choice.
const rewriteFrom = 1. / 3

// Questions are the questions that were asked, those that surely fail most
// first. One that the packs no longer have is left out.
func (s *Trainings) Questions(ctx context.Context, who Actor, branchID, language string) ([]QuestionRow, error) {
	if err := who.Need(desk...); err != nil {
		return nil, err
	}
	counts, err := s.store.AnswerCounts(ctx, who.Scope(), branchID)
	if err != nil {
		return nil, err
	}
	out := []QuestionRow{}
	for _, c := range counts {
		p, ok := s.Packs.Pack(c.Enterprise)
		if !ok {
			continue
		}
		m, ok := p.Module(c.Module)
		if !ok || m.Lesson == nil {
			continue
		}
		if q, ok := m.Lesson.Question(c.Question); ok {
			low, high := share.Wilson(c.Wrong, c.Asked)
			out = append(out, QuestionRow{c, q.Ask.In(language), q.Safety, float64(c.Wrong) / float64(c.Asked), low, high, low >= rewriteFrom})
		}
	}
	slices.SortStableFunc(out, func(a, b QuestionRow) int { return cmp.Or(cmp.Compare(b.Low, a.Low), cmp.Compare(b.Share, a.Share)) })
	return out, nil
}

// RecordRow is a line of the training record.
type RecordRow struct {
	PersonID string `json:"person_id"`
	Person   string `json:"person"`
	ModuleKey
	Name   string        `json:"name"`
	What   string        `json:"what" enum:"questions,practical-check,pass"`
	On     calendar.Date `json:"on"`
	Until  calendar.Date `json:"until,omitzero"`
	How    string        `json:"how"`
	Result string        `json:"result" enum:"passed,failed"`
	Score  string        `json:"score,omitempty"`
	By     string        `json:"by,omitempty"`
}

// Record is everything on record of the training of a branch's people, by
// person and day.
func (s *Trainings) Record(ctx context.Context, who Actor, branchID, language string) ([]RecordRow, error) {
	if err := who.Need(desk...); err != nil {
		return nil, err
	}
	learners, err := s.store.Learners(ctx, who.Scope(), LearnerQuery{BranchID: branchID})
	if err != nil {
		return nil, err
	}
	ids := make([]string, 0, len(learners))
	for _, l := range learners {
		if !slices.Contains(ids, l.PersonID) {
			ids = append(ids, l.PersonID)
		}
	}
	r := recorder{packs: s.Packs, language: language, rows: []RecordRow{}}
	if err := r.read(ctx, s.store, ids); err != nil {
		return nil, err
	}
	return r.named(ctx, s.store)
}
