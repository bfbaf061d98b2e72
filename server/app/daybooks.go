package app

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"slices"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/daybook"
	"tendfold/domain/farm"
)

// daybookStore is what Daybooks needs of the database.
type daybookStore interface {
	dayStore
	Farm(ctx context.Context, sc Scope, id string) (FarmLine, error)
	Unit(ctx context.Context, sc Scope, id string) (farm.Unit, error)
	UnitsOf(ctx context.Context, farmIDs []string) ([]farm.Unit, error)
	BatchesOf(ctx context.Context, unitIDs []string) ([]farm.Batch, error)
	EventsSince(ctx context.Context, farmID string, since calendar.Date, kinds ...string) ([]Event, error)
	WorkOn(ctx context.Context, farmIDs []string) ([]farm.Work, error)
	PeopleByIDs(ctx context.Context, ids []string) ([]farm.Person, error)
	Staff(ctx context.Context, branch string, roles ...farm.Role) ([]farm.Person, error)
}

// Daybooks are the daybook of one unit over two weeks, as the firm works with
// it: the page that is printed for a farm, and what stands of it when the
// filled page is typed in.
type Daybooks struct {
	Core
	store daybookStore
	plans *Plans
}

// NewDaybooks wires the use case.
func NewDaybooks(core Core, store daybookStore, plans *Plans) *Daybooks {
	return &Daybooks{Core: core, store: store, plans: plans}
}

// PageDays is how many days stand on a page of the daybook.
const PageDays = 14

// DaybookPage is two weeks of a unit's daybook as they stand.
type DaybookPage struct {
	FarmID     string          `json:"farm_id"`
	Farm       string          `json:"farm"`
	Town       string          `json:"town,omitempty"`
	UnitID     string          `json:"unit_id"`
	Unit       string          `json:"unit"`
	Enterprise string          `json:"enterprise"`
	Today      calendar.Date   `json:"today" doc:"The day it is there."`
	From       calendar.Date   `json:"from"`
	To         calendar.Date   `json:"to" doc:"The last of the fourteen days."`
	Animals    *daybook.Stock  `json:"animals,omitempty" doc:"What numbers are held against; absent where nobody knows."`
	People     []DaybookPerson `json:"people" doc:"Who works there and may have written it, those in charge first."`
	Days       []DaybookDay    `json:"days" doc:"What stands of these days, of the unit or of the whole farm."`
}

// DaybookPerson is somebody who may have written the page.
type DaybookPerson struct {
	ID       string `json:"id"`
	Name     string `json:"name"`
	Language string `json:"language"`
	InCharge bool   `json:"in_charge"`
}

// DaybookDay is an entry of the daybook that stands.
type DaybookDay struct {
	TodayDay
	Whole bool `json:"whole,omitempty" doc:"About a farm of several units as a whole: it is shown beside, and stays as it is."`
}

// Page is the two weeks from a day on; from none it is the last two weeks.
func (s *Daybooks) Page(ctx context.Context, who Actor, unitID string, from calendar.Date) (DaybookPage, error) {
	v, err := s.look(ctx, who, unitID)
	if err != nil {
		return DaybookPage{}, err
	}
	if from.IsZero() {
		from = v.page.Today.Add(1 - PageDays)
	}
	if err := v.setDays(from); err != nil {
		return DaybookPage{}, err
	}
	return v.page, cmp.Or(s.addPeople(ctx, v), s.addDays(ctx, v))
}

// DaybookSheet is the page that is printed, in one language.
type DaybookSheet struct {
	DaybookPage
	Firm     string
	Language string
	Groups   []BookGroup
	Advisors []TodayContact // whom to call
}

// Sheet is the page to be printed for the two weeks from a day on; from none
// it begins today. It is empty: what stands already is on record.
func (s *Daybooks) Sheet(ctx context.Context, who Actor, unitID string, from calendar.Date, language string) (DaybookSheet, error) {
	out := DaybookSheet{Language: language}
	v, err := s.look(ctx, who, unitID)
	if err != nil {
		return out, err
	}
	if from.IsZero() {
		from = v.page.Today
	}
	if err := v.setDays(from); err != nil {
		return out, err
	}
	pack, ok := s.Packs.Pack(v.page.Enterprise)
	if !ok {
		return out, domain.Conflict("enterprise-unknown", fmt.Sprintf("The pack of %q is not installed here.", v.page.Enterprise))
	}
	out.Groups = BookOf(pack, language).Groups
	firm, err := s.store.Firm(ctx)
	if err != nil {
		return out, err
	}
	staff, err := s.store.Staff(ctx, v.branch, farm.Advisor)
	out.Firm, out.Advisors = firm.Name, contacts(staff)
	if err := cmp.Or(err, s.addPeople(ctx, v)); err != nil {
		return out, err
	}
	out.DaybookPage = v.page
	return out, nil
}

