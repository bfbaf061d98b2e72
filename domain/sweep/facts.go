// Package sweep owns the rules: from a farm's facts on a day to findings,
// from findings and their clocks to changes of tickets. Everything in it is
// a pure function of what is handed in.
package sweep

import (
	"slices"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/domain/ticket"
)

// Facts is what is known of one farm. Everything carries the civil day that
// it states; functions that are asked about a day leave out what is later.
type Facts struct {
	FarmID     string
	BranchID   string
	Watched    bool
	Status     farm.Status
	IntakeOn   calendar.Date
	HandedOver calendar.Date   // the latest of its units', zero when unknown
	Evidence   []calendar.Date // days with news of any kind, ascending; the last one before the window at least
	Visits     []calendar.Date // days of visits that took place, ascending
	Caretakers []Caretaker
	Units      []Unit
	Snags      []Snag
}

// Caretaker is a person who works on the farm.
type Caretaker struct {
	PersonID string
	InCharge bool
	Since    calendar.Date // zero when unknown
	Passes   []Pass
}

// Pass is a module passed by a caretaker.
type Pass struct {
	Enterprise string
	Module     string
	On         calendar.Date
	Until      calendar.Date // last day of validity
}

// Unit is one enclosure with the cycle that runs on it, if any.
type Unit struct {
	ID           string
	HandedOver   calendar.Date
	DefectsUntil calendar.Date // last day of the defects period, zero when none is known
	Plan         *Plan         // of the unit's enterprise, also between cycles
	Cycle        *Cycle
}

// Snag is a fault of the build.
type Snag struct {
	UnitID string
	Found  calendar.Date
	Fixed  calendar.Date
}

// Cycle is a running cycle: the plan it follows and what is known of it.
type Cycle struct {
	ID       string
	Plan     *Plan
	Baseline programme.Baseline
	Known    programme.Known
	Marks    map[string]Mark
	Was      programme.Standing // the schedule standing it was in, which it leaves only below the limit
	HoldUp   string             // by the last account of its losses; it stands on days without a new one
}

// Mark is the state of one checklist item.
type Mark struct {
	Answer farm.Answer // yes, no; NotNeeded
	Grade  farm.Grade
	On     calendar.Date
}

// NotNeeded marks an item that does not apply to this unit.
const NotNeeded farm.Answer = "not-needed"

// Plan is what a pack says about one kind of cycle in one branch. It is
// shared by all cycles of that kind and never changed.
type Plan struct {
	Programme programme.Programme
	Network   *programme.Network
	Draws     *programme.Draws
	Rules     map[string]RuleFigures
	GoAheads  []GoAhead
	Modules   []string     // that a caretaker in charge must have once animals live there
	Handover  []VisitStage // visit intervals that count from the handover
}

// VisitStage says that up to Days after the handover visits are Every days
// apart.
type VisitStage struct {
	Days  int
	Every int
}

// GoAhead is what must hold before a milestone may be marked.
type GoAhead struct {
	Key       string
	Milestone string
	Items     []Requirement
	Modules   []string
	Limits    []Limit
	LeadDays  int // days before the window opens from which a gap is a finding
}

// Limit is a range in which the latest reading of a kind must lie; a reading
// older than Fresh days does not count (0 = any age). A nil end is open.
type Limit struct {
	Reading string
	Low     *float64
	High    *float64
	Fresh   int
}

// Met says whether the latest reading known on the day lies in the range.
func (l Limit) Met(readings []programme.Reading, on calendar.Date) bool {
	var latest programme.Reading
	for _, r := range readings {
		if r.Kind == l.Reading && r.On <= on && r.On >= latest.On {
			latest = r
		}
	}
	if latest.On == 0 || (l.Fresh > 0 && on.Sub(latest.On) > l.Fresh) {
		return false
	}
	return (l.Low == nil || latest.Value >= *l.Low) && (l.High == nil || latest.Value <= *l.High)
}

// Requirement is an item and the grades of evidence that suffice.
type Requirement struct {
	Item     string
	Grades   []farm.Grade // empty = any
	Optional bool         // "not needed" is an answer too
}

// Met says whether the marks known on the day satisfy the requirement.
func (r Requirement) Met(marks map[string]Mark, on calendar.Date) bool {
	m, ok := marks[r.Item]
	if !ok || m.On > on {
		return false
	}
	if m.Answer == NotNeeded {
		return r.Optional
	}
	return m.Answer == farm.Yes && (len(r.Grades) == 0 || slices.Contains(r.Grades, m.Grade))
}

// Key is what makes a finding, and its ticket, one.
type Key = ticket.Key

// before reports the last date not after on, or zero; dates ascend.
func before(dates []calendar.Date, on calendar.Date) calendar.Date {
	i, found := slices.BinarySearch(dates, on)
	if found {
		return on
	}
	if i == 0 {
		return 0
	}
	return dates[i-1]
}

// LastHeard is the day from which quiet is counted: the last evidence or
// visit, else the later of handover and intake. Zero when that lies ahead.
func (f *Facts) LastHeard(on calendar.Date) calendar.Date {
	last := max(before(f.Evidence, on), before(f.Visits, on))
	if last == 0 {
		last = max(f.HandedOver, f.IntakeOn)
	}
	if last > on {
		return 0
	}
	return last
}

// LastVisit is the day from which visit intervals are counted.
func (f *Facts) LastVisit(on calendar.Date) calendar.Date {
	if v := before(f.Visits, on); v != 0 {
		return v
	}
	if v := max(f.HandedOver, f.IntakeOn); v <= on {
		return v
	}
	return 0
}
