package app

import (
	"context"
	"slices"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/domain/sweep"
)

// FarmRows is what the page of one farm is made of.
type FarmRows struct {
	Farm       FarmLine
	Owner      Client
	Branch     farm.Branch
	Units      []farm.Unit
	Batches    []farm.Batch
	Cycles     []CycleLine
	Milestones []Milestone
	Marks      []Mark
	Readings   []Reading
	Pauses     []Pause
	Snags      []Snag
	Workers    []Worker
	Passes     []Pass // of the workers
}

// Worker is a person who works on a farm.
type Worker struct {
	farm.Work
	Name     string `json:"name"`
	Phone    string `json:"phone"`
	Language string `json:"language"`
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
	Worker
	Passes []Pass `json:"passes"`
}

// Page is one farm.
func (s *Farms) Page(ctx context.Context, who Actor, id string) (FarmPage, error) {
	rows, err := s.store.FarmRows(ctx, who.Scope(), id)
	if err != nil {
		return FarmPage{}, err
	}
	today, err := s.plans.Today(ctx, rows.Farm.BranchID, s.Now())
	if err != nil {
		return FarmPage{}, err
	}
	p, err := rows.page(who)
	if err != nil {
		return p, err
	}
	if err := s.addGoAheads(ctx, &p, rows.caretakers(), today); err != nil {
		return p, err
	}
	p.hideFrom(who)
	return p, nil
}

// hideFrom leaves out what is not for the actor's eyes: what the firm tells
// an owner itself, and the phone numbers of others.
func (p *FarmPage) hideFrom(who Actor) {
	if who.Staff() {
		return
	}
	p.discreet()
	for i := range p.People {
		if p.People[i].PersonID != who.PersonID {
			p.People[i].Phone = ""
		}
	}
	p.Owner.Phone, p.Snags = "", []Snag{}
}

// page puts the rows in their places. A cycle's outlook is one and the same
// in the farm's line and on its unit.
func (r *FarmRows) page(who Actor) (FarmPage, error) {
	p := FarmPage{
		FarmRow: FarmRow{FarmLine: r.Farm, Cycles: []CycleRow{}}, Branch: r.Branch, Owner: r.Owner, Snags: orEmpty(r.Snags),
		Units: make([]UnitPage, len(r.Units)), People: make([]WorkerPage, len(r.Workers)), Past: []CycleLine{},
	}
	for i, u := range r.Units {
		p.Units[i] = unitPage(u, of(r.Batches, u.ID, func(b farm.Batch) string { return b.UnitID }))
	}
	for _, c := range r.Cycles {
		if !c.EndedOn.IsZero() {
			p.Past = append(p.Past, c)
			continue
		}
		page, err := r.cyclePage(who, c)
		if err != nil {
			return p, err
		}
		p.Cycles = append(p.Cycles, CycleRow{CycleID: c.ID, UnitID: c.UnitID, Enterprise: c.Enterprise, Purpose: c.Purpose, Outlook: page.Outlook})
		if i := slices.IndexFunc(p.Units, func(u UnitPage) bool { return u.ID == c.UnitID }); i >= 0 {
			p.Units[i].Cycle = page
		}
	}
	for i, w := range r.Workers {
		p.People[i] = WorkerPage{Worker: w, Passes: of(r.Passes, w.PersonID, func(x Pass) string { return x.PersonID })}
	}
	return p, nil
}

func unitPage(u farm.Unit, batches []farm.Batch) UnitPage {
	b := u.Build
	return UnitPage{
		Unit: u, AreaM2: b.AreaM2(), LengthM: b.Length.Metres(), LengthFt: b.Length.Feet(), WidthM: b.Width.Metres(), WidthFt: b.Width.Feet(),
		PumpKW: b.Pump.KW(), Batches: batches,
	}
}

func (r *FarmRows) cyclePage(who Actor, c CycleLine) (*CyclePage, error) {
	outlook, err := c.Outlook.shownTo(who)
	if err != nil {
		return nil, err
	}
	return &CyclePage{
		Cycle: c.Cycle, Outlook: outlook, Missing: []GoAheadPage{},
		Done:     of(r.Milestones, c.ID, func(m Milestone) string { return m.CycleID }),
		Marks:    of(r.Marks, c.ID, func(m Mark) string { return m.CycleID }),
		Readings: of(r.Readings, c.ID, func(x Reading) string { return x.CycleID }),
		Pauses:   of(r.Pauses, c.ID, func(x Pause) string { return x.CycleID }),
	}, nil
}

// of are the rows that belong to an id; a farm has so few that a look at all
// of them is the quickest.
func of[T any](rows []T, id string, whose func(T) string) []T {
	out := make([]T, 0, len(rows))
	for _, r := range rows {
		if whose(r) == id {
			out = append(out, r)
		}
	}
	return out
}

// caretakers are the workers with their passes, as the go-aheads ask for
// them.
func (r *FarmRows) caretakers() []sweep.Caretaker {
	out := make([]sweep.Caretaker, len(r.Workers))
	for i, w := range r.Workers {
		out[i] = sweep.Caretaker{PersonID: w.PersonID, InCharge: w.InCharge}
		for _, p := range r.Passes {
			if p.PersonID == w.PersonID {
				out[i].Passes = append(out[i].Passes, sweep.Pass{Enterprise: p.Enterprise, Module: p.Module, On: p.On, Until: p.Until})
			}
		}
	}
	return out
}

// addGoAheads says what each go-ahead lacks today. A cycle whose pack is not
// installed has none.
func (s *Farms) addGoAheads(ctx context.Context, p *FarmPage, caretakers []sweep.Caretaker, today calendar.Date) error {
	for i := range p.Units {
		page := p.Units[i].Cycle
		if page == nil {
			continue
		}
		plan, err := s.plans.PlanFrom(ctx, page.Enterprise, page.Purpose, p.BranchID, page.StartsWith)
		if domain.CodeOf(err) == "enterprise-unknown" {
			continue
		}
		if err != nil {
			return err
		}
		page.addGoAheads(plan, caretakers, today)
	}
	return nil
}

func (c *CyclePage) addGoAheads(plan *sweep.Plan, caretakers []sweep.Caretaker, today calendar.Date) {
	known := &sweep.Cycle{ID: c.ID, Plan: plan, Marks: make(map[string]sweep.Mark, len(c.Marks)), Known: programme.Known{}}
	for _, m := range c.Marks {
		known.Marks[m.Item] = sweep.Mark{Answer: m.Answer, Grade: m.Grade, On: m.On}
	}
	for _, r := range c.Readings {
		known.Known.Readings = append(known.Known.Readings, r.Reading)
	}
	facts := &sweep.Facts{Caretakers: caretakers, Units: []sweep.Unit{{ID: c.UnitID, Plan: plan, Cycle: known}}}
	for _, g := range plan.GoAheads {
		row := GoAheadPage{Key: g.Key, Milestone: g.Milestone, Missing: []MissingRow{}}
		for _, r := range sweep.Missing(facts, c.ID, g.Key, today) {
			row.Missing = append(row.Missing, missingRow(r.Code, r.Values))
		}
		c.Missing = append(c.Missing, row)
	}
}

func missingRow(code string, values map[string]any) MissingRow {
	for _, name := range []string{"item", "module", "reading"} {
		if thing, ok := values[name].(string); ok {
			return MissingRow{Code: code, Thing: thing}
		}
	}
	return MissingRow{Code: code}
}
