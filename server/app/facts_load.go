package app

import (
	"context"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/programme"
	"tendfold/domain/sweep"
	"tendfold/domain/ticket"
)

// take cuts the rows of one farm off the front of an ordered list.
func take[T any](list *[]T, farmID string, of func(*T) string) []T {
	n := 0
	for n < len(*list) && of(&(*list)[n]) == farmID {
		n++
	}
	out := (*list)[:n:n]
	*list = (*list)[n:]
	return out
}

// assemble puts the rows of each farm together; plan gives the plan of a
// cycle's kind. A cycle whose pack is not installed is left out: its unit
// stands there without one.
func assemble(rows FactRows, on calendar.Date, plan func(enterprise, purpose, branch, start string) *sweep.Plan) []Loaded {
	out := make([]Loaded, len(rows.Farms))
	for i, f := range rows.Farms {
		l := &out[i]
		l.FactFarm = f
		l.Facts = sweep.Facts{FarmID: f.ID, BranchID: f.BranchID, Watched: f.Watched != 0, Status: f.Status, IntakeOn: f.Intake}
		l.Facts.Evidence = days(take(&rows.Evidence, f.ID, func(r *FactDay) string { return r.FarmID }))
		l.Facts.Visits = days(take(&rows.Visits, f.ID, func(r *FactDay) string { return r.FarmID }))
		l.caretakers(take(&rows.Work, f.ID, func(r *FactWork) string { return r.FarmID }), take(&rows.Passes, f.ID, func(r *FactPass) string { return r.FarmID }))
		for _, s := range take(&rows.Snags, f.ID, func(r *FactSnag) string { return r.FarmID }) {
			l.Facts.Snags = append(l.Facts.Snags, sweep.Snag{UnitID: s.UnitID, Found: s.Found, Fixed: s.Fixed})
		}
		l.units(&rows, plan)
		l.cycles(&rows, on, plan)
		l.Memory.Clocks = take(&rows.Clocks, f.ID, func(c *sweep.Clock) string { return c.FarmID })
		l.tickets(take(&rows.Tickets, f.ID, func(t *TicketFact) string { return t.FarmID }))
	}
	return out
}

func days(rows []FactDay) []calendar.Date {
	out := make([]calendar.Date, len(rows))
	for i, r := range rows {
		out[i] = r.On
	}
	return out
}

func (l *Loaded) caretakers(work []FactWork, passes []FactPass) {
	for _, w := range work {
		c := sweep.Caretaker{PersonID: w.PersonID, InCharge: w.InCharge, Since: w.Since}
		for _, p := range passes {
			if p.PersonID == w.PersonID {
				c.Passes = append(c.Passes, sweep.Pass{Enterprise: p.Enterprise, Module: p.Module, On: p.On, Until: p.Until})
			}
		}
		l.Facts.Caretakers = append(l.Facts.Caretakers, c)
	}
}

func (l *Loaded) units(rows *FactRows, plan func(enterprise, purpose, branch, start string) *sweep.Plan) {
	units := take(&rows.Units, l.ID, func(r *FactUnit) string { return r.FarmID })
	l.Facts.Units = make([]sweep.Unit, len(units))
	for i, u := range units {
		l.Facts.Units[i] = sweep.Unit{
			ID: u.ID, HandedOver: u.HandedOver, DefectsUntil: defectsUntil(u.HandedOver, u.DefectsMonths),
			Plan: plan(u.Enterprise, "", l.BranchID, ""),
		}
		l.Facts.HandedOver = max(l.Facts.HandedOver, u.HandedOver)
	}
}

