package app

import (
	"slices"

	"tendfold/domain/calendar"
	"tendfold/domain/programme"
	"tendfold/domain/sweep"
	"tendfold/domain/visit"
)

// needFarm is all that is known of one farm for its visit need.
type needFarm struct {
	NeedFarm
	on       calendar.Date
	units    []FactUnit
	cycles   []needCycle
	marks    map[string]map[string]sweep.Mark // by cycle and item, where a go-ahead is near
	short    []NeedShort
	snags    []FactSnag
	work     []FactWork
	passes   []FactPass
	promises []Promise
	requests []VisitRequest
	tickets  []NeedTicket
	dealt    []visit.Dealt
	events   map[string][]TicketEvent // by ticket
	planned  []Visit
}

// going are the cycles that have something left to do, with their rules; one
// whose pack is not installed is left out.
func (f *needFarm) going(rules rulesOf) []goingCycle {
	var out []goingCycle
	for i := range f.cycles {
		c := &f.cycles[i]
		if r := rules(c.Enterprise, c.Purpose, f.BranchID); r != nil && c.Standing != programme.Complete {
			out = append(out, goingCycle{c, r})
		}
	}
	return out
}

type goingCycle struct {
	*needCycle
	rules *needRules
}

// facts are the farm's facts for a visit.
func (f *needFarm) facts(rules rulesOf) visit.Facts {
	v := visit.Facts{FarmID: f.ID, Town: f.Town, On: f.on, LastHeard: f.heard(), LastVisit: f.lastVisit()}
	for i, c := range f.going(rules) {
		f.addSchedule(&v, c.needCycle, i == 0)
		f.addStage(&v, c)
		f.addGoAheads(&v, c)
	}
	f.addSnags(&v)
	f.addPeople(&v, rules)
	for _, p := range f.promises {
		v.Promises = append(v.Promises, visit.Promise{ID: p.ID, Text: p.Text, Made: p.MadeOn, DueOn: p.DueOn})
	}
	for _, r := range f.requests {
		v.Requests = append(v.Requests, visit.Request{ID: r.ID, Text: r.Text, On: r.On})
	}
	for _, t := range f.tickets {
		v.Tickets = append(v.Tickets, visit.Ticket{
			ID: t.ID, Number: t.Number, Rule: t.Rule, Urgency: t.Urgency, Since: t.since(f.events[t.ID]),
		})
	}
	return v
}

// began is the day from which quiet and visits count where there was none
// yet: the later of intake and handover.
func (f *needFarm) began() calendar.Date {
	on := f.IntakeOn
	for _, u := range f.units {
		on = max(on, u.HandedOver)
	}
	if on > f.on {
		return 0
	}
	return on
}

func (f *needFarm) heard() calendar.Date {
	if last := max(f.Heard, f.Visited); last != 0 {
		return last
	}
	return f.began()
}

func (f *needFarm) lastVisit() calendar.Date {
	if f.Visited != 0 {
		return f.Visited
	}
	return f.began()
}

// lateRank orders the standings by dates, the latest first; one that is not
// known yet is last.
func lateRank(s programme.Standing) int {
	order := []programme.Standing{programme.Behind, programme.Slipping, programme.OnCourse, ""}
	return slices.Index(order, s)
}

// addSchedule takes the cycle's lateness where it is the farm's worst.
func (f *needFarm) addSchedule(v *visit.Facts, c *needCycle, first bool) {
	switch mine, worst := lateRank(c.Schedule), lateRank(v.Schedule); {
	case mine < worst:
		v.Schedule, v.Since = c.Schedule, c.EnteredOn
	case mine == worst: // another unit that is late is another reason to come
		v.Since = max(v.Since, c.EnteredOn)
	}
	if first || c.OwnSlip > v.OwnSlip {
		v.OwnSlip, v.HoldUp = c.OwnSlip, c.HoldUp
	}
	for _, m := range c.Milestones { // where several are under way, all of them are next
		if days := v.On.Sub(m.Target); m.State == programme.Open && m.Target != 0 && days > v.LateDays {
			v.LateDays, v.Late = days, m.Key
		}
	}
}

