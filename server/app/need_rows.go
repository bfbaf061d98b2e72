package app

import (
	"context"
	"encoding/json"

	"tendfold/domain/calendar"
	"tendfold/domain/programme"
	"tendfold/domain/ticket"
	"tendfold/domain/visit"
)

// NeedQuery asks for what the visit need of watched farms reads: of one farm,
// of a branch, or of all in a scope. Closed farms need no visit.
type NeedQuery struct {
	FarmID string
	Branch string
	On     calendar.Date // what is dated later is not read
	Since  calendar.Date // visits before this day took nothing away that still counts
}

// NeedRows is what the visit need reads of some farms. It comes from what the
// last sweep kept, so that ten thousand farms need no forecast anew.
type NeedRows struct {
	Farms    []NeedFarm
	Units    []FactUnit
	Cycles   []NeedCycle
	Short    []NeedShort
	Snags    []FactSnag // not mended
	Work     []FactWork
	Passes   []FactPass
	Promises []Promise      // of a visit, not kept
	Requests []VisitRequest // not answered
	Tickets  []NeedTicket   // open
	Events   []TicketEvent  // of those, what may have made them worse, by day
	Dealt    []NeedDealt
	Planned  []Visit
}

// The rows of NeedRows.
type (
	NeedFarm struct {
		FarmLine
		Heard   calendar.Date // last day with news of any kind
		Visited calendar.Date // last visit that took place
	}
	NeedCycle struct {
		FarmID, ID, UnitID, Enterprise, Purpose string
		Started                                 calendar.Date
		Standing, Schedule                      programme.Standing
		EnteredOn                               calendar.Date // the standing by dates
		OwnSlip                                 int
		Outlook                                 json.RawMessage // empty before the first sweep
	}
	// NeedShort is a go-ahead that was short at the last sweep, and since when.
	// Its window moves with the forecast, so it tells no day.
	NeedShort struct {
		FarmID, CycleID, GoAhead string
		Since                    calendar.Date
	}
	NeedTicket struct {
		FarmID, ID, Number, Rule string
		Urgency                  ticket.Urgency
		Opened                   calendar.Date
		Reopened                 []calendar.Date
	}
	NeedDealt struct {
		FarmID string
		Dealt  []visit.Dealt
	}
)

// needStore reads the visit need in bulk.
type needStore interface {
	NeedRows(ctx context.Context, sc Scope, q NeedQuery) (NeedRows, error)
	MarksOf(ctx context.Context, cycleIDs []string) ([]Mark, error)
}
