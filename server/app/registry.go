package app

import (
	"context"
	"slices"
	"strings"
	"time"

	"tendfold/domain"
	"tendfold/domain/farm"
)

// registryStore is what Registry needs of the database.
type registryStore interface {
	Store
	Branch(ctx context.Context, id string) (farm.Branch, error)
	Client(ctx context.Context, sc Scope, id string) (Client, error)
	Clients(ctx context.Context, sc Scope, q ClientQuery) (Page[Client], error)
	AddClients(ctx context.Context, cs ...Client) error
	ChangeClient(ctx context.Context, c Client) error
	Farm(ctx context.Context, sc Scope, id string) (FarmLine, error)
	AddFarms(ctx context.Context, at time.Time, fs ...farm.Farm) error
	ChangeFarm(ctx context.Context, f farm.Farm) error
	Unit(ctx context.Context, sc Scope, id string) (farm.Unit, error)
	AddUnits(ctx context.Context, us ...farm.Unit) error
	ChangeUnit(ctx context.Context, u farm.Unit) error
	Cycle(ctx context.Context, sc Scope, id string) (CycleLine, error)
	AddCycles(ctx context.Context, cs ...farm.Cycle) error
	ChangeCycle(ctx context.Context, c farm.Cycle) error
	AddMilestones(ctx context.Context, ms ...Milestone) error
	Person(ctx context.Context, sc Scope, id string) (farm.Person, error)
	SetWork(ctx context.Context, ws ...farm.Work) error
	EndWork(ctx context.Context, farmID, personID string) error
}

// Registry changes the register by hand: clients, farms, units, cycles and
// who works where. Whole registers come in through register.Imports.
type Registry struct {
	Core
	store registryStore
	plans *Plans
	phone PhoneReader
	queue Queue
}

// NewRegistry wires the use case.
func NewRegistry(core Core, store registryStore, plans *Plans, phone PhoneReader, queue Queue) *Registry {
	return &Registry{Core: core, store: store, plans: plans, phone: phone, queue: queue}
}

// editors may change the register.
var editors = []farm.Role{farm.Administrator, farm.Manager, farm.Advisor}

// Clients are those of the farms that the actor may know of.
func (s *Registry) Clients(ctx context.Context, who Actor, q ClientQuery) (Page[Client], error) {
	if err := who.Need(desk...); err != nil {
		return Page[Client]{}, err
	}
	return s.store.Clients(ctx, who.Scope(), q)
}

// AddClient makes a client.
func (s *Registry) AddClient(ctx context.Context, who Actor, c farm.Client, country string) (Client, error) {
	row := Client{Client: c}
	if err := who.Need(editors...); err != nil {
		return row, err
	}
	row.ID, row.Version = s.NewID(), 1
	row, err := s.checkClient(row, country)
	if err != nil {
		return row, err
	}
	return row, s.store.InTx(ctx, func(ctx context.Context) error {
		if err := s.store.AddClients(ctx, row); err != nil {
			return err
		}
		return s.record(ctx, who, s.Now(), Change{Verb: "add", Thing: "client", ThingID: row.ID, After: row})
	})
}

// ChangeClient changes a client at its version.
func (s *Registry) ChangeClient(ctx context.Context, who Actor, c farm.Client, country string) (Client, error) {
	row := Client{Client: c}
	if err := who.Need(editors...); err != nil {
		return row, err
	}
	old, err := s.store.Client(ctx, who.Scope(), c.ID)
	if err != nil {
		return row, err
	}
	if row, err = s.checkClient(row, country); err != nil {
		return row, err
	}
	err = s.store.InTx(ctx, func(ctx context.Context) error {
		if err := s.store.ChangeClient(ctx, row); err != nil {
			return err
		}
		return s.record(ctx, who, s.Now(), Change{Verb: "change", Thing: "client", ThingID: c.ID, Before: old, After: row})
	})
	if err != nil {
		return row, err
	}
	return s.store.Client(ctx, Everything, c.ID)
}

func (s *Registry) checkClient(c Client, country string) (Client, error) {
	if c.Name = strings.TrimSpace(c.Name); c.Name == "" || len(c.Name) > maxName {
		return c, domain.Invalid("client-refused", "The client cannot be kept like this.", domain.Field{Path: "name", Code: "required", Text: "Give the client a name of at most 200 characters."})
	}
	if c.Phone = strings.TrimSpace(c.Phone); c.Phone != "" {
		c.Phone, c.PhoneFlag = s.phone(c.Phone, country)
	}
	return c, nil
}

// AddFarm makes a farm of a client. A farm that staff enter by hand is
// watched from its first day: they know it.
func (s *Registry) AddFarm(ctx context.Context, who Actor, f farm.Farm) (FarmLine, error) {
	if err := who.Need(editors...); err != nil {
		return FarmLine{}, err
	}
	if err := s.inBranch(ctx, who, f.BranchID); err != nil {
		return FarmLine{}, err
	}
	if err := checkFarm(&f); err != nil {
		return FarmLine{}, err
	}
	at := s.Now()
	today, err := s.plans.Today(ctx, f.BranchID, at)
	if err != nil {
		return FarmLine{}, err
	}
	f.ID, f.Version, f.IntakeOn, f.WatchedOn = s.NewID(), 1, today, today
	err = s.store.InTx(ctx, func(ctx context.Context) error {
		if _, err := s.store.Client(ctx, Everything, f.ClientID); err != nil {
			return err
		}
		if err := s.store.AddFarms(ctx, at, f); err != nil {
			return err
		}
		return s.record(ctx, who, at, Change{Verb: "add", Thing: "farm", ThingID: f.ID, FarmID: f.ID, After: f})
	})
	if err != nil {
		return FarmLine{}, err
	}
	return s.store.Farm(ctx, who.Scope(), f.ID)
}

