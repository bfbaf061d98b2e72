package programme

import (
	"math"
	"slices"
	"sort"

	"tendfold/domain/calendar"
)

// sight is what is known of a cycle on a day: which milestones are done and
// when, which pauses count, and up to which day the silence of the evidence
// says "not yet".
type sight struct {
	net      *Network
	known    Known
	on       calendar.Date
	states   []State
	fixed    []float64 // day on which a done (or assumed) milestone is done
	isFixed  []bool
	bound    []float64 // of an implied one: it was done by then
	stops    []stop
	undoneTo float64 // what was undone on the last evidence was undone on this day; -Inf = nothing heard
}

func (n *Network) look(k Known, on calendar.Date, assume map[string]calendar.Date) *sight {
	v := &sight{
		net: n, known: k, on: on, stops: stopsOn(k.Pauses, on), undoneTo: math.Inf(-1),
		states: make([]State, len(n.nodes)), isFixed: make([]bool, len(n.nodes)),
	}
	days := make([]float64, 2*len(n.nodes))
	v.fixed, v.bound = days[:len(n.nodes)], days[len(n.nodes):]
	if heard := v.lastEvidence(); !heard.IsZero() {
		v.undoneTo = float64(heard.Add(-n.programme.LagDays))
	}
	v.markDone()
	v.markImplied()
	v.markOpen()
	for key, day := range assume {
		if i, ok := n.index[key]; ok && v.states[i] != Done {
			v.fixed[i], v.isFixed[i] = float64(day), true
		}
	}
	return v
}

// lastEvidence is the last day up to today with evidence of any kind.
func (v *sight) lastEvidence() calendar.Date {
	days := v.known.LastEvidence
	i := sort.Search(len(days), func(i int) bool { return days[i] > v.on })
	if i == 0 {
		return 0
	}
	return days[i-1]
}

// notHeardSince is the last evidence when it is older than a report's usual
// lag, else zero.
func (v *sight) notHeardSince() calendar.Date {
	last := v.lastEvidence()
	if last.IsZero() {
		return v.known.Start
	}
	if v.on.Sub(last) <= v.net.programme.LagDays {
		return 0
	}
	return last
}

func (v *sight) markDone() {
	for i := range v.net.nodes {
		x := &v.net.nodes[i]
		day, ok := v.known.Done[x.Key]
		switch {
		case ok && !day.IsZero() && day <= v.on:
			v.states[i], v.fixed[i], v.isFixed[i] = Done, float64(day), true
		case x.early:
			v.states[i], v.fixed[i], v.isFixed[i] = Done, float64(v.known.Start), true
		}
	}
}

// markImplied goes backwards: what a done milestone waited for must be done
// too, at the latest on that one's day.
func (v *sight) markImplied() {
	for i := range v.bound {
		v.bound[i] = math.Inf(1)
	}
	for i, v0 := range slices.Backward(v.net.nodes) {
		by := v.bound[i]
		switch v.states[i] {
		case Done:
			by = v.fixed[i]
		case Implied:
		default:
			continue
		}
		for _, a := range v0.after {
			v.bound[a] = min(v.bound[a], by)
			if v.states[a] != Done {
				v.states[a] = Implied
			}
		}
	}
}

func (v *sight) markOpen() {
	for i := range v.net.nodes {
		if v.states[i] != "" {
			continue
		}
		v.states[i] = Open
		for _, a := range v.net.nodes[i].after {
			if s := v.states[a]; s != Done && s != Implied {
				v.states[i] = Ahead
			}
		}
	}
}

// waited is how long, on its clock, milestone i is known to have taken by
// now when it started on a day. While its months are shut, "not yet" says
// nothing: it may be ready and waiting.
func (v *sight) waited(i int, c clock, start float64) float64 {
	if v.undoneTo <= start {
		return 0
	}
	to := v.net.nodes[i].gate.closing(v.undoneTo)
	return max(0, c.count(to)-c.count(start))
}
