package app

import (
	"encoding/json"
	"time"

	"tendfold/domain/calendar"
	"tendfold/domain/ticket"
	"tendfold/domain/visit"
)

// TicketEvent is one line of a ticket's thread: what happened, who did it and
// when.
type TicketEvent struct {
	ID       string        `json:"id"`
	TicketID string        `json:"ticket_id"`
	PersonID string        `json:"person_id"` // "" = the sweep
	At       time.Time     `json:"at"`
	On       calendar.Date `json:"on"`
	ticket.Event
}

// Call is a logged conversation on any channel.
type Call struct {
	ID        string    `json:"id"`
	FarmID    string    `json:"farm_id"`   // "" when the farm is not known yet
	PersonID  string    `json:"person_id"` // who called, if known
	Phone     string    `json:"phone"`
	Channel   string    `json:"channel"` // phone, text, chat, in-person
	Said      string    `json:"said"`
	Advice    string    `json:"advice"`
	TicketID  string    `json:"ticket_id"`
	TakenBy   string    `json:"taken_by"`
	StartedAt time.Time `json:"started_at"`
	EndedAt   time.Time `json:"ended_at,omitzero"`
	Version   int       `json:"version"`
}

// Promise is something promised to a farm with a date.
type Promise struct {
	ID      string        `json:"id"`
	CallID  string        `json:"call_id"`
	FarmID  string        `json:"farm_id"`
	Kind    string        `json:"kind"` // call-back, visit, other
	Text    string        `json:"text"`
	DueOn   calendar.Date `json:"due_on"`
	KeptOn  calendar.Date `json:"kept_on"` // zero while open
	KeptBy  string        `json:"kept_by"`
	MadeBy  string        `json:"made_by"`
	MadeOn  calendar.Date `json:"made_on"`
	Version int           `json:"version"`
}

// The states of a visit.
const (
	VisitPlanned = "planned"
	VisitDone    = "done"
	VisitMissed  = "missed"
)

// Visit is one stop on a farm.
type Visit struct {
	ID        string         `json:"id"`
	FarmID    string         `json:"farm_id"`
	OfficerID string         `json:"officer_id"`
	On        calendar.Date  `json:"on"`
	State     string         `json:"state" enum:"planned,done,missed"`
	Reasons   []visit.Scored `json:"reasons" doc:"Why, as it stood at planning."`
	Agenda    []visit.Task   `json:"agenda" doc:"What to do there, as it stood at planning."`
	Findings  string         `json:"findings" doc:"What the officer found."`
	Missed    string         `json:"missed" doc:"Why, when missed."`
	DoneOn    calendar.Date  `json:"done_on"`
	Dealt     []visit.Dealt  `json:"dealt" doc:"The reasons that the visit dealt with."`
	PlannedBy string         `json:"planned_by"`
	Version   int            `json:"version"`
}

// VisitRequest is an owner's wish for a visit.
type VisitRequest struct {
	ID         string        `json:"id"`
	FarmID     string        `json:"farm_id"`
	PersonID   string        `json:"person_id"`
	On         calendar.Date `json:"on"`
	Text       string        `json:"text"`
	AnsweredOn calendar.Date `json:"answered_on"`
}

// SweepRun is one run of the sweep over all farms.
type SweepRun struct {
	ID        string          `json:"id"`
	On        calendar.Date   `json:"on"`
	StartedAt time.Time       `json:"started_at"`
	EndedAt   time.Time       `json:"ended_at,omitzero"`
	Summary   json.RawMessage `json:"summary,omitempty"`
}

// AuditLine is a change as the audit keeps it.
type AuditLine struct {
	ID       string          `json:"id"`
	At       time.Time       `json:"at"`
	PersonID string          `json:"person_id"` // "" = the system
	Verb     string          `json:"verb"`
	Thing    string          `json:"thing"`
	ThingID  string          `json:"thing_id"`
	FarmID   string          `json:"farm_id"`
	Before   json.RawMessage `json:"before,omitempty"`
	After    json.RawMessage `json:"after,omitempty"`
}

// Answer is what a request was answered, kept so that a repeated one gets the
// same. Status is 0 while the first is under way.
type Answer struct {
	Request string // hash of method, path and body
	Status  int
	ETag    string
	Body    string
}