// addStage takes what the cycle's stage asks for where it is the strictest.
func (f *needFarm) addStage(v *visit.Facts, c goingCycle) {
	least := func(have, days int) int {
		if days > 0 && (have == 0 || days < have) {
			return days
		}
		return have
	}
	since := -1
	for _, u := range f.units {
		if u.ID == c.UnitID && u.HandedOver != 0 && u.HandedOver <= v.On {
			since = v.On.Sub(u.HandedOver)
		}
	}
	v.EveryDays = least(v.EveryDays, c.rules.pack.VisitEvery(c.Next, since))
	v.QuietDays = least(v.QuietDays, c.rules.quiet[c.Next])
	if on, living := c.stocked(); living && (v.StockedOn == 0 || on < v.StockedOn) {
		v.StockedOn = on
	}
}

// stocked is the day from which animals live there. Where a later milestone
// implies the stocking, it is the likeliest day.
func (c goingCycle) stocked() (calendar.Date, bool) {
	for _, m := range c.Milestones {
		if m.Key != c.rules.pack.Programme.Stocking {
			continue
		}
		switch m.State {
		case programme.Done:
			return m.DoneOn, true
		case programme.Implied:
			return max(m.P50, c.Started), true
		case programme.Open, programme.Ahead:
		}
	}
	return 0, false
}

// shortSince is the day from which a go-ahead that is near counts as short:
// as the sweep remembers it, else when its window came near.
func (f *needFarm) shortSince(cycleID string, g sweep.GoAhead, opens calendar.Date) calendar.Date {
	for _, s := range f.short {
		if s.CycleID == cycleID && s.GoAhead == g.Key {
			return s.Since
		}
	}
	return opens.Add(-g.LeadDays)
}

// near are the go-aheads whose window is open or opens within their lead
// days, with the day on which it opens.
func (c goingCycle) near(on calendar.Date) map[string]calendar.Date {
	out := map[string]calendar.Date{}
	for _, g := range c.rules.plan.GoAheads {
		for _, m := range c.Milestones {
			if m.Key == g.Milestone && (m.State == programme.Open || m.State == programme.Ahead) && m.P10 != 0 && m.P10.Sub(on) <= g.LeadDays {
				out[g.Key] = m.P10
			}
		}
	}
	return out
}

// addGoAheads adds the go-aheads that lack what a person of the firm must see.
func (f *needFarm) addGoAheads(v *visit.Facts, c goingCycle) {
	near := c.near(v.On)
	if len(near) == 0 {
		return
	}
	marks := f.marks[c.ID]
	for _, g := range c.rules.plan.GoAheads {
		opens, ok := near[g.Key]
		if !ok {
			continue
		}
		lack := visit.GoAhead{Key: g.Key, UnitID: c.UnitID, Milestone: g.Milestone, Opens: opens, Since: f.shortSince(c.ID, g, opens)}
		for _, item := range g.Items {
			if c.rules.inPerson[item.Item] && !item.Met(marks, v.On) {
				lack.Items = append(lack.Items, item.Item)
				lack.Since = max(lack.Since, marks[item.Item].On)
			}
		}
		if len(lack.Items) > 0 {
			v.GoAheads = append(v.GoAheads, lack)
		}
	}
}

func (f *needFarm) addSnags(v *visit.Facts) {
	for _, u := range f.units {
		n := visit.Snags{UnitID: u.ID, Until: defectsUntil(u.HandedOver, u.DefectsMonths)}
		for _, s := range f.snags {
			if s.UnitID == u.ID {
				n.Open++
				n.Newest = max(n.Newest, s.Found)
			}
		}
		if n.Open > 0 {
			v.Snags = append(v.Snags, n)
		}
	}
}
