package app

import (
	"context"
	"encoding/json"
	"slices"

	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/domain/sweep"
)

// farmStore is what Farms needs of the database to read.
type farmStore interface {
	Store
	factStore
	Farm(ctx context.Context, sc Scope, id string) (FarmLine, error)
	Farms(ctx context.Context, sc Scope, q FarmQuery) (Page[FarmLine], error)
	Standings(ctx context.Context, sc Scope) ([]StandingCount, error)
	Branch(ctx context.Context, id string) (farm.Branch, error)
	Client(ctx context.Context, sc Scope, id string) (Client, error)
	UnitsOf(ctx context.Context, farmIDs []string) ([]farm.Unit, error)
	CyclesOf(ctx context.Context, farmIDs []string) ([]CycleLine, error)
	BatchesOf(ctx context.Context, unitIDs []string) ([]farm.Batch, error)
	MilestonesOf(ctx context.Context, cycleIDs []string) ([]Milestone, error)
	MarksOf(ctx context.Context, cycleIDs []string) ([]Mark, error)
	ReadingsOf(ctx context.Context, cycleIDs []string) ([]Reading, error)
	PausesOf(ctx context.Context, cycleIDs []string) ([]Pause, error)
	SnagsOf(ctx context.Context, farmIDs []string) ([]Snag, error)
	WorkOn(ctx context.Context, farmIDs []string) ([]farm.Work, error)
	PeopleByIDs(ctx context.Context, ids []string) ([]farm.Person, error)
	PassesOf(ctx context.Context, personIDs []string) ([]Pass, error)
	Events(ctx context.Context, farmID, cursor string, limit int) (Page[Event], error)
	MediaOf(ctx context.Context, entryIDs []string) ([]Medium, error)
}

// Farms is the register as people read it.
type Farms struct {
	Core
	store farmStore
	plans *Plans
}

// NewFarms wires the use case.
func NewFarms(core Core, store farmStore, plans *Plans) *Farms {
	return &Farms{Core: core, store: store, plans: plans}
}

// FarmRow is a farm as the manager's list shows it: with its strips.
type FarmRow struct {
	FarmLine
	Cycles []CycleRow `json:"cycles"`
}

// CycleRow is a running cycle with its strip.
type CycleRow struct {
	CycleID    string        `json:"cycle_id"`
	UnitID     string        `json:"unit_id"`
	Unit       string        `json:"unit"`
	Enterprise string        `json:"enterprise"`
	Purpose    string        `json:"purpose"`
	Outlook    *CycleOutlook `json:"outlook,omitempty" doc:"Absent until the first sweep."`
}

// List is a page of farms, worst standing first. Owners read of their farms
// in their own page, after the firm has spoken to them.
func (s *Farms) List(ctx context.Context, who Actor, q FarmQuery) (Page[FarmRow], error) {
	var out Page[FarmRow]
	page, err := s.store.Farms(ctx, who.Scope(), q)
	if err != nil {
		return out, err
	}
	ids := make([]string, len(page.Items))
	for i, f := range page.Items {
		ids[i] = f.ID
	}
	cycles, err := s.running(ctx, ids)
	if err != nil {
		return out, err
	}
	out = Page[FarmRow]{Items: make([]FarmRow, len(page.Items)), Next: page.Next}
	for i, f := range page.Items {
		out.Items[i] = FarmRow{FarmLine: f, Cycles: orEmpty(cycles[f.ID])}
		if !who.Staff() {
			out.Items[i].discreet()
		}
	}
	return out, nil
}

// discreet leaves out what the firm tells an owner itself: the standing and
// why. The dates stay.
func (r *FarmRow) discreet() {
	r.Standing, r.OwnSlip = "", 0
	for i := range r.Cycles {
		if o := r.Cycles[i].Outlook; o != nil {
			o.Standing, o.Schedule, o.Reasons, o.HoldUp, o.Lost = "", "", orEmpty(o.Reasons[:0]), "", orEmpty(o.Lost[:0])
			o.Slip = programme.Slip{}
		}
	}
}

