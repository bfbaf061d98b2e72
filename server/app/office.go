package app

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/domain/ticket"

	"github.com/bojanz/currency"
)

// officeStore is what Office needs of the database.
type officeStore interface {
	Store
	Firm(ctx context.Context) (farm.Firm, error)
	SaveFirm(ctx context.Context, f farm.Firm) error
	Branches(ctx context.Context) ([]farm.Branch, error)
	Branch(ctx context.Context, id string) (farm.Branch, error)
	AddBranches(ctx context.Context, bs ...farm.Branch) error
	ChangeBranch(ctx context.Context, b farm.Branch) error
	BranchRules(ctx context.Context, id string) (BranchRules, error)
	SetBranchRules(ctx context.Context, id string, version int, rules BranchRules) error
	HolidayEdits(ctx context.Context) (map[string][]calendar.Edit, error)
	EditHoliday(ctx context.Context, branchID string, e calendar.Edit) error
	RemoveHolidayEdit(ctx context.Context, branchID string, on calendar.Date) error
	AddPeople(ctx context.Context, at time.Time, ps ...farm.Person) error
	ChangePerson(ctx context.Context, p farm.Person) error
	Person(ctx context.Context, sc Scope, id string) (farm.Person, error)
	People(ctx context.Context, sc Scope, q PeopleQuery) (Page[farm.Person], error)
}

// PhoneReader reads a phone number as people write it in a country: E.164,
// or the text as it stands and flagged when it can be no number.
type PhoneReader func(text, country string) (number string, flagged bool)

// Office is the firm, its branches and its people.
type Office struct {
	Core
	store officeStore
	plans *Plans
	phone PhoneReader
	queue Queue
}

// NewOffice wires the use case.
func NewOffice(core Core, store officeStore, plans *Plans, phone PhoneReader, queue Queue) *Office {
	return &Office{Core: core, store: store, plans: plans, phone: phone, queue: queue}
}

// Firm is the firm: its name and settings are no secret, because the sign-in
// page shows them; SetUp says whether the first run is done.
func (s *Office) Firm(ctx context.Context) (farm.Firm, error) {
	firm, err := s.store.Firm(ctx)
	if err != nil || firm.SetUp {
		return firm, err
	}
	// An import may have come first: its branches know the time zone.
	branches, err := s.store.Branches(ctx)
	if err == nil && len(branches) > 0 {
		firm.Zone = branches[0].Zone
	}
	return firm, err
}

// FirstRun is what the first page of an empty house asks for.
type FirstRun struct {
	Firm     farm.Firm
	Branch   farm.Branch
	Admin    farm.Person
	Password func(ctx context.Context, personID string) error // sets the administrator's password, in the same transaction
}

// FirstRun sets the firm up, once. It is open to whoever comes first, so it
// works only while no firm is set and no person can sign in.
func (s *Office) FirstRun(ctx context.Context, in FirstRun) (farm.Person, error) {
	at := s.Now()
	admin := in.Admin
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		firm, err := s.store.Firm(ctx)
		if err != nil {
			return err
		}
		if firm.SetUp {
			return domain.Conflict("set-up-already", "This firm is set up already. Sign in, or ask the administrator for a way in.")
		}
		in.Firm.SetUp, in.Firm.Version = true, firm.Version
		if err := checkFirm(in.Firm); err != nil {
			return err
		}
		if err := s.store.SaveFirm(ctx, in.Firm); err != nil {
			return err
		}
		if err := s.firstBranch(ctx, in); err != nil {
			return err
		}
		// Whoever comes first is alone: to see farms and work tickets they need
		// these roles too, until they let others in and give them away.
		admin.Grants = []farm.Grant{{Role: farm.Administrator}, {Role: farm.Manager}, {Role: farm.Advisor}}
		if admin, err = s.addPerson(ctx, System, admin, in.Branch.Country, at); err != nil {
			return err
		}
		if err := in.Password(ctx, admin.ID); err != nil {
			return err
		}
		return s.record(ctx, Actor{PersonID: admin.ID}, at, Change{Verb: "set-up", Thing: "firm", ThingID: "1", After: in.Firm})
	})
	s.plans.Forget()
	return admin, err
}

// firstBranch is the branch of the page. An import or a sweep may have made
// one before any firm was set; that one takes the name and settings given.
func (s *Office) firstBranch(ctx context.Context, in FirstRun) error {
	b := in.Branch
	if b.Zone == "" {
		b.Zone = in.Firm.Zone
	}
	if err := checkBranch(b); err != nil {
		return err
	}
	have, err := s.store.Branches(ctx)
	if err != nil {
		return err
	}
	if len(have) == 1 {
		b.ID, b.Version = have[0].ID, have[0].Version
		return s.store.ChangeBranch(ctx, b)
	}
	if i := slices.IndexFunc(have, func(o farm.Branch) bool { return strings.EqualFold(o.Name, b.Name) }); i >= 0 {
		b.ID, b.Version = have[i].ID, have[i].Version
		return s.store.ChangeBranch(ctx, b)
	}
	b.ID, b.Version = s.NewID(), 1
	return s.store.AddBranches(ctx, b)
}