// daybookView is a page on its way.
type daybookView struct {
	page   DaybookPage
	branch string
}

// look finds the unit among those of the actor.
func (s *Daybooks) look(ctx context.Context, who Actor, unitID string) (*daybookView, error) {
	if err := who.Need(desk...); err != nil {
		return nil, err
	}
	u, err := s.store.Unit(ctx, who.Scope(), unitID)
	if err != nil {
		return nil, err
	}
	f, err := s.store.Farm(ctx, who.Scope(), u.FarmID)
	if err != nil {
		return nil, err
	}
	today, err := s.plans.Today(ctx, f.BranchID, s.Now())
	if err != nil {
		return nil, err
	}
	return &daybookView{branch: f.BranchID, page: DaybookPage{
		FarmID: f.ID, Farm: f.Name, Town: f.Town, UnitID: u.ID, Unit: u.Name, Enterprise: u.Enterprise, Today: today,
		People: []DaybookPerson{}, Days: []DaybookDay{},
	}}, nil
}

// setDays sets the fourteen days; they lie where entries may lie, or a year
// ahead for a page that is printed early.
func (v *daybookView) setDays(from calendar.Date) error {
	if v.page.Today.Sub(from) > oldest || from.Sub(v.page.Today) > 366 {
		return domain.Invalid("day-far", "This day is too far away.", domain.Field{Path: "from", Code: "far", Text: "Check the year."})
	}
	v.page.From, v.page.To = from, from.Add(PageDays-1)
	return nil
}

func (s *Daybooks) addPeople(ctx context.Context, v *daybookView) error {
	work, err := s.store.WorkOn(ctx, []string{v.page.FarmID})
	if err != nil || len(work) == 0 {
		return err
	}
	ids, leads := make([]string, len(work)), map[string]bool{}
	for i, w := range work {
		ids[i], leads[w.PersonID] = w.PersonID, w.InCharge
	}
	people, err := s.store.PeopleByIDs(ctx, ids)
	for _, p := range people {
		v.page.People = append(v.page.People, DaybookPerson{ID: p.ID, Name: p.Name, Language: p.Language, InCharge: leads[p.ID]})
	}
	slices.SortFunc(v.page.People, func(a, b DaybookPerson) int {
		if a.InCharge != b.InCharge {
			return map[bool]int{true: -1, false: 1}[a.InCharge]
		}
		return cmp.Compare(a.Name, b.Name)
	})
	return err
}

// addDays adds what stands of these days. Where the farm has one unit, its
// whole book is the unit's.
func (s *Daybooks) addDays(ctx context.Context, v *daybookView) error {
	units, err := s.store.UnitsOf(ctx, []string{v.page.FarmID})
	if err != nil {
		return err
	}
	batches, err := s.store.BatchesOf(ctx, unitIDs(units))
	if err != nil {
		return err
	}
	events, err := s.store.EventsSince(ctx, v.page.FarmID, v.page.From.Add(-lookBack), EntryDay)
	if err != nil {
		return err
	}
	if pack, ok := s.Packs.Pack(v.page.Enterprise); ok {
		v.page.Animals = stockOf(batches, events, cycleOn(batches, v.page.UnitID, v.page.To), v.page.UnitID, pack)
	}
	for _, e := range standing(events) {
		mine := e.UnitID == v.page.UnitID || e.UnitID == "" && len(units) == 1
		if e.On < v.page.From || e.On > v.page.To || !mine && e.UnitID != "" {
			continue
		}
		v.page.Days = append(v.page.Days, DaybookDay{
			TodayDay: TodayDay{ID: e.ID, On: e.On, UnitID: e.UnitID, Data: json.RawMessage(e.Data)}, Whole: !mine,
		})
	}
	return nil
}