// running are the running cycles of farms, by farm.
func (s *Farms) running(ctx context.Context, farmIDs []string) (map[string][]CycleRow, error) {
	units, err := s.store.UnitsOf(ctx, farmIDs)
	if err != nil {
		return nil, err
	}
	names := map[string]string{}
	for _, u := range units {
		names[u.ID] = u.Name
	}
	lines, err := s.store.CyclesOf(ctx, farmIDs)
	if err != nil {
		return nil, err
	}
	out := map[string][]CycleRow{}
	for _, c := range lines {
		if !c.EndedOn.IsZero() {
			continue
		}
		row := CycleRow{CycleID: c.ID, UnitID: c.UnitID, Unit: names[c.UnitID], Enterprise: c.Enterprise, Purpose: c.Purpose}
		if row.Outlook, err = c.Outlook.read(); err != nil {
			return nil, err
		}
		out[c.FarmID] = append(out[c.FarmID], row)
	}
	return out, nil
}

// read is the outlook as screens show it, nil before the first sweep.
func (o Outlook) read() (*CycleOutlook, error) {
	if len(o.Detail) == 0 {
		return nil, nil // not worked out yet is an answer
	}
	var out CycleOutlook
	return &out, json.Unmarshal(o.Detail, &out)
}

// Counts is how many farms of each branch have each standing.
func (s *Farms) Counts(ctx context.Context, who Actor) ([]StandingCount, error) {
	if err := who.Need(desk...); err != nil {
		return nil, err
	}
	return s.store.Standings(ctx, who.Scope())
}

// FarmPage is everything about one farm that its page shows; its events come
// in pages of their own.
type FarmPage struct {
	FarmRow
	Branch farm.Branch  `json:"branch"`
	Owner  Client       `json:"owner"`
	Units  []UnitPage   `json:"units"`
	People []WorkerPage `json:"people"`
	Snags  []Snag       `json:"snags"`
	Past   []CycleLine  `json:"past_cycles"`
}

// UnitPage is a unit with its build sheet and the work on its cycle.
type UnitPage struct {
	farm.Unit
	AreaM2   float64      `json:"area_m2"`
	LengthM  float64      `json:"length_m"`
	LengthFt float64      `json:"length_ft"`
	WidthM   float64      `json:"width_m"`
	WidthFt  float64      `json:"width_ft"`
	PumpKW   float64      `json:"pump_kw"`
	Batches  []farm.Batch `json:"batches"`
	Cycle    *CyclePage   `json:"cycle,omitempty"`
}

// CyclePage is a running cycle as one works on it.
type CyclePage struct {
	farm.Cycle
	Outlook  *CycleOutlook `json:"outlook,omitempty"`
	Done     []Milestone   `json:"milestones"`
	Marks    []Mark        `json:"marks"`
	Readings []Reading     `json:"readings"`
	Pauses   []Pause       `json:"pauses"`
	Missing  []GoAheadPage `json:"go_aheads"`
}

// GoAheadPage is a go-ahead and what it still lacks today.
type GoAheadPage struct {
	Key       string       `json:"key"`
	Milestone string       `json:"milestone"`
	Missing   []MissingRow `json:"missing"`
}

// MissingRow is one thing that a go-ahead lacks.
type MissingRow struct {
	Code  string `json:"code" enum:"item-missing,module-missing,reading-missing"`
	Thing string `json:"thing" doc:"The item's, module's or reading's key."`
}

// WorkerPage is a person who works on the farm, with the modules passed.
type WorkerPage struct {
	farm.Work
	Name     string `json:"name"`
	Phone    string `json:"phone"`
	Language string `json:"language"`
	Passes   []Pass `json:"passes"`
}