// ChangeFirm changes the firm's settings.
func (s *Office) ChangeFirm(ctx context.Context, who Actor, f farm.Firm) (farm.Firm, error) {
	if err := who.Need(farm.Administrator); err != nil {
		return f, err
	}
	f.SetUp = true
	if err := checkFirm(f); err != nil {
		return f, err
	}
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		old, err := s.store.Firm(ctx)
		if err != nil {
			return err
		}
		if err := s.store.SaveFirm(ctx, f); err != nil {
			return err
		}
		return s.record(ctx, who, s.Now(), Change{Verb: "change", Thing: "firm", ThingID: "1", Before: old, After: f})
	})
	if err != nil {
		return f, err
	}
	return s.store.Firm(ctx)
}

func checkFirm(f farm.Firm) error {
	var fields []domain.Field
	if strings.TrimSpace(f.Name) == "" || len(f.Name) > maxName {
		fields = append(fields, domain.Field{Path: "name", Code: "required", Text: "Give the firm a name of at most 200 characters."})
	}
	if f.Language != "en" && f.Language != "fr" {
		fields = append(fields, domain.Field{Path: "language", Code: "unknown", Text: "Choose en or fr."})
	}
	if !currency.IsValid(f.Currency) {
		fields = append(fields, domain.Field{Path: "currency", Code: "unknown", Text: "Give an ISO 4217 currency such as XAF."})
	}
	if f := zoneField(f.Zone, "time_zone"); f != nil {
		fields = append(fields, *f)
	}
	if fields != nil {
		return domain.Invalid("firm-refused", "The firm cannot be kept like this.", fields...)
	}
	return nil
}

const maxName = 200

func zoneField(zone, path string) *domain.Field {
	if _, err := time.LoadLocation(zone); err != nil || zone == "" || zone == "Local" {
		return &domain.Field{Path: path, Code: "unknown", Text: "Give a time zone such as Africa/Douala."}
	}
	return nil
}

// Branches are those that the actor works for; staff of one branch may know
// the names of the others.
func (s *Office) Branches(ctx context.Context, who Actor) ([]farm.Branch, error) {
	if err := who.Need(desk...); err != nil {
		return nil, err
	}
	return s.store.Branches(ctx)
}

// AddBranch makes a branch.
func (s *Office) AddBranch(ctx context.Context, who Actor, b farm.Branch) (farm.Branch, error) {
	if err := who.Need(farm.Administrator); err != nil {
		return b, err
	}
	if err := checkBranch(b); err != nil {
		return b, err
	}
	b.ID, b.Version = s.NewID(), 1
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		if err := s.store.AddBranches(ctx, b); err != nil {
			return err
		}
		return s.record(ctx, who, s.Now(), Change{Verb: "add", Thing: "branch", ThingID: b.ID, After: b})
	})
	return b, err
}

// ChangeBranch changes a branch at its version; due times and working days
// follow from the next ticket on.
func (s *Office) ChangeBranch(ctx context.Context, who Actor, b farm.Branch) (farm.Branch, error) {
	if err := s.mayRun(who, b.ID); err != nil {
		return b, err
	}
	if err := checkBranch(b); err != nil {
		return b, err
	}
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		old, err := s.store.Branch(ctx, b.ID)
		if err != nil {
			return err
		}
		if err := s.store.ChangeBranch(ctx, b); err != nil {
			return err
		}
		return s.record(ctx, who, s.Now(), Change{Verb: "change", Thing: "branch", ThingID: b.ID, Before: old, After: b})
	})
	s.plans.Forget()
	if err != nil {
		return b, err
	}
	return s.store.Branch(ctx, b.ID)
}

// mayRun lets administrators and managers of all branches, or of this one,
// change a branch.
func (s *Office) mayRun(who Actor, branchID string) error {
	for _, g := range who.Grants {
		if (g.Role == farm.Administrator || g.Role == farm.Manager) && (g.BranchID == "" || g.BranchID == branchID) {
			return nil
		}
	}
	if who.System {
		return nil
	}
	return domain.Forbidden("Only an administrator or the branch's manager changes a branch.")
}

