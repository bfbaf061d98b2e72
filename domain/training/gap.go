package training

import "tendfold/domain/calendar"

// Kind of a gap.
type Kind string

// The kinds of gaps. A module that lapses soon is still held.
const (
	NeverPassed Kind = "missing"
	Lapsed      Kind = "lapsed"
	Lapsing     Kind = "lapsing"
)

// Gap is a required module that a person lacks, or soon will.
type Gap struct {
	Module string        `json:"module"`
	Kind   Kind          `json:"kind"`
	Until  calendar.Date `json:"until"` // last day of validity; none when never passed
	Days   int           `json:"days"`  // since Until when lapsed, left until it when lapsing
}

// Lacking says whether the module does not count today.
func (g Gap) Lacking() bool { return g.Kind != Lapsing }

// Missing is what a person with these passes lacks on the day, in the order
// of required. A module that ends in fewer than soon days is lapsing; soon 0
// leaves those out. Passes of a later day do not count.
func Missing(required []string, passes []Pass, on calendar.Date, soon int) []Gap {
	var out []Gap
	for _, m := range required {
		if g, ok := gap(m, passes, on, soon); ok {
			out = append(out, g)
		}
	}
	return out
}

func gap(module string, passes []Pass, on calendar.Date, soon int) (Gap, bool) {
	passed, until := latest(module, passes, on)
	left := until.Sub(on)
	switch {
	case !passed:
		return Gap{Module: module, Kind: NeverPassed}, true
	case left < 0:
		return Gap{Module: module, Kind: Lapsed, Until: until, Days: -left}, true
	case left < soon:
		return Gap{Module: module, Kind: Lapsing, Until: until, Days: left}, true
	default:
		return Gap{}, false
	}
}

// latest is the last day of validity over all passes known on the day: an
// early refresher never shortens what was there.
func latest(module string, passes []Pass, on calendar.Date) (passed bool, until calendar.Date) {
	for _, p := range passes {
		if p.Module == module && p.PassedOn <= on {
			until = max(until, p.ValidUntil)
			passed = true
		}
	}
	return passed, until
}
