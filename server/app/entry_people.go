package app

import (
	"context"
	"fmt"
	"slices"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/training"
)

// ModuleEntry is the data of EntryModule: the practical check. A person of
// the firm saw whether a caretaker of the farm can do it.
type ModuleEntry struct {
	PersonID   string   `json:"person_id"`
	Enterprise string   `json:"enterprise"`
	Module     string   `json:"module"`
	How        string   `json:"how"`              // in-person, visit, video; phone for a module taught from paper
	Missed     []string `json:"missed,omitempty"` // tasks that were not done as they should be; none = all were
	Note       string   `json:"note,omitempty"`
}

var (
	seenHow   = []string{"visit", "video", "in-person"}
	passedHow = append([]string{"phone"}, seenHow...)
)

func (s *Entries) module(ctx context.Context, e *entry) error {
	in, err := decode[ModuleEntry](e)
	if err != nil {
		return err
	}
	m, err := s.moduleOf(in.Enterprise, in.Module)
	if err != nil {
		return err
	}
	if err := s.works(ctx, in.PersonID, e.FarmID); err != nil {
		return err
	}
	if err := short("note", in.Note, maxNote); err != nil {
		return err
	}
	if m.Lesson == nil {
		return s.passFromPaper(ctx, e, in, m)
	}
	return s.practicalCheck(ctx, e, in, m)
}

// works wants the person among those who work on the farm.
func (s *Entries) works(ctx context.Context, personID, farmID string) error {
	work, err := s.store.WorkOn(ctx, []string{farmID})
	if err == nil && !slices.ContainsFunc(work, func(w farm.Work) bool { return w.PersonID == personID }) {
		return domain.NotFound("caretaker")
	}
	return err
}

// passFromPaper makes the pass at once: a module without content has no
// questions that could be asked.
func (s *Entries) passFromPaper(ctx context.Context, e *entry, in ModuleEntry, m checklists.Module) error {
	if !slices.Contains(passedHow, in.How) {
		return refuse("how", "unknown", "Choose in-person, visit, video or phone.")
	}
	if len(in.Missed) > 0 {
		return refuse("missed", "unknown", "This module has no tasks.")
	}
	return s.store.AddPasses(ctx, Pass{
		PersonID: in.PersonID, Enterprise: in.Enterprise, Module: in.Module, On: e.On,
		Until: training.ValidUntil(e.On, training.Months(m.Months, m.Safety)), How: in.How, ByID: e.who.PersonID,
	})
}

// practicalCheck notes what was seen, and what follows: a pass where the
// questions are answered, an earlier end of one where it did not go well.
func (s *Entries) practicalCheck(ctx context.Context, e *entry, in ModuleEntry, m checklists.Module) error {
	if !slices.Contains(seenHow, in.How) {
		return refuse("how", "unknown", "Say how it was seen: on a visit, by video or in person.")
	}
	for i, task := range in.Missed {
		if !m.Lesson.HasTask(task) || slices.Contains(in.Missed[:i], task) {
			return refuse("missed", "unknown", fmt.Sprintf("%q is not a task of this module, or is named twice.", task))
		}
	}
	key := ModuleKey{in.Enterprise, in.Module}
	check := PracticalCheck{
		EventID: e.ID, PersonID: in.PersonID, FarmID: e.FarmID, ModuleKey: key, On: e.On, How: in.How,
		Passed: len(in.Missed) == 0, Missed: orEmpty(in.Missed), ByID: e.who.PersonID,
	}
	if err := s.store.AddCheck(ctx, check); err != nil {
		return err
	}
	if !check.Passed {
		if err := s.store.EndPasses(ctx, in.PersonID, key, e.On, e.On.Add(training.RefreshWithin)); err != nil {
			return err
		}
	}
	return s.earn(ctx, in.PersonID, key, m, e.today)
}

// earn works out what the person's rounds and checks of a module come to, in
// whatever order they arrived.
func (s *Entries) earn(ctx context.Context, personID string, key ModuleKey, m checklists.Module, today calendar.Date) error {
	parts, err := loadLearned(ctx, s.store, personID)
	if err != nil {
		return err
	}
	earned, _, _ := parts.follow(personID, key, m, today)
	passes := make([]Pass, len(earned))
	for i, p := range earned {
		passes[i] = Pass{
			PersonID: personID, Enterprise: key.Enterprise, Module: key.Module, On: p.PassedOn, Until: p.ValidUntil,
			How: string(p.How), ByID: p.By, EventID: p.CheckID,
		}
	}
	return s.store.PutEarned(ctx, personID, key, passes...)
}

func (s *Entries) moduleOf(enterprise, key string) (checklists.Module, error) {
	pack, ok := s.Packs.Pack(enterprise)
	if !ok {
		return checklists.Module{}, refuse("enterprise", "unknown", fmt.Sprintf("There is no pack for %q.", enterprise))
	}
	m, ok := pack.Module(key)
	if !ok {
		return checklists.Module{}, refuse("module", "unknown", fmt.Sprintf("The pack has no module %q.", key))
	}
	return m, nil
}

// ModuleReadEntry is the data of EntryModuleRead: the caretaker went through
// a module that is taught from paper. It is news and asks for the practical
// check; it is no pass.
type ModuleReadEntry struct {
	Enterprise string `json:"enterprise"`
	Module     string `json:"module"`
}

func (s *Entries) moduleRead(_ context.Context, e *entry) error {
	in, err := decode[ModuleReadEntry](e)
	if err != nil {
		return err
	}
	_, err = s.moduleOf(in.Enterprise, in.Module)
	return err
}