// inBranch refuses a branch that the actor does not work for.
func (s *Registry) inBranch(ctx context.Context, who Actor, branchID string) error {
	if _, err := s.store.Branch(ctx, branchID); err != nil {
		return err
	}
	if sc := who.Scope(); !sc.All && !slices.Contains(sc.Branches, branchID) {
		return domain.NotFound("branch")
	}
	return nil
}

// ChangeFarm changes a farm at its version: names, place, branch, status.
// Watching has a use case of its own.
func (s *Registry) ChangeFarm(ctx context.Context, who Actor, f farm.Farm) (FarmLine, error) {
	if err := who.Need(editors...); err != nil {
		return FarmLine{}, err
	}
	old, err := s.store.Farm(ctx, who.Scope(), f.ID)
	if err != nil {
		return FarmLine{}, err
	}
	if err := s.inBranch(ctx, who, f.BranchID); err != nil {
		return FarmLine{}, err
	}
	f.WatchedOn, f.IntakeOn, f.ClientID = old.WatchedOn, old.IntakeOn, old.ClientID
	if err := checkFarm(&f); err != nil {
		return FarmLine{}, err
	}
	err = s.change(ctx, who, f.ID, Change{Verb: "change", Thing: "farm", ThingID: f.ID, Before: old.Farm, After: f}, func(ctx context.Context) error {
		return s.store.ChangeFarm(ctx, f)
	})
	if err != nil {
		return FarmLine{}, err
	}
	return s.store.Farm(ctx, who.Scope(), f.ID)
}

// change does something to a farm in one transaction: its row first, then the
// deed, then the audit.
func (s *Registry) change(ctx context.Context, who Actor, farmID string, ch Change, do func(ctx context.Context) error) error {
	ch.FarmID = farmID
	return s.store.InTx(ctx, func(ctx context.Context) error {
		if err := s.queue.SweepFarm(ctx, farmID); err != nil {
			return err
		}
		if err := do(ctx); err != nil {
			return err
		}
		return s.record(ctx, who, s.Now(), ch)
	})
}

func checkFarm(f *farm.Farm) error {
	var fields []domain.Field
	if f.Name = strings.TrimSpace(f.Name); f.Name == "" || len(f.Name) > maxName {
		fields = append(fields, domain.Field{Path: "name", Code: "required", Text: "Give the farm a name of at most 200 characters."})
	}
	if len(f.Town) > maxName || len(f.Landmark) > maxName {
		fields = append(fields, domain.Field{Path: "town", Code: "too-long", Text: "At most 200 characters."})
	}
	if p := f.Position; p.Known && !(p.Lat >= -90 && p.Lat <= 90 && p.Lng >= -180 && p.Lng <= 180) {
		fields = append(fields, domain.Field{Path: "position", Code: "off-the-globe", Text: "A latitude lies within 90 degrees, a longitude within 180."})
	}
	if f.Status == "" {
		f.Status = farm.Active
	}
	if f.Status != farm.Active && f.Status != farm.Paused && f.Status != farm.Closed {
		fields = append(fields, domain.Field{Path: "status", Code: "unknown", Text: "Choose active, paused or closed."})
	}
	if fields != nil {
		return domain.Invalid("farm-refused", "The farm cannot be kept like this.", fields...)
	}
	return nil
}

// SetWork says that a person works on a farm, and whether in charge.
func (s *Registry) SetWork(ctx context.Context, who Actor, w farm.Work) error {
	if err := who.Need(append([]farm.Role{farm.FieldOfficer}, editors...)...); err != nil {
		return err
	}
	if _, err := s.store.Farm(ctx, who.Scope(), w.FarmID); err != nil {
		return err
	}
	p, err := s.store.Person(ctx, Everything, w.PersonID)
	if err != nil {
		return err
	}
	if !p.Has(farm.Caretaker) {
		return domain.Invalid("work-refused", p.Name+" is no caretaker. Give the person that role first.", domain.Field{Path: "person_id", Code: "not-caretaker", Text: "Choose a caretaker."})
	}
	return s.change(ctx, who, w.FarmID, Change{Verb: "set", Thing: "work", ThingID: w.PersonID, After: w}, func(ctx context.Context) error {
		return s.store.SetWork(ctx, w)
	})
}

// EndWork says that a person no longer works on a farm.
func (s *Registry) EndWork(ctx context.Context, who Actor, farmID, personID string) error {
	if err := who.Need(append([]farm.Role{farm.FieldOfficer}, editors...)...); err != nil {
		return err
	}
	if _, err := s.store.Farm(ctx, who.Scope(), farmID); err != nil {
		return err
	}
	return s.change(ctx, who, farmID, Change{Verb: "end", Thing: "work", ThingID: personID}, func(ctx context.Context) error {
		return s.store.EndWork(ctx, farmID, personID)
	})
}
