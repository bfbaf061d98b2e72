package app

import (
	"context"
	"time"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/domain/sweep"
	"tendfold/domain/ticket"
)

// FactRows is everything that the rules read of some farms, as the store
// keeps it. Every list is in the order of its farms; the loader walks them
// side by side.
type FactRows struct {
	Farms      []FactFarm
	Units      []FactUnit
	Cycles     []FactCycle
	Milestones []FactMilestone
	Pauses     []FactPause
	Marks      []FactMark
	Readings   []FactReading
	Evidence   []FactDay // the days after Since, and the last one up to it
	Visits     []FactDay // days of visits that took place
	Work       []FactWork
	Passes     []FactPass
	Snags      []FactSnag
	Clocks     []sweep.Clock
	Tickets    []TicketFact // open, or settled since SettledSince
}

// The rows of FactRows: only what the rules read.
type (
	FactFarm struct {
		ID, BranchID    string
		Status          farm.Status
		Watched, Intake calendar.Date
		SweptOn         calendar.Date
		Standing        programme.Standing
		OwnSlip         int
		Changes         int // how often its facts were changed
	}
	FactUnit struct {
		FarmID, ID, Enterprise string
		HandedOver             calendar.Date
		DefectsMonths          int
	}
	FactCycle struct {
		FarmID, ID, UnitID, Enterprise, Purpose, StartsWith string
		Started                                             calendar.Date
		Entered                                             programme.Standing
		EnteredOn                                           calendar.Date
		HoldUp                                              string
		Hash                                                uint64
		StockedG                                            float64 // mean weight of its first batch
	}
	FactMilestone struct {
		FarmID, CycleID string
		programme.Window
		Done calendar.Date
	}
	FactPause struct {
		FarmID string
		Pause
	}
	FactMark struct {
		FarmID, CycleID, Item string
		sweep.Mark
	}
	FactReading struct {
		FarmID, CycleID string
		programme.Reading
	}
	FactDay struct {
		FarmID string
		On     calendar.Date
	}
	FactWork struct {
		FarmID, PersonID string
		InCharge         bool
		Since            calendar.Date
	}
	FactPass struct {
		FarmID, PersonID, Enterprise, Module string
		On, Until                            calendar.Date
	}
	FactSnag struct {
		FarmID, UnitID string
		Found, Fixed   calendar.Date
	}
)

// FactQuery asks for the facts of one farm, or of a page of farms that have a
// running cycle, in order of their ids after After.
type FactQuery struct {
	FarmID       string
	After        string
	Limit        int
	On           calendar.Date // what is dated later is not read
	Since        calendar.Date // evidence days after this one are all read
	SettledSince calendar.Date
}

// factStore reads facts in bulk.
type factStore interface {
	FactRows(ctx context.Context, q FactQuery) (FactRows, error)
}

// Loaded is a farm as the sweep needs it: the facts, the memory of the last
// sweep, and the tickets.
type Loaded struct {
	FactFarm
	Facts   sweep.Facts
	Memory  sweep.Memory
	Tickets []ticket.Ticket
	Touched map[string]TicketFact
	Hashes  map[string]uint64        // of the outlook last written, by cycle
	Entered map[string]calendar.Date // day on which a cycle entered its standing by dates
}

// evidenceWindow is how many days of evidence the rules may look back on, day
// by day; before that only the last one counts.
const evidenceWindow = 60

// settledWindow is how long a settled ticket is remembered: longer than the
// rest of any rule but the longest, and than the ninety days of "keeps
// coming back".
const settledWindow = 400

func factQuery(on calendar.Date) FactQuery {
	return FactQuery{On: on, Since: on.Add(-evidenceWindow), SettledSince: on.Add(-settledWindow), Limit: factPage}
}

// factPage is how many farms are loaded at once.
const factPage = 1000

// defectsUntil is the last day of a unit's defects period.
func defectsUntil(handedOver calendar.Date, months int) calendar.Date {
	if handedOver == 0 || months == 0 {
		return 0
	}
	return addMonths(handedOver, months).Add(-1)
}

// TicketFact is a ticket with when a person last touched it.
type TicketFact struct {
	ticket.Ticket
	TouchedAt time.Time
}