func (l *Loaded) cycles(rows *FactRows, on calendar.Date, plan func(enterprise, purpose, branch, start string) *sweep.Plan) {
	cycles := take(&rows.Cycles, l.ID, func(r *FactCycle) string { return r.FarmID })
	milestones := take(&rows.Milestones, l.ID, func(r *FactMilestone) string { return r.FarmID })
	pauses := take(&rows.Pauses, l.ID, func(r *FactPause) string { return r.FarmID })
	marks := take(&rows.Marks, l.ID, func(r *FactMark) string { return r.FarmID })
	readings := take(&rows.Readings, l.ID, func(r *FactReading) string { return r.FarmID })
	l.Hashes, l.Entered = make(map[string]uint64, len(cycles)), make(map[string]calendar.Date, len(cycles))
	for _, c := range cycles {
		l.Hashes[c.ID], l.Entered[c.ID] = c.Hash, c.EnteredOn
		p := plan(c.Enterprise, c.Purpose, l.BranchID, c.StartsWith)
		unit := l.unit(c.UnitID)
		if p == nil || unit == nil {
			continue
		}
		cy := &sweep.Cycle{ID: c.ID, Plan: p, Was: c.Entered, HoldUp: c.HoldUp, Marks: map[string]sweep.Mark{}}
		cy.Known = programme.Known{Start: c.Started, Done: map[string]calendar.Date{}, StockedG: c.StockedG, LastEvidence: l.Facts.Evidence}
		for _, m := range milestones {
			if m.CycleID == c.ID {
				cy.Baseline = append(cy.Baseline, m.Window)
				if m.Done != 0 {
					cy.Known.Done[m.Key] = m.Done
				}
			}
		}
		for _, x := range pauses {
			if x.CycleID == c.ID {
				cy.Known.Pauses = append(cy.Known.Pauses, x.lasting(on))
			}
		}
		for _, m := range marks {
			if m.CycleID == c.ID {
				cy.Marks[m.Item] = m.Mark
			}
		}
		for _, r := range readings {
			if r.CycleID == c.ID {
				cy.Known.Readings = append(cy.Known.Readings, r.Reading)
			}
		}
		unit.Cycle, unit.Plan = cy, p
	}
}

func (l *Loaded) unit(id string) *sweep.Unit {
	for i := range l.Facts.Units {
		if l.Facts.Units[i].ID == id {
			return &l.Facts.Units[i]
		}
	}
	return nil
}

func (l *Loaded) tickets(rows []TicketFact) {
	l.Memory.Open, l.Memory.Rests = map[sweep.Key]bool{}, map[sweep.Key]calendar.Date{}
	l.Touched = make(map[string]TicketFact, len(rows))
	for _, t := range rows {
		l.Touched[t.ID] = t
		l.Tickets = append(l.Tickets, t.Ticket)
		switch {
		case t.Rule == "":
		case t.State != ticket.Settled:
			l.Memory.Open[t.Key] = true
		case t.RestsUntil != 0:
			l.Memory.Rests[t.Key] = max(l.Memory.Rests[t.Key], t.RestsUntil)
		}
	}
}

// planner gives plans to assemble; what cannot be planned is remembered as
// the first error.
type planner struct {
	ctx   context.Context
	plans *Plans
	err   error
}

// plan is the plan of one kind of cycle, or of an enterprise alone when the
// purpose is "": then any purpose's will do, for what does not depend on it.
func (p *planner) plan(enterprise, purpose, branch, start string) *sweep.Plan {
	if purpose == "" {
		pack, ok := p.plans.packs.Pack(enterprise)
		if !ok {
			return nil
		}
		purpose = string(pack.Purposes[0])
	}
	plan, err := p.plans.PlanFrom(p.ctx, enterprise, purpose, branch, start)
	if err != nil && domain.CodeOf(err) != "enterprise-unknown" && p.err == nil {
		p.err = err
	}
	return plan
}

// loadPage loads the farms of a query.
func loadPage(ctx context.Context, store factStore, plans *Plans, q FactQuery) ([]Loaded, error) {
	rows, err := store.FactRows(ctx, q)
	if err != nil {
		return nil, err
	}
	p := &planner{ctx: ctx, plans: plans}
	loaded := assemble(rows, q.On, p.plan)
	return loaded, p.err
}

// loadFarm loads one farm's facts as of a day.
func loadFarm(ctx context.Context, store factStore, plans *Plans, farmID string, on calendar.Date) (*Loaded, error) {
	q := factQuery(on)
	q.FarmID, q.Limit = farmID, 1
	loaded, err := loadPage(ctx, store, plans, q)
	if err != nil {
		return nil, err
	}
	if len(loaded) == 0 {
		return nil, domain.NotFound("farm")
	}
	return &loaded[0], nil
}

// addMonths is the same day so many months later, or the last of that month.
func addMonths(d calendar.Date, months int) calendar.Date {
	t := d.In(time.UTC)
	first := time.Date(t.Year(), t.Month()+time.Month(months), 1, 0, 0, 0, 0, time.UTC)
	last := first.AddDate(0, 1, -1)
	return calendar.NewDate(first.Year(), first.Month(), min(t.Day(), last.Day()))
}
