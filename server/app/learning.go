package app

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"slices"

	"tendfold/checklists"
	"tendfold/domain/calendar"
	"tendfold/domain/training"
)

// ModuleKey names a module of an enterprise.
type ModuleKey struct {
	Enterprise string `json:"enterprise"`
	Module     string `json:"module"`
}

// Attempt is a round of questions on record, with what came of each question.
type Attempt struct {
	EventID  string `json:"event_id"`
	PersonID string `json:"person_id"`
	FarmID   string `json:"farm_id"`
	ModuleKey
	On      calendar.Date   `json:"on"`
	How     string          `json:"how" enum:"phone,aloud"`
	Asked   int             `json:"asked"`
	Correct int             `json:"correct"`
	Passed  bool            `json:"passed"`
	AtOnce  bool            `json:"at_once" doc:"Stocking waited for it, so a retake on the same day counts."`
	ByID    string          `json:"by_id" doc:"Who asked aloud; empty on the person's own phone."`
	Answers map[string]bool `json:"-"` // right or wrong, by question
}

// PracticalCheck is a practical check on record.
type PracticalCheck struct {
	EventID  string `json:"event_id"`
	PersonID string `json:"person_id"`
	FarmID   string `json:"farm_id"`
	ModuleKey
	On     calendar.Date `json:"on"`
	How    string        `json:"how" enum:"visit,video,in-person"`
	Passed bool          `json:"passed"`
	Missed []string      `json:"missed" doc:"The keys of the tasks that were not done as they should be."`
	ByID   string        `json:"by_id"`
}

// learnStore is what following people through modules needs of the database.
type learnStore interface {
	AttemptsOf(ctx context.Context, personIDs []string) ([]Attempt, error)
	ChecksOf(ctx context.Context, personIDs []string) ([]PracticalCheck, error)
}

// learned is what is on record of some people's learning.
type learned struct {
	attempts []Attempt
	checks   []PracticalCheck
}

func loadLearned(ctx context.Context, store learnStore, personIDs ...string) (learned, error) {
	attempts, err := store.AttemptsOf(ctx, personIDs)
	if err != nil {
		return learned{}, err
	}
	checks, err := store.ChecksOf(ctx, personIDs)
	return learned{attempts, checks}, err
}

// follow is training.Follow for one person and module; rounds is how many
// rounds of questions there were.
func (l learned) follow(personID string, key ModuleKey, m checklists.Module, on calendar.Date) (earned []training.Earned, p training.Progress, rounds int) {
	var attempts []training.Attempt
	for _, a := range l.attempts {
		if a.PersonID == personID && a.ModuleKey == key {
			attempts = append(attempts, training.Attempt{ID: a.EventID, On: a.On, Passed: a.Passed, AtOnce: a.AtOnce})
		}
	}
	var checks []training.Check
	for _, c := range l.checks {
		if c.PersonID == personID && c.ModuleKey == key {
			checks = append(checks, training.Check{ID: c.EventID, On: c.On, Passed: c.Passed, How: training.How(c.How), By: c.ByID})
		}
	}
	earned, p = training.Follow(key.Module, training.Months(m.Months, m.Safety), attempts, checks, on)
	return earned, p, len(attempts)
}

// seeds are the seeds of a person's draws of a module in their order, without
// end. They differ from person to person, so that neighbours are asked other
// questions, and each follows from the one before, so that a phone without a
// network knows the next.
func seeds(personID string, key ModuleKey) func(yield func(uint32) bool) {
	sum := sha256.Sum256([]byte(personID + "\n" + key.Enterprise + "\n" + key.Module))
	seed := binary.BigEndian.Uint32(sum[:])
	return func(yield func(uint32) bool) {
		for yield(seed) {
			seed = training.NextSeed(seed)
		}
	}
}

// seedAt is the seed of the draw after so many rounds.
func seedAt(personID string, key ModuleKey, rounds int) uint32 {
	for seed := range seeds(personID, key) {
		if rounds == 0 {
			return seed
		}
		rounds--
	}
	return 0 // never: the seeds do not end
}

// seedsAhead is how many seeds beyond those used are taken: phones without a
// network do not know of each other's rounds.
const seedsAhead = 200

// isSeed says whether a seed is one of the person's own: nobody chooses the
// questions to be asked.
func isSeed(personID string, key ModuleKey, rounds int, seed uint32) bool {
	left := rounds + seedsAhead
	for s := range seeds(personID, key) {
		if s == seed {
			return true
		}
		if left--; left < 0 {
			return false
		}
	}
	return false
}

// waiting are the modules that a go-ahead lacks now on a farm whose stocking
// it holds up.
func waiting(l *Loaded, on calendar.Date) []ModuleKey {
	var out []ModuleKey
	for _, u := range l.Facts.Units {
		if u.Cycle == nil {
			continue
		}
		for _, g := range u.Cycle.Plan.GoAheads {
			if _, done := u.Cycle.Known.Done[g.Milestone]; done {
				continue
			}
			for _, module := range l.Facts.Untrained(u.Cycle.Plan.Programme.Enterprise, g.Modules, on) {
				key := ModuleKey{u.Cycle.Plan.Programme.Enterprise, module}
				if !slices.Contains(out, key) {
					out = append(out, key)
				}
			}
		}
	}
	return out
}