// Page is one farm.
func (s *Farms) Page(ctx context.Context, who Actor, id string) (FarmPage, error) {
	var p FarmPage
	line, err := s.store.Farm(ctx, who.Scope(), id)
	if err != nil {
		return p, err
	}
	p.FarmLine = line
	for _, step := range []func(context.Context, Actor, *FarmPage) error{s.addBranch, s.addUnits, s.addPeople} {
		if err := step(ctx, who, &p); err != nil {
			return p, err
		}
	}
	if !who.Staff() {
		p.discreet()
		for i := range p.Units {
			if c := p.Units[i].Cycle; c != nil && c.Outlook != nil {
				r := FarmRow{Cycles: []CycleRow{{Outlook: c.Outlook}}}
				r.discreet()
			}
		}
		p.Owner.Phone, p.Snags = "", []Snag{}
	}
	return p, nil
}

func (s *Farms) addBranch(ctx context.Context, _ Actor, p *FarmPage) (err error) {
	if p.Branch, err = s.store.Branch(ctx, p.BranchID); err != nil {
		return err
	}
	if p.Owner, err = s.store.Client(ctx, Everything, p.ClientID); err != nil {
		return err
	}
	p.Snags, err = s.store.SnagsOf(ctx, []string{p.ID})
	p.Snags = orEmpty(p.Snags)
	return err
}

func (s *Farms) addUnits(ctx context.Context, _ Actor, p *FarmPage) error {
	units, err := s.store.UnitsOf(ctx, []string{p.ID})
	if err != nil {
		return err
	}
	unitIDs := make([]string, len(units))
	for i, u := range units {
		unitIDs[i] = u.ID
	}
	batches, err := s.store.BatchesOf(ctx, unitIDs)
	if err != nil {
		return err
	}
	cycles, err := s.cyclePages(ctx, p)
	if err != nil {
		return err
	}
	p.Units = make([]UnitPage, len(units))
	for i, u := range units {
		b := u.Build
		p.Units[i] = UnitPage{
			Unit: u, AreaM2: b.AreaM2(), LengthM: b.Length.Metres(), LengthFt: b.Length.Feet(), WidthM: b.Width.Metres(), WidthFt: b.Width.Feet(),
			PumpKW: b.Pump.KW(), Cycle: cycles[u.ID],
			Batches: slices.DeleteFunc(slices.Clone(batches), func(x farm.Batch) bool { return x.UnitID != u.ID }),
		}
	}
	return nil
}

// cyclePages are the running cycles of the page's farm by unit; those that
// ended go to Past.
func (s *Farms) cyclePages(ctx context.Context, p *FarmPage) (map[string]*CyclePage, error) {
	lines, err := s.store.CyclesOf(ctx, []string{p.ID})
	if err != nil {
		return nil, err
	}
	out := map[string]*CyclePage{}
	p.Past, p.Cycles = []CycleLine{}, []CycleRow{}
	for _, c := range lines {
		if !c.EndedOn.IsZero() {
			p.Past = append(p.Past, c)
			continue
		}
		page, err := s.cyclePage(ctx, c)
		if err != nil {
			return nil, err
		}
		out[c.UnitID] = page
		p.Cycles = append(p.Cycles, CycleRow{CycleID: c.ID, UnitID: c.UnitID, Enterprise: c.Enterprise, Purpose: c.Purpose, Outlook: page.Outlook})
	}
	return out, s.addGoAheads(ctx, p, out)
}

func (s *Farms) cyclePage(ctx context.Context, c CycleLine) (*CyclePage, error) {
	id := []string{c.ID}
	page := &CyclePage{Cycle: c.Cycle}
	var err error
	if page.Outlook, err = c.Outlook.read(); err != nil {
		return nil, err
	}
	if page.Done, err = s.store.MilestonesOf(ctx, id); err != nil {
		return nil, err
	}
	if page.Marks, err = s.store.MarksOf(ctx, id); err != nil {
		return nil, err
	}
	if page.Readings, err = s.store.ReadingsOf(ctx, id); err != nil {
		return nil, err
	}
	page.Pauses, err = s.store.PausesOf(ctx, id)
	page.Marks, page.Readings, page.Pauses = orEmpty(page.Marks), orEmpty(page.Readings), orEmpty(page.Pauses)
	return page, err
}

