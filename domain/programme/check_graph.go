package programme

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// checkGraph looks at names and arrows: what it finds keeps anything further
// from making sense.
func checkGraph(p Programme) []Problem {
	if out := checkNames(p); len(out) > 0 {
		return out
	}
	order, ring := sorted(p.Milestones)
	if order == nil {
		return []Problem{{ring[0], "after", "cycle", "these wait for each other: " + strings.Join(append(ring, ring[0]), " -> ")}}
	}
	return checkReach(p)
}

func checkNames(p Programme) []Problem {
	var out []Problem
	seen := map[string]bool{}
	for _, m := range p.Milestones {
		switch {
		case m.Key == "":
			out = append(out, Problem{m.Key, "key", "missing", "a milestone has no key"})
		case seen[m.Key]:
			out = append(out, Problem{m.Key, "key", "twice", "this key is used twice"})
		}
		seen[m.Key] = true
	}
	for _, m := range p.Milestones {
		for _, a := range m.After {
			if !seen[a] {
				out = append(out, Problem{m.Key, "after", "unknown", fmt.Sprintf("there is no milestone %q to wait for", a)})
			}
		}
	}
	for field, key := range anchors(p) {
		if !seen[key] {
			out = append(out, Problem{"", field, "unknown", fmt.Sprintf("there is no milestone %q", key)})
		}
	}
	slices.SortStableFunc(out, func(a, b Problem) int { return strings.Compare(a.Key+a.Field, b.Key+b.Field) })
	return out
}

// anchors are the milestones that a programme names for what they mean.
func anchors(p Programme) map[string]string {
	return map[string]string{"start": p.Start, "stocking": p.Stocking, "harvest": p.Harvest}
}

// checkReach wants every milestone to lie before the start, or after
// something that does: any other would hang in the air, with no day to count
// from.
func checkReach(p Programme) []Problem {
	g := graphOf(p.Milestones)
	before := g.upTo(p.Start)
	reached := g.onFrom(before)
	var out []Problem
	for _, m := range p.Milestones {
		if !reached[m.Key] {
			out = append(out, Problem{m.Key, "after", "unreachable", fmt.Sprintf("nothing leads here from %s: say what it waits for", p.Start)})
		}
	}
	after := g.onFrom(map[string]bool{p.Start: true})
	if !after[p.Stocking] {
		out = append(out, Problem{p.Stocking, "after", "unreachable", "stocking must come after " + p.Start})
	}
	if !g.onFrom(map[string]bool{p.Stocking: true})[p.Harvest] {
		out = append(out, Problem{p.Harvest, "after", "unreachable", "the first harvest must come after " + p.Stocking})
	}
	return out
}

// checkPurposes wants at least one purpose to have start, stocking and
// harvest.
func checkPurposes(p Programme) []Problem {
	if p.Offers(GrowOut) || p.Offers(Breeding) {
		return nil
	}
	return []Problem{{"", "purposes", "missing", "no purpose has the start, the stocking and the first harvest"}}
}

// Offers says whether a cycle may run the programme for a purpose: its
// start, stocking and first harvest are all part of it.
func (p Programme) Offers(purpose Purpose) bool {
	for _, key := range anchors(p) {
		i := slices.IndexFunc(p.Milestones, func(m Milestone) bool { return m.Key == key })
		if i < 0 || !p.Milestones[i].isFor(purpose) {
			return false
		}
	}
	return true
}

func (m Milestone) isFor(purpose Purpose) bool {
	return len(m.Purposes) == 0 || slices.Contains(m.Purposes, purpose)
}

// CheckSeason finds what is wrong with a branch's season for a programme. A
// name that the purpose leaves out is no fault; one that no milestone has is.
func CheckSeason(p Programme, s Season) []Problem {
	var out []Problem
	for key, months := range s.NotIn {
		if !slices.ContainsFunc(p.Milestones, func(m Milestone) bool { return m.Key == key }) {
			out = append(out, Problem{key, "not_in", "unknown", "there is no such milestone to keep out of a month"})
		}
		if shut, ok := shutMonths(months); !ok {
			out = append(out, Problem{key, "not_in", "range", "months go from 1 to 12"})
		} else if !slices.Contains(shut[:], false) {
			out = append(out, Problem{key, "not_in", "blocked", "all twelve months are blocked: it could never happen"})
		}
	}
	slices.SortFunc(out, func(a, b Problem) int { return strings.Compare(a.Key+a.Code, b.Key+b.Code) })
	for _, r := range s.Rate {
		if !within(r, 0, 100) {
			return append(out, Problem{"", "rate", "range", "a monthly rate must be between 0 and 100"})
		}
	}
	return out
}

func shutMonths(months []time.Month) (shut [12]bool, ok bool) {
	for _, m := range months {
		if m < time.January || m > time.December {
			return shut, false
		}
		shut[m-1] = true
	}
	return shut, true
}
