package app

import (
	"time"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/domain/ticket"
)

// Page is one page of a list. Next is an opaque cursor for the page after it,
// "" on the last one.
type Page[T any] struct {
	Items []T    `json:"items"`
	Next  string `json:"next,omitempty"`
}

// FarmQuery picks farms. Zero fields pick all; a cursor belongs to the query
// that it came from. Limit is 50 when 0, and 200 at most.
type FarmQuery struct {
	Branch     string
	ClientID   string
	Standing   programme.Standing
	Enterprise string
	Status     farm.Status
	Watched    *bool
	Q          string // words or digits, as for Search
	Cursor     string
	Limit      int
}

// FarmLine is a farm as lists show it: worst standing first, then most days
// late, then by name.
type FarmLine struct {
	farm.Farm
	Client   string             `json:"client"`
	Standing programme.Standing `json:"standing"`
	OwnSlip  int                `json:"own_slip"`
	SweptOn  calendar.Date      `json:"swept_on"`
}

// Swept is what a sweep says of a farm as a whole.
type Swept struct {
	FarmID   string
	Standing programme.Standing
	OwnSlip  int
	On       calendar.Date
	Changes  int // of the farm when it was read; when it has moved on, nothing is written
}

// StandingCount is how many farms of a branch have a standing.
type StandingCount struct {
	BranchID string             `json:"branch_id"`
	Standing programme.Standing `json:"standing"`
	Watched  bool               `json:"watched"`
	Farms    int                `json:"farms"`
}

// PeopleQuery picks people, by name. Zero fields pick all; Branch is one that
// a grant names. Limit is 50 when 0, and 200 at most.
type PeopleQuery struct {
	Role   farm.Role
	Branch string
	FarmID string // who works there
	Active *bool
	Q      string
	Cursor string
	Limit  int
}

// ClientQuery picks clients, by name.
type ClientQuery struct {
	Q      string
	Cursor string
	Limit  int
}

// TicketQuery picks tickets, most urgent and first due first. Zero fields
// pick all; without a State the settled ones are left out. Limit is 50 when
// 0, and 200 at most.
type TicketQuery struct {
	Holder    string // in this person's hands
	Nobody    bool   // in nobody's hands
	Branch    string
	FarmID    string
	State     ticket.State
	Urgency   ticket.Urgency
	Origin    ticket.Origin
	Rule      string
	OverdueAt time.Time // due by then already
	DueBefore time.Time // due before this instant, or overdue
	Cursor    string
	Limit     int
}

// TicketLine is a ticket as the queue shows it.
type TicketLine struct {
	ticket.Ticket
	Farm     string `json:"farm"`
	BranchID string `json:"branch_id"`
	Holder   string `json:"holder"` // the holder's name
	// TouchedAt is when a person last dealt with it, else when it was opened.
	TouchedAt time.Time `json:"touched_at"`
}

// AuditQuery picks lines of the audit, about a thing or about a farm.
type AuditQuery struct {
	Thing   string
	ThingID string
	FarmID  string
	Cursor  string
	Limit   int
}

// Hit is something that Search found. Kind is farm, person, client or ticket.
type Hit struct {
	Kind   string `json:"kind"`
	ID     string `json:"id"`
	FarmID string `json:"farm_id"` // "" for a person or client without a farm
	Label  string `json:"label"`   // the name, or the ticket's number
	Farm   string `json:"farm"`    // the farm's name
	Why    string `json:"why"`     // what matched: name, phone, town, landmark, number; alike = nearly so

	// What tells it from others of the same name.
	Client   string             `json:"client"`
	Town     string             `json:"town"`
	BranchID string             `json:"branch_id"`
	Standing programme.Standing `json:"standing"`
	Phone    string             `json:"phone" doc:"Of a person or a client; several people may share one."`
	Language string             `json:"language" doc:"Of a person."`
}