// addGoAheads says what each go-ahead lacks today.
func (s *Farms) addGoAheads(ctx context.Context, p *FarmPage, cycles map[string]*CyclePage) error {
	today, err := s.plans.Today(ctx, p.BranchID, s.Now())
	if err != nil {
		return err
	}
	loaded, err := loadFarm(ctx, s.store, s.plans, p.ID, today)
	if domain.KindOf(err) == domain.KindNotFound {
		return nil // no cycle runs there
	}
	if err != nil {
		return err
	}
	for _, u := range loaded.Facts.Units {
		page := cycles[u.ID]
		if page == nil || u.Cycle == nil {
			continue
		}
		page.Missing = []GoAheadPage{}
		for _, g := range u.Cycle.Plan.GoAheads {
			row := GoAheadPage{Key: g.Key, Milestone: g.Milestone, Missing: []MissingRow{}}
			for _, r := range sweep.Missing(&loaded.Facts, page.ID, g.Key, today) {
				row.Missing = append(row.Missing, missingRow(r.Code, r.Values))
			}
			page.Missing = append(page.Missing, row)
		}
	}
	return nil
}

func missingRow(code string, values map[string]any) MissingRow {
	for _, name := range []string{"item", "module", "reading"} {
		if thing, ok := values[name].(string); ok {
			return MissingRow{Code: code, Thing: thing}
		}
	}
	return MissingRow{Code: code}
}

func (s *Farms) addPeople(ctx context.Context, who Actor, p *FarmPage) error {
	work, err := s.store.WorkOn(ctx, []string{p.ID})
	if err != nil {
		return err
	}
	ids := make([]string, len(work))
	for i, w := range work {
		ids[i] = w.PersonID
	}
	people, err := s.store.PeopleByIDs(ctx, ids)
	if err != nil {
		return err
	}
	passes, err := s.store.PassesOf(ctx, ids)
	if err != nil {
		return err
	}
	p.People = make([]WorkerPage, len(work))
	for i, w := range work {
		p.People[i] = WorkerPage{Work: w, Passes: []Pass{}}
		for _, x := range people {
			if x.ID == w.PersonID {
				p.People[i].Name, p.People[i].Language = x.Name, x.Language
				if who.Staff() || who.PersonID == x.ID {
					p.People[i].Phone = x.Phone
				}
			}
		}
		for _, x := range passes {
			if x.PersonID == w.PersonID {
				p.People[i].Passes = append(p.People[i].Passes, x)
			}
		}
	}
	return nil
}

// Timeline is a farm's events, newest first. Caretakers read what came from
// the farm; notes of the desk are for staff.
func (s *Farms) Timeline(ctx context.Context, who Actor, farmID, cursor string, limit int) (Page[Event], error) {
	if _, err := s.store.Farm(ctx, who.Scope(), farmID); err != nil {
		return Page[Event]{}, err
	}
	if err := who.Need(append([]farm.Role{farm.Caretaker}, desk...)...); err != nil {
		return Page[Event]{}, err
	}
	page, err := s.store.Events(ctx, farmID, cursor, limit)
	if err == nil && !who.Staff() {
		page.Items = slices.DeleteFunc(page.Items, func(e Event) bool { return e.PersonID != who.PersonID && e.Kind != EntryMilestone })
	}
	page.Items = orEmpty(page.Items)
	if err != nil {
		return page, err
	}
	ids := make([]string, len(page.Items))
	for i, e := range page.Items {
		ids[i] = e.ID
	}
	all, err := s.store.MediaOf(ctx, ids)
	withMedia(page.Items, all)
	return page, err
}
