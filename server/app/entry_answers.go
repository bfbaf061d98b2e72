package app

import (
	"context"
	"slices"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/domain/training"
)

// AnswersEntry is the data of EntryAnswers: one round of a module's
// questions. It tells what was answered; what was right is worked out here.
type AnswersEntry struct {
	// PersonID is who answered, where a member of staff asked aloud; empty on
	// the person's own phone.
	PersonID   string                     `json:"person_id,omitempty"`
	Enterprise string                     `json:"enterprise"`
	Module     string                     `json:"module"`
	Version    string                     `json:"version"` // of the questions, as the lessons have it
	Seed       uint32                     `json:"seed"`
	Answers    map[string]training.Answer `json:"answers"`
	// Told is whether the phone said "passed" to the person. It is on record
	// and decides nothing.
	Told bool `json:"told,omitempty"`
}

// How the questions were asked.
const (
	askedByPhone = "phone"
	askedAloud   = "aloud"
)

func (s *Entries) answers(ctx context.Context, e *entry) error {
	in, err := decode[AnswersEntry](e)
	if err != nil {
		return err
	}
	m, err := s.moduleOf(in.Enterprise, in.Module)
	if err != nil {
		return err
	}
	if err := questionsOf(m, in); err != nil {
		return err
	}
	round, err := s.round(ctx, e, in)
	if err != nil {
		return err
	}
	parts, err := loadLearned(ctx, s.store, round.PersonID)
	if err != nil {
		return err
	}
	if _, _, rounds := parts.follow(round.PersonID, round.ModuleKey, m, e.today); !isSeed(round.PersonID, round.ModuleKey, rounds, in.Seed) {
		return refuse("seed", "not-given", "These questions were not drawn for this person. Open the module again and answer anew.")
	}
	round.mark(m.Lesson.Bank(), in)
	if err := s.store.AddAttempt(ctx, round); err != nil {
		return err
	}
	return s.earn(ctx, round.PersonID, round.ModuleKey, m, e.today)
}

// questionsOf wants the questions that were asked to be those of today.
func questionsOf(m checklists.Module, in AnswersEntry) error {
	if m.Lesson == nil {
		return refuse("module", "no-questions", "This module has no questions; it is taught from paper.")
	}
	if in.Version != m.Lesson.Bank().Version() {
		return domain.Conflict("questions-changed", "The questions of this module have changed since these were asked. Answer the new ones; nothing else is lost.")
	}
	return nil
}

// round is the round of questions but for its marks.
func (s *Entries) round(ctx context.Context, e *entry, in AnswersEntry) (Attempt, error) {
	a := Attempt{
		EventID: e.ID, PersonID: in.PersonID, FarmID: e.FarmID, ModuleKey: ModuleKey{in.Enterprise, in.Module},
		On: e.On, How: askedAloud, ByID: e.who.PersonID,
	}
	switch own := in.PersonID == "" || in.PersonID == e.who.PersonID; {
	case own && e.who.Is(farm.Caretaker):
		a.PersonID, a.How, a.ByID = e.who.PersonID, askedByPhone, ""
	case own:
		return a, refuse("person_id", "required", "Say who answered.")
	case !e.who.Staff():
		return a, domain.Forbidden("Each person answers for themselves. Ask us to ask the questions aloud.")
	}
	if err := s.works(ctx, a.PersonID, e.FarmID); err != nil {
		return a, err
	}
	waits, err := s.stockingWaits(ctx, e, a.ModuleKey)
	a.AtOnce = waits
	return a, err
}

func (s *Entries) stockingWaits(ctx context.Context, e *entry, key ModuleKey) (bool, error) {
	l, err := loadFarm(ctx, s.store, s.plans, e.FarmID, e.today)
	if domain.KindOf(err) == domain.KindNotFound {
		return false, nil // no cycle runs there
	}
	return err == nil && slices.Contains(waiting(l, e.today), key), err
}

// mark fills in what came of the round.
func (a *Attempt) mark(b training.Bank, in AnswersEntry) {
	marks := b.Mark(in.Seed, in.Answers)
	a.Asked, a.Correct, a.Passed = marks.Asked, marks.Right, marks.Passed
	a.Answers = map[string]bool{}
	for _, asked := range b.Ask(in.Seed) {
		a.Answers[asked.Question] = !slices.Contains(marks.Wrong, asked.Question)
	}
}
