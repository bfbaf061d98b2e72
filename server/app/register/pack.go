package register

import (
	"slices"
	"time"

	"tendfold/checklists"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/server/app"
)

// trainedMilestone is the key that packs give to the milestone which the
// column trained_on marks; a pack without it has none to mark.
const trainedMilestone = "caretaker-trained"

// dated are the columns whose date marks a milestone of the pack.
func dated(p *checklists.Pack, r Row) []app.Milestone {
	all := []app.Milestone{
		doneOn(p.Programme.Start, r.StartedOn),
		doneOn(trainedMilestone, r.TrainedOn),
		doneOn(p.Programme.Stocking, r.StockedOn),
		doneOn(p.Programme.Harvest, r.FirstHarvestOn),
	}
	return slices.DeleteFunc(all, func(m app.Milestone) bool { return m.DoneOn.IsZero() })
}

// doneOn is a milestone done on a day that the register gives.
func doneOn(key string, on calendar.Date) app.Milestone {
	return app.Milestone{Window: programme.Window{Key: key}, DoneOn: on, Grade: farm.Register}
}

// columnOf is the column that a milestone of dated came from.
func columnOf(p *checklists.Pack, key string) Column {
	switch key {
	case p.Programme.Start:
		return ColStarted
	case p.Programme.Stocking:
		return ColStocked
	case p.Programme.Harvest:
		return ColHarvest
	}
	return ColTrained
}

// species is the pack's entry for a key, the first when none is named or the
// name is not one of the pack's; false when the pack has none at all.
func species(p *checklists.Pack, key string) (checklists.Species, bool) {
	if i := slices.IndexFunc(p.Species, func(s checklists.Species) bool { return s.Key == key }); i >= 0 {
		return p.Species[i], true
	}
	if len(p.Species) == 0 {
		return checklists.Species{}, false
	}
	return p.Species[0], true
}

// purposeOf is the purpose that a row means: its own when the pack has it,
// else the pack's first.
func purposeOf(p *checklists.Pack, said programme.Purpose) programme.Purpose {
	if slices.Contains(p.Purposes, said) || len(p.Purposes) == 0 {
		return said
	}
	return p.Purposes[0]
}

// span is how many days the pack's network needs from one milestone to
// another: the longest path at each corner of the durations.
type span struct{ min, likely, max float64 }

// route is the question that a span answers.
type route struct {
	enterprise string
	purpose    programme.Purpose
	from, to   string
}

// spanOf follows the network back from r.to; false when r.from does not lead
// there.
func spanOf(p programme.Programme, r route) (span, bool) {
	byKey := map[string]programme.Milestone{}
	for _, m := range p.Milestones {
		byKey[m.Key] = m
	}
	seen := map[string]*span{}
	var back func(key string) *span
	back = func(key string) *span {
		if key == r.from {
			return &span{}
		}
		if s, known := seen[key]; known {
			return s
		}
		seen[key] = nil
		m, own := byKey[key], span{}
		if len(m.Purposes) == 0 || slices.Contains(m.Purposes, r.purpose) {
			own = span{m.Days.Min, m.Days.Likely, m.Days.Max}
		}
		for _, a := range m.After {
			seen[key] = longer(seen[key], back(a), own)
		}
		return seen[key]
	}
	s := back(r.to)
	if s == nil {
		return span{}, false
	}
	return *s, true
}

func longer(best, before *span, own span) *span {
	if before == nil {
		return best
	}
	s := span{before.min + own.min, before.likely + own.likely, before.max + own.max}
	if best != nil {
		s = span{max(s.min, best.min), max(s.likely, best.likely), max(s.max, best.max)}
	}
	return &s
}

// preceding are the milestones that must be done before key.
func preceding(p programme.Programme, key string, purpose programme.Purpose) []string {
	var found []string
	var walk func(string)
	walk = func(key string) {
		i := slices.IndexFunc(p.Milestones, func(m programme.Milestone) bool { return m.Key == key })
		if i < 0 {
			return
		}
		for _, a := range p.Milestones[i].After {
			if !slices.Contains(found, a) {
				found = append(found, a)
				walk(a)
			}
		}
	}
	walk(key)
	return slices.DeleteFunc(found, func(k string) bool { return !has(p, k, purpose) })
}

// has says whether a cycle of this purpose has the milestone.
func has(p programme.Programme, key string, purpose programme.Purpose) bool {
	return slices.ContainsFunc(p.Milestones, func(m programme.Milestone) bool {
		return m.Key == key && (len(m.Purposes) == 0 || slices.Contains(m.Purposes, purpose))
	})
}

// passes are what a day of training gives a person: every module that a
// go-ahead of the pack asks for, until its months are over.
func passes(p *checklists.Pack, personID string, on calendar.Date) []app.Pass {
	var out []app.Pass
	for _, m := range p.Modules {
		if len(m.GoAheads) > 0 {
			until := calendar.NewDate(on.Year(), on.Month()+time.Month(m.Months), on.Day())
			out = append(out, app.Pass{PersonID: personID, Enterprise: p.Enterprise, Module: m.Key, On: on, Until: until, How: string(farm.Register)})
		}
	}
	return out
}
