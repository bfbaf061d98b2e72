package app

import (
	"slices"

	"tendfold/domain/calendar"
	"tendfold/domain/ticket"
	"tendfold/domain/visit"
)

// addPeople adds the caretakers and what they lack: what the go-aheads near
// ask for, and once animals live there what must be known about them.
func (f *needFarm) addPeople(v *visit.Facts, rules rulesOf) {
	needed := f.modules(v.On, rules)
	for _, w := range f.work {
		if w.Since > v.On {
			continue
		}
		c := visit.Caretaker{PersonID: w.PersonID, InCharge: w.InCharge, Began: w.Since}
		for m, from := range needed {
			last, holds := f.pass(w.PersonID, m, v.On)
			if holds {
				continue
			}
			c.Lacks = append(c.Lacks, m.Module)
			c.Since = max(c.Since, from, w.Since)
			if last != 0 {
				c.Since = max(c.Since, last.Add(1))
			}
		}
		slices.Sort(c.Lacks)
		v.Caretakers = append(v.Caretakers, c)
	}
}

// modules are those that a caretaker in charge needs, with the day from which
// each is needed.
func (f *needFarm) modules(on calendar.Date, rules rulesOf) map[ModuleKey]calendar.Date {
	out := map[ModuleKey]calendar.Date{}
	need := func(enterprise, module string, from calendar.Date) {
		m := ModuleKey{enterprise, module}
		if old, ok := out[m]; !ok || from < old {
			out[m] = from
		}
	}
	for _, c := range f.going(rules) {
		if from, living := c.stocked(); living {
			for _, m := range c.rules.plan.Modules {
				need(c.Enterprise, m, from)
			}
		}
		near := c.near(on)
		for _, g := range c.rules.plan.GoAheads {
			if opens, ok := near[g.Key]; ok {
				for _, m := range g.Modules {
					need(c.Enterprise, m, f.shortSince(c.ID, g, opens))
				}
			}
		}
	}
	return out
}

// pass says whether a person holds a module of an enterprise on a day, else until when last.
func (f *needFarm) pass(personID string, m ModuleKey, on calendar.Date) (last calendar.Date, holds bool) {
	for _, p := range f.passes {
		if p.PersonID != personID || p.Enterprise != m.Enterprise || p.Module != m.Module || p.On > on {
			continue
		}
		if on <= p.Until {
			return p.Until, true
		}
		last = max(last, p.Until)
	}
	return last, false
}

// since is the day on which the ticket last became something new: opened,
// reopened, worse, or more urgent.
func (t NeedTicket) since(events []TicketEvent) calendar.Date {
	since := t.Opened
	for _, on := range t.Reopened {
		since = max(since, on)
	}
	for _, e := range events {
		if e.Kind == ticket.Worse || moreUrgent(e.Data) {
			since = max(since, e.On)
		}
	}
	return since
}

func moreUrgent(data map[string]any) bool {
	was, ok1 := data["was"].(string)
	is, ok2 := data["urgency"].(string)
	return ok1 && ok2 && ticket.Urgency(is).Above(ticket.Urgency(was))
}
