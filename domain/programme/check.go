package programme

import (
	"fmt"
	"math"
	"slices"
	"strings"

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
	if !within(c.ScaleCV, 0, c.CV) || !within(c.Carry, 0, 0.99) {
		say("range", "scale_cv is a part of cv, and carry a correlation from 0 to 0.99")
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
		if onward := p.Time > last.Time && p.Share >= last.Share; !onward {
			return false // also where a point is no number
		}
		last = p
	}
	return shape[0] == Point{} && last == Point{1, 1}
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
