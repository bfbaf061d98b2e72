package register

import (
	"cmp"
	"maps"
	"slices"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/server/app"
)

// writeCycle begins, corrects or continues the cycle that the row speaks of
// and answers it; nil when there is none.
func (p *planner) writeCycle(t target) *cycle {
	c := p.cycleOf(t)
	if c == nil {
		p.writeBatch(t, nil)
		return nil
	}
	p.tellStart(t, c)
	p.tellMarks(t, c)
	p.writeBatch(t, c)
	return c
}

// cycleOf is the cycle that the row is about, begun if need be; nil when the
// row has no day for one, or speaks of one that has ended.
func (p *planner) cycleOf(t target) *cycle {
	start, _ := p.startOf(t)
	switch u := t.unit; {
	case u.ended != nil && u.ended.it.StartedOn == p.row.StartedOn:
		return nil
	case u.running != nil && p.isNext(t, u.running):
		u.running.it.EndedOn, u.running.dirty = start, true
		u.ended, u.running = u.running, nil
		return p.begin(t, start)
	case u.running != nil:
		return u.running
	case start.IsZero(), u.ended != nil && start < u.ended.it.EndedOn:
		return nil
	}
	return p.begin(t, start)
}

// startOf is the day on which the row's cycle began: as given, else reckoned
// back from the stocking or the harvest by the pack's likely durations, so
// that an unknown start makes the farm neither late nor early.
func (p *planner) startOf(t target) (start, from calendar.Date) {
	r, g := p.row, t.pack.Programme
	switch {
	case !r.StartedOn.IsZero():
		return r.StartedOn, 0
	case !r.StockedOn.IsZero():
		return p.reckon(t, r.StockedOn, g.Stocking), r.StockedOn
	case !r.FirstHarvestOn.IsZero():
		return p.reckon(t, r.FirstHarvestOn, g.Harvest), r.FirstHarvestOn
	}
	return 0, 0
}

func (p *planner) reckon(t target, on calendar.Date, key string) calendar.Date {
	s := p.span(t, t.pack.Programme.Start, key)
	if s == nil {
		return on
	}
	return on.Add(-int(s.likely + 0.5))
}

// isNext says whether the row speaks of the cycle after c: it starts later
// than c was stocked, and tells of no stocking that c knows.
func (p *planner) isNext(t target, c *cycle) bool {
	r, stocked := p.row, c.marks[t.pack.Programme.Stocking].DoneOn
	return !stocked.IsZero() && r.StartedOn > stocked && r.StockedOn != stocked && (r.StockedOn.IsZero() || r.StockedOn >= r.StartedOn) && c.said == nil
}

func (p *planner) begin(t target, start calendar.Date) *cycle {
	purpose := purposeOf(t.pack, p.row.Purpose)
	c := &cycle{marks: map[string]app.Milestone{}, rebased: true}
	c.row = p.row.Number
	c.it = farm.Cycle{
		ID: p.NewID(), FarmID: t.farm.it.ID, UnitID: t.unit.it.ID, Enterprise: t.unit.it.Enterprise,
		Purpose: string(purpose), StartedOn: start,
	}
	t.unit.running, c.batch, t.unit.loose = c, t.unit.loose, nil
	if t.unit.row != p.row.Number {
		p.change(ColStarted, "", start.String())
	}
	p.startPreceding(t, c, start)
	return c
}

// startPreceding marks what the programme's start waits for as done on the
// start day, where no better day is known; was is the start before.
func (p *planner) startPreceding(t target, c *cycle, was calendar.Date) {
	for _, key := range preceding(t.pack.Programme, t.pack.Programme.Start, programme.Purpose(c.it.Purpose)) {
		if m := c.marks[key]; m.DoneOn.IsZero() || m.Grade == farm.Register && m.DoneOn == was {
			c.marks[key] = doneOn(key, c.it.StartedOn)
		}
	}
}

