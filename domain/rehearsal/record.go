package rehearsal

import (
	"fmt"
	"math"
	"slices"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/domain/rehearsal/truth"
	"tendfold/domain/sweep"
)

// record is what the server holds of one farm: the facts of the sweep, grown
// entry by entry.
type record struct {
	script *script
	facts  sweep.Facts
	cycle  *sweep.Cycle
}

// passDays is how long a module stays passed here: longer than a rehearsal,
// for expiry is no fault of the truth.
const passDays = 1200

func newRecord(f *truth.Farm, s *script) *record {
	id := fmt.Sprintf("farm-%d", f.Index)
	r := &record{script: s}
	r.cycle = &sweep.Cycle{
		ID: id + "-cycle", Plan: s.Plan, Baseline: s.Network.Baseline(f.Start, s.Draws),
		Known: programme.Known{Start: f.Start, Done: map[string]calendar.Date{}}, Marks: map[string]sweep.Mark{},
	}
	r.facts = sweep.Facts{
		FarmID: id, Watched: true, Status: farm.Active, IntakeOn: f.Start, HandedOver: f.Start,
		Caretakers: []sweep.Caretaker{{PersonID: id + "-caretaker", InCharge: true}},
		Units:      []sweep.Unit{{ID: id + "-unit", HandedOver: f.Start, Plan: s.Plan, Cycle: r.cycle}},
	}
	return r
}

// take writes one entry into the facts, as the server would.
func (r *record) take(e truth.Entry) {
	r.news(e.Stated)
	switch e.Sort {
	case truth.StepDone:
		r.done(e)
	case truth.Looked:
		r.read(programme.Reading{Kind: programme.Cover, On: e.Stated, Value: e.Value})
	case truth.Weighed:
		r.read(programme.Reading{Kind: programme.Weight, On: e.Stated, Value: e.Value, N: e.N, SD: e.SD})
	case truth.Verified:
		r.verify(e)
	case truth.Visit:
		r.facts.Visits = insert(r.facts.Visits, e.Stated)
	case truth.Daybook, truth.Call:
	}
}

func (r *record) news(on calendar.Date) {
	r.facts.Evidence = insert(r.facts.Evidence, on)
	r.cycle.Known.LastEvidence = r.facts.Evidence
}

// insert keeps days ascending and each once.
func insert(days []calendar.Date, on calendar.Date) []calendar.Date {
	i, found := slices.BinarySearch(days, on)
	if found {
		return days
	}
	return slices.Insert(days, i, on)
}

func (r *record) done(e truth.Entry) {
	r.cycle.Known.Done[r.script.milestone[e.Step]] = e.Stated
	switch e.Step {
	case truth.Stocked:
		r.cycle.Known.StockedG = e.Value
	case truth.Trained:
		r.pass(e.Stated)
	}
}

// pass notes every module that the pack asks for.
func (r *record) pass(on calendar.Date) {
	c := &r.facts.Caretakers[0]
	c.Passes = nil
	for _, m := range r.script.Modules {
		c.Passes = append(c.Passes, sweep.Pass{Enterprise: r.script.Programme.Enterprise, Module: m, On: on, Until: on.Add(passDays)})
	}
}

// read adds a reading; a second one of the same day takes its place.
func (r *record) read(x programme.Reading) {
	k := &r.cycle.Known
	i := slices.IndexFunc(k.Readings, func(o programme.Reading) bool { return o.Kind == x.Kind && o.On == x.On })
	if i >= 0 {
		k.Readings[i] = x
		return
	}
	k.Readings = append(k.Readings, x)
}

// verify marks the stated share of the items of every go-ahead.
func (r *record) verify(e truth.Entry) {
	for _, g := range r.script.GoAheads {
		n := int(math.Ceil(e.Value * float64(len(g.Items))))
		for _, item := range g.Items[:min(n, len(g.Items))] {
			if _, marked := r.cycle.Marks[item.Item]; !marked {
				r.cycle.Marks[item.Item] = sweep.Mark{Answer: farm.Yes, Grade: farm.StaffSaw, On: e.Stated}
			}
		}
	}
}

// knows says whether the server knows the step done by a day.
func (r *record) knows(step string, on calendar.Date) bool {
	d, ok := r.cycle.Known.Done[r.script.milestone[step]]
	return ok && d <= on
}
