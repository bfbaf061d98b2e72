package programme

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"tendfold/domain"
)

// Problem is one thing wrong with a programme as written. Key is the
// milestone ("" = the programme itself) and Field the word of the pack under
// which it stands, so that the reader of the file can add file and line.
// Code is stable; Reason says what to do, in plain English.
type Problem struct {
	Key    string
	Field  string
	Code   string
	Reason string
}

// longestDays bounds what a pack may say of one milestone: ten years.
const longestDays = 3650

// Check finds all that is wrong with a programme as written, for every
// purpose that it offers: none means that Compile will take it.
func Check(p Programme) []Problem {
	var out []Problem
	if p.Pi < 0 || p.Pi > 0.5 || math.IsNaN(p.Pi) {
		out = append(out, Problem{"", "pi", "range", "the chance of outlasting the longest time must be between 0 and 0.5"})
	}
	if p.LagDays < 0 || p.LagDays > longestDays {
		out = append(out, Problem{"", "lag_days", "range", "the days by which reports trail must be between 0 and 3650"})
	}
	out = append(out, checkLimits(p.Limits)...)
	for _, m := range p.Milestones {
		out = append(out, checkMilestone(m)...)
	}
	if graph := checkGraph(p); len(graph) > 0 {
		return append(out, graph...)
	}
	return append(out, checkPurposes(p)...)
}

func checkLimits(l Limits) []Problem {
	var out []Problem
	for field, v := range map[string]float64{"behind": l.Behind, "grace": l.Grace, "tolerance": l.Tolerance, "leave": l.Leave} {
		if !within(v, 0, longestDays) {
			out = append(out, Problem{"", field, "range", "a limit must be between 0 and 3650 days"})
		}
	}
	slices.SortFunc(out, func(a, b Problem) int { return strings.Compare(a.Field, b.Field) })
	return out
}

func within(v, low, high float64) bool { return v >= low && v <= high } // false for NaN

func checkMilestone(m Milestone) []Problem {
	var out []Problem
	say := func(field, code, reason string, args ...any) {
		out = append(out, Problem{m.Key, field, code, fmt.Sprintf(reason, args...)})
	}
	for _, v := range []struct {
		word string
		days float64
	}{{"min", m.Days.Min}, {"likely", m.Days.Likely}, {"max", m.Days.Max}} {
		if !within(v.days, 0, longestDays) {
			say("days", "range", "%s must be between 0 and 3650 days", v.word)
		}
	}
	if m.Days.Min > m.Days.Likely {
		say("days", "order", "min (%g) is more than likely (%g)", m.Days.Min, m.Days.Likely)
	}
	if m.Days.Likely > m.Days.Max {
		say("days", "order", "likely (%g) is more than max (%g)", m.Days.Likely, m.Days.Max)
	}
	if m.Kind != Work && m.Kind != Living {
		say("kind", "unknown", "kind must be work or living, not %q", m.Kind)
	}
	for _, p := range m.Purposes {
		if p != GrowOut && p != Breeding {
			say("purposes", "unknown", "a purpose is grow-out or breeding, not %q", p)
		}
	}
	if m.QuietDays < 0 || m.VisitDays < 0 {
		say("quiet_days", "range", "days allowed without evidence or visit cannot be negative")
	}
	if m.Curve != nil {
		out = append(out, checkCurve(m)...)
	}
	return out
}

func checkCurve(m Milestone) []Problem {
	var out []Problem
	say := func(code, reason string) { out = append(out, Problem{m.Key, "curve", code, reason}) }
	c := m.Curve
	if m.Kind != Living {
		say("kind", "only a living milestone can be read: people's work has no curve")
	}
	if c.Reading != Cover && c.Reading != Weight {
		say("unknown", "a curve is read by cover or weight")
	}
	if !within(c.From, 0, math.MaxFloat32) || !within(c.To, 0, math.MaxFloat32) || c.To <= c.From {
		say("order", "a curve must rise from a lower reading to a higher one, neither negative")
	}
	if !within(c.SD, 0, math.MaxFloat32) || !within(c.CV, 0, 1) || !within(c.SpreadCV, 0, 2) || c.SD+c.CV == 0 {
		say("range", "say how wrong one reading may be: sd or cv must be more than nought (cv at most 1, spread_cv at most 2)")
	}
	if !rises(c.Shape) {
		say("order", "the points of a curve go from (0, 0) to (1, 1) and never back")
	}
	return out
}

// rises says whether the points lead from corner to corner, time strictly
// and share never falling; no points at all stand for the straight line.
func rises(shape []Point) bool {
	if len(shape) == 0 {
		return true
	}
	last := shape[0]
	for _, p := range shape[1:] {
		if !(p.Time > last.Time) || !(p.Share >= last.Share) {
			return false
		}
		last = p
	}
	return shape[0] == Point{} && last == Point{1, 1}
}

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

// refused is the error of a programme that cannot be compiled.
func refused(found []Problem) error {
	fields := make([]domain.Field, len(found))
	for i, f := range found {
		path := "milestones." + f.Key + "." + f.Field
		if f.Key == "" {
			path = f.Field
		}
		fields[i] = domain.Field{Path: path, Code: f.Code, Text: f.Reason}
	}
	return domain.Invalid("programme-wrong", "The programme of the pack cannot be used as written. Correct the lines named below.", fields...)
}