func checkBranch(b farm.Branch) error {
	var fields []domain.Field
	if strings.TrimSpace(b.Name) == "" || len(b.Name) > maxName {
		fields = append(fields, domain.Field{Path: "name", Code: "required", Text: "Give the branch a name of at most 200 characters."})
	}
	if f := zoneField(b.Zone, "time_zone"); f != nil {
		fields = append(fields, *f)
	}
	if b.Country != "" && len(b.Country) != 2 {
		fields = append(fields, domain.Field{Path: "country", Code: "unknown", Text: "Give the country's two letters, such as CM."})
	}
	if b.Start.Known && (b.Start.Lat < -90 || b.Start.Lat > 90 || b.Start.Lng < -180 || b.Start.Lng > 180) {
		fields = append(fields, domain.Field{Path: "start", Code: "off-the-globe", Text: "A latitude lies within 90 degrees, a longitude within 180."})
	}
	if fields != nil {
		return domain.Invalid("branch-refused", "The branch cannot be kept like this.", fields...)
	}
	if b.Hours == ([7]farm.Span{}) {
		return nil
	}
	return weekOf(b.Hours).Check()
}

// BranchCalendar is a branch's holidays of a year and what it says otherwise
// than the packs do.
type BranchCalendar struct {
	Holidays []calendar.Holiday `json:"holidays"`
	Rules    BranchRules        `json:"rules"`
}

// Calendar is the calendar of a branch for a year.
func (s *Office) Calendar(ctx context.Context, who Actor, branchID string, year int) (BranchCalendar, error) {
	var out BranchCalendar
	if err := who.Need(desk...); err != nil {
		return out, err
	}
	terms, err := s.plans.Terms(ctx, branchID)
	if err != nil {
		return out, err
	}
	out.Holidays = orEmpty(terms.Calendar.Holidays(year))
	out.Rules, err = s.store.BranchRules(ctx, branchID)
	return out, err
}

// EditHoliday says what one day is at a branch: a holiday, or a computed one
// that it works; Remove takes back what was said.
func (s *Office) EditHoliday(ctx context.Context, who Actor, branchID string, e calendar.Edit, remove bool) error {
	if err := s.mayRun(who, branchID); err != nil {
		return err
	}
	if e.On.IsZero() || len(e.Name) > maxName || (!remove && !e.Works && strings.TrimSpace(e.Name) == "") {
		return domain.Invalid("holiday-refused", "A holiday needs a day and a name.", domain.Field{Path: "on", Code: "required", Text: "Give the day and a name of at most 200 characters."})
	}
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		if _, err := s.store.Branch(ctx, branchID); err != nil {
			return err
		}
		verb := "edit"
		if remove {
			verb = "remove"
		}
		if err := s.record(ctx, who, s.Now(), Change{Verb: verb, Thing: "holiday", ThingID: branchID + " " + e.On.String(), After: e}); err != nil {
			return err
		}
		if remove {
			return s.store.RemoveHolidayEdit(ctx, branchID, e.On)
		}
		return s.store.EditHoliday(ctx, branchID, e)
	})
	s.plans.Forget()
	return err
}

// SetRules replaces what a branch says otherwise than packs and house do. A
// season is checked against its pack, and every farm is swept again.
func (s *Office) SetRules(ctx context.Context, who Actor, branchID string, version int, rules BranchRules) error {
	if err := s.mayRun(who, branchID); err != nil {
		return err
	}
	for enterprise, season := range rules.Seasons {
		if err := s.checkSeason(enterprise, season); err != nil {
			return err
		}
	}
	if len(rules.Due) > 0 {
		if err := ticket.DueTable(rules.Due).Check(); err != nil {
			return err
		}
	}
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		old, err := s.store.BranchRules(ctx, branchID)
		if err != nil {
			return err
		}
		if err := s.store.SetBranchRules(ctx, branchID, version, rules); err != nil {
			return err
		}
		if err := s.record(ctx, who, s.Now(), Change{Verb: "change", Thing: "branch-rules", ThingID: branchID, Before: old, After: rules}); err != nil {
			return err
		}
		return s.queue.SweepAll(ctx)
	})
	s.plans.Forget()
	return err
}

func (s *Office) checkSeason(enterprise string, season programme.Season) error {
	pack, ok := s.Packs.Pack(enterprise)
	if !ok {
		return domain.Invalid("enterprise-unknown", fmt.Sprintf("There is no pack for %q.", enterprise))
	}
	var fields []domain.Field
	for _, p := range programme.CheckSeason(pack.Programme, season) {
		fields = append(fields, domain.Field{Path: "seasons." + enterprise + "." + p.Key, Code: "season", Text: p.Reason})
	}
	if fields != nil {
		return domain.Invalid("season-refused", "This season cannot be kept.", fields...)
	}
	return nil
}