// tellStart corrects the purpose and the start of a cycle; either makes its
// baseline anew.
func (p *planner) tellStart(t target, c *cycle) {
	r, key := p.row, t.pack.Programme.Start
	if slices.Contains(t.pack.Purposes, r.Purpose) {
		p.tellOne(c.row, &c.said, ColPurpose, c.it.Purpose, string(r.Purpose), func() {
			c.it.Purpose, c.dirty, c.rebased = string(r.Purpose), true, true
		})
	}
	if r.StartedOn.IsZero() || p.kept(t, c, doneOn(key, r.StartedOn)) {
		return
	}
	p.tellOne(c.row, &c.said, ColStarted, c.it.StartedOn.String(), r.StartedOn.String(), func() {
		was := c.it.StartedOn
		c.it.StartedOn, c.dirty, c.rebased = r.StartedOn, true, true
		p.startPreceding(t, c, was)
	})
	if c.marks[key].DoneOn != c.it.StartedOn {
		p.mark(t, c, doneOn(key, c.it.StartedOn))
	}
}

// kept says whether a person has marked the milestone with better evidence
// than a spreadsheet, and flags a sheet that says otherwise.
func (p *planner) kept(t target, c *cycle, m app.Milestone) bool {
	old := c.marks[m.Key]
	if m.DoneOn.IsZero() || old.DoneOn.IsZero() || old.Grade == farm.Register {
		return false
	}
	if old.DoneOn != m.DoneOn {
		p.flag(columnOf(t.pack, m.Key), DateKept, Values{"kept": old.DoneOn.String(), "value": m.DoneOn.String()})
	}
	return true
}

// tellMarks marks the milestones after the start whose days the row gives.
func (p *planner) tellMarks(t target, c *cycle) {
	for _, m := range dated(t.pack, p.row) {
		if m.Key == t.pack.Programme.Start || !has(t.pack.Programme, m.Key, programme.Purpose(c.it.Purpose)) || p.kept(t, c, m) {
			continue
		}
		p.tellOne(c.row, &c.said, columnOf(t.pack, m.Key), c.marks[m.Key].DoneOn.String(), m.DoneOn.String(), func() { p.mark(t, c, m) })
	}
}

func (p *planner) mark(t target, c *cycle, m app.Milestone) {
	m.CycleID = c.it.ID
	c.marks[m.Key], c.dirty = m, true
	if !slices.Contains(c.fresh, m.Key) {
		c.fresh = append(c.fresh, m.Key)
	}
	e := app.Event{FarmID: c.it.FarmID, UnitID: c.it.UnitID, CycleID: c.it.ID, Kind: app.EntryMilestone, On: m.DoneOn, Evidence: true}
	p.event(e, app.MilestoneEntry{Milestone: m.Key, Grade: farm.Register})
	p.book.touch(t.farm.it.ID, p.row.Number).news = true
}

// writeBatch makes or corrects the animals that the row speaks of. Animals
// without any day are kept with the unit until a cycle begins.
func (p *planner) writeBatch(t target, c *cycle) {
	r := p.row
	if r.StockedOn.IsZero() && r.StockedCount == 0 && r.MeanWeightG == 0 || c == nil && t.unit.ended != nil {
		return
	}
	at := &t.unit.loose
	if c != nil {
		at = &c.batch
	}
	if *at == nil {
		*at = &entry[farm.Batch]{row: r.Number, it: farm.Batch{ID: p.NewID(), UnitID: t.unit.it.ID, Species: t.unit.it.Species}}
	}
	b := *at
	before := b.it
	tell(p, b, batchFacts, farm.Batch{Count: r.StockedCount, MeanWeightG: r.MeanWeightG})
	if c != nil {
		b.it.CycleID = c.it.ID
		// Another day than the one marked is a later batch's, or a person's.
		if key := t.pack.Programme.Stocking; slices.Contains(c.fresh, key) {
			b.it.StockedOn = c.marks[key].DoneOn
		}
	}
	if b.it != before {
		b.dirty = true
		p.book.touch(t.farm.it.ID, r.Number).news = true
	}
}

// starts are the cycles whose baseline is to be kept.
func (p *planner) starts() []Start {
	var out []Start
	for _, u := range p.book.units {
		if c := u.running; c != nil && c.rebased {
			out = append(out, Start{
				Cycle: c.it, BranchID: p.knownBranch(c.it.FarmID), Again: c.row == 0,
				Done: slices.SortedFunc(maps.Values(c.marks), func(a, b app.Milestone) int {
					return cmp.Or(cmp.Compare(a.DoneOn, b.DoneOn), cmp.Compare(a.Key, b.Key))
				}),
			})
		}
	}
	return out
}

func (p *planner) knownBranch(farmID string) string {
	b := p.book.branchID[p.book.farmID[farmID].it.BranchID]
	if b == nil || b.row != 0 {
		return ""
	}
	return b.it.ID
}
