// Package visit owns which farms need a visit and why: points with reasons,
// what must be gone to whatever the points, the order that follows, what is
// to be done there, and what a visit took away.
package visit

import (
	"tendfold/domain/calendar"
	"tendfold/domain/programme"
	"tendfold/domain/ticket"
)

// Facts is what is known of a farm on a day, as far as a visit is concerned.
// Nothing in it is later than On.
type Facts struct {
	FarmID string
	Town   string
	On     calendar.Date

	// Schedule is the worst standing of the farm's cycles by dates alone, so
	// that a silent or paused farm still tells that it is behind; Since is
	// the day on which it was entered.
	Schedule programme.Standing
	Since    calendar.Date
	OwnSlip  int    // days, the worst of its cycles'; below 0 is early
	LateDays int    // days by which the milestone that is next is past its target
	Late     string // that milestone
	HoldUp   string // milestone that costs the harvest most, "" when none

	GoAheads []GoAhead

	LastVisit calendar.Date // else handover or intake; zero when unknown
	EveryDays int           // days between visits that the stage asks for, 0 = none

	Snags      []Snags
	Caretakers []Caretaker
	StockedOn  calendar.Date // day from which animals live there, zero when none do

	LastHeard calendar.Date // zero when unknown
	QuietDays int           // days without news that the stage allows, 0 = any

	Promises []Promise
	Requests []Request
	Tickets  []Ticket
}

// GoAhead is one that lacks items for which a person of the firm must stand
// there, its window being open or opening within the pack's lead days.
type GoAhead struct {
	Key       string
	UnitID    string
	Milestone string
	Items     []string      // what a person must see, at least one
	Opens     calendar.Date // the window; P10 of the forecast
	Since     calendar.Date // day from which the newest lack counts
}

// Snags are a unit's open snags and the last day on which the builder owes
// their mending, zero when no defects period was agreed.
type Snags struct {
	UnitID string
	Open   int
	Newest calendar.Date // day on which the newest of them was found
	Until  calendar.Date
}

// Caretaker is one who works on the farm.
type Caretaker struct {
	PersonID string
	InCharge bool
	Began    calendar.Date // zero when unknown
	Lacks    []string      // required modules missing or lapsed
	Since    calendar.Date // day from which the newest lack counts, zero when unknown
}

// Promise is an open promise of a visit.
type Promise struct {
	ID    string
	Text  string
	Made  calendar.Date
	DueOn calendar.Date
}

// Request is an owner's open wish for a visit.
type Request struct {
	ID   string
	Text string
	On   calendar.Date
}

// Ticket is an open ticket of the farm. Since is the day on which it was
// opened, reopened, or last became worse or more urgent.
type Ticket struct {
	ID      string
	Number  string
	Rule    string // "" when a person opened it
	Urgency ticket.Urgency
	Since   calendar.Date
}
