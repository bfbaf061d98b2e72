package app

import (
	"context"
	"slices"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
)

// Absence is a colleague who is away, and who does their work meanwhile.
type Absence struct {
	ID       string        `json:"id"`
	PersonID string        `json:"person_id"`
	Person   string        `json:"person"`
	CoverID  string        `json:"cover_id"`
	Cover    string        `json:"cover"`
	From     calendar.Date `json:"from"`
	Until    calendar.Date `json:"until" doc:"The last day away."`
	MadeBy   string        `json:"made_by"`
}

// absenceStore is what Absences needs of the database.
type absenceStore interface {
	Store
	PeopleByIDs(ctx context.Context, ids []string) ([]farm.Person, error)
	AddAbsence(ctx context.Context, a Absence) error
	Absence(ctx context.Context, id string) (Absence, error)
	RemoveAbsence(ctx context.Context, id string) error
	AbsencesFrom(ctx context.Context, on calendar.Date) ([]Absence, error)
}

// Absences say who covers whom at the desk.
type Absences struct {
	Core
	store absenceStore
	days  *Days
}

// NewAbsences wires the use case.
func NewAbsences(core Core, store absenceStore, days *Days) *Absences {
	return &Absences{Core: core, store: store, days: days}
}

// List is who is away now or will be, the first to go first.
func (s *Absences) List(ctx context.Context, who Actor) ([]Absence, error) {
	if err := who.Need(desk...); err != nil {
		return nil, err
	}
	today, err := s.days.Today(ctx, who, "")
	if err != nil {
		return nil, err
	}
	return s.store.AbsencesFrom(ctx, today)
}

// longestAbsence bounds an absence, in days.
const longestAbsence = 366

// Add says that a colleague is away and who covers. Everybody says so for
// themselves, managers for all.
func (s *Absences) Add(ctx context.Context, who Actor, a Absence) (Absence, error) {
	if err := who.Need(desk...); err != nil {
		return Absence{}, err
	}
	if a.PersonID != who.PersonID && !who.Is(leader...) {
		return Absence{}, domain.Forbidden("You say when you are away yourself; a manager says it for others.")
	}
	today, err := s.days.Today(ctx, who, "")
	if err != nil {
		return Absence{}, err
	}
	if err := a.check(today); err != nil {
		return Absence{}, err
	}
	people, err := s.store.PeopleByIDs(ctx, []string{a.PersonID, a.CoverID})
	if err != nil {
		return Absence{}, err
	}
	for _, p := range people {
		if !worksAtDesk(p) {
			return Absence{}, domain.Invalid("absence-refused", p.Name+" does not work at the desk.", domain.Field{Path: "cover_id", Code: "not-staff", Text: "Choose a colleague."})
		}
	}
	if len(people) != 2 {
		return Absence{}, domain.NotFound("person")
	}
	a.ID, a.MadeBy = s.NewID(), who.PersonID
	err = s.store.InTx(ctx, func(ctx context.Context) error {
		if err := s.store.AddAbsence(ctx, a); err != nil {
			return err
		}
		return s.record(ctx, who, s.Now(), Change{Verb: "add", Thing: "absence", ThingID: a.ID, After: a})
	})
	if err != nil {
		return Absence{}, err
	}
	return s.store.Absence(ctx, a.ID)
}

func worksAtDesk(p farm.Person) bool {
	return p.Active && slices.ContainsFunc(desk, p.Has)
}

func (a Absence) check(today calendar.Date) error {
	var fields []domain.Field
	bad := func(ok bool, path, code, text string) {
		if !ok {
			fields = append(fields, domain.Field{Path: path, Code: code, Text: text})
		}
	}
	bad(a.CoverID != "" && a.CoverID != a.PersonID, "cover_id", "required", "Choose a colleague who covers.")
	bad(a.Until >= today && a.Until >= a.From, "until", "range", "The last day away is today or later, and not before the first.")
	bad(a.Until.Sub(a.From) <= longestAbsence && a.From.Sub(today) <= longestAbsence, "from", "range", "Within a year.")
	if fields != nil {
		return domain.Invalid("absence-refused", "This absence cannot be noted as it is.", fields...)
	}
	return nil
}

// Remove takes an absence back.
func (s *Absences) Remove(ctx context.Context, who Actor, id string) error {
	if err := who.Need(desk...); err != nil {
		return err
	}
	a, err := s.store.Absence(ctx, id)
	if err != nil {
		return err
	}
	if a.PersonID != who.PersonID && !who.Is(leader...) {
		return domain.Forbidden("Whoever is away takes it back, or a manager.")
	}
	return s.store.InTx(ctx, func(ctx context.Context) error {
		if err := s.store.RemoveAbsence(ctx, id); err != nil {
			return err
		}
		return s.record(ctx, who, s.Now(), Change{Verb: "remove", Thing: "absence", ThingID: id, Before: a})
	})
}
