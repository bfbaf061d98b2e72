package app

import (
	"context"
	"slices"
	"strings"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
)

// promiseStore is what Promises needs of the database.
type promiseStore interface {
	Store
	Farm(ctx context.Context, sc Scope, id string) (FarmLine, error)
	Promise(ctx context.Context, sc Scope, id string) (Promise, error)
	ChangePromise(ctx context.Context, p Promise) error
	PromiseLines(ctx context.Context, sc Scope, q PromiseQuery) (Page[PromiseLine], error)
	QuietFarms(ctx context.Context, sc Scope, q QuietQuery) ([]QuietFarm, error)
	FarmsByIDs(ctx context.Context, sc Scope, ids []string) ([]FarmLine, error)
	WorkOn(ctx context.Context, farmIDs []string) ([]farm.Work, error)
	PeopleByIDs(ctx context.Context, ids []string) ([]farm.Person, error)
	CoveredBy(ctx context.Context, personID string, on calendar.Date) ([]string, error)
}

// Promises are what the desk owes: what was promised on calls, and a call to
// whoever has been quiet for a week.
type Promises struct {
	Core
	store promiseStore
	plans *Plans
	days  *Days
}

// NewPromises wires the use case.
func NewPromises(core Core, store promiseStore, plans *Plans, days *Days) *Promises {
	return &Promises{Core: core, store: store, plans: plans, days: days}
}

// PromiseQuery picks promises, first due first. Zero fields pick all.
type PromiseQuery struct {
	MadeBy  string
	Covered []string // whose work whoever made them does too
	Branch  string
	FarmID  string
	Kind    string
	Kept    *bool
	DueFrom calendar.Date
	DueTo   calendar.Date
	Cursor  string
	Limit   int
}

// PromiseLine is a promise as lists show it.
type PromiseLine struct {
	Promise
	Farm     string `json:"farm"`
	BranchID string `json:"branch_id"`
	Maker    string `json:"maker" doc:"The name of whoever made it; a caretaker who asked to be called back made it for us."`
}

// Due says which promises of a list are meant by their day.
type Due string

// The days of a list of promises.
const (
	DueAny     Due = ""
	DueToday   Due = "today"   // today, or overdue
	DueOverdue Due = "overdue" // before today
)

// List is a page of promises.
func (s *Promises) List(ctx context.Context, who Actor, due Due, q PromiseQuery) (Page[PromiseLine], error) {
	if err := who.Need(desk...); err != nil {
		return Page[PromiseLine]{}, err
	}
	if q.FarmID != "" {
		if _, err := s.store.Farm(ctx, who.Scope(), q.FarmID); err != nil {
			return Page[PromiseLine]{}, err
		}
	}
	today, err := s.days.Today(ctx, who, q.Branch)
	if err != nil {
		return Page[PromiseLine]{}, err
	}
	if q.MadeBy == who.PersonID && q.MadeBy != "" {
		if q.Covered, err = s.store.CoveredBy(ctx, who.PersonID, today); err != nil {
			return Page[PromiseLine]{}, err
		}
	}
	switch due {
	case DueToday:
		q.DueTo = today
	case DueOverdue:
		q.DueTo = today.Add(-1)
	case DueAny:
	}
	return s.store.PromiseLines(ctx, who.Scope(), q)
}

// PromiseChange is what may become of an open promise.
type PromiseChange struct {
	Kind  string
	Text  string
	DueOn calendar.Date
}

// Change says a promise anew, at its version.
func (s *Promises) Change(ctx context.Context, who Actor, id string, version int, in PromiseChange) (Promise, error) {
	return s.change(ctx, who, id, version, "change", func(p Promise, today calendar.Date) (Promise, error) {
		if !p.KeptOn.IsZero() {
			return p, domain.Conflict("promise-kept", "This promise was kept. Make a new one on a call.")
		}
		if text := strings.TrimSpace(in.Text); !slices.Contains(promiseKinds, in.Kind) || text == "" || len(text) > callMost {
			return p, domain.Invalid("promise-refused", "Say what is promised, and of which kind.", domain.Field{Path: "text", Code: "required", Text: "Give at most 2,000 characters, and the kind call-back, visit or other."})
		}
		if in.DueOn != p.DueOn {
			if err := checkDue("promise", in.DueOn, today); err != nil {
				return p, err
			}
		}
		p.Kind, p.Text, p.DueOn = in.Kind, strings.TrimSpace(in.Text), in.DueOn
		return p, nil
	})
}

// Keep says that a promise was kept today, or takes that back.
func (s *Promises) Keep(ctx context.Context, who Actor, id string, version int, kept bool) (Promise, error) {
	verb := "keep"
	if !kept {
		verb = "open"
	}
	return s.change(ctx, who, id, version, verb, func(p Promise, today calendar.Date) (Promise, error) {
		switch {
		case kept && !p.KeptOn.IsZero():
			return p, domain.Conflict("promise-kept", "This promise was kept already.")
		case kept:
			p.KeptOn, p.KeptBy = today, who.PersonID
		default:
			p.KeptOn, p.KeptBy = 0, ""
		}
		return p, nil
	})
}

func (s *Promises) change(ctx context.Context, who Actor, id string, version int, verb string, do func(p Promise, today calendar.Date) (Promise, error)) (Promise, error) {
	if err := who.Need(desk...); err != nil {
		return Promise{}, err
	}
	at := s.Now()
	var out Promise
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		old, err := s.store.Promise(ctx, who.Scope(), id)
		if err != nil {
			return err
		}
		if old.Version != version {
			return domain.Stale()
		}
		f, err := s.store.Farm(ctx, who.Scope(), old.FarmID)
		if err != nil {
			return err
		}
		today, err := s.plans.Today(ctx, f.BranchID, at)
		if err != nil {
			return err
		}
		if out, err = do(old, today); err != nil {
			return err
		}
		if err := s.store.ChangePromise(ctx, out); err != nil {
			return err
		}
		out.Version++
		return s.record(ctx, who, at, Change{Verb: verb, Thing: "promise", ThingID: id, FarmID: f.ID, Before: old, After: out})
	})
	return out, err
}
