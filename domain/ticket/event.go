package ticket

import (
	"time"

	"tendfold/domain/calendar"
)

// EventKind is what happened to a ticket.
type EventKind string

// The kinds of events.
const (
	Opened     EventKind = "opened"
	Moved      EventKind = "moved"       // from one state to another
	Judged     EventKind = "judged"      // impact, time to loss or danger seen otherwise
	Noted      EventKind = "note"        // for staff only
	Messaged   EventKind = "message"     // between the farm and us
	Asked      EventKind = "asked"       // the farm is asked to do something
	Answered   EventKind = "answered"    // the farm says whether it did
	TakenBack  EventKind = "taken-back"  // what was asked is not asked any more
	Worse      EventKind = "worse"       // the condition has grown
	Gone       EventKind = "gone"        // the condition is gone, but a person has the ticket
	Returned   EventKind = "returned"    // was gone, is not
	Reopened   EventKind = "reopened"    // settled, and up again
	Joined     EventKind = "joined"      // has become part of another ticket
	HandedOver EventKind = "handed-over" // has another holder
	DueMoved   EventKind = "due-moved"
	Linked     EventKind = "linked"    // belongs together with another ticket, or no longer
	Untouched  EventKind = "untouched" // passed its due time; told to the manager
)

// Event is one line of a ticket's thread, written beside the change itself. Who
// and when stand on the Act that made it. Data holds only what survives JSON;
// "tell" names a person who must hear of it.
type Event struct {
	Kind EventKind      `json:"kind"`
	From State          `json:"from"` // the same as To where the state did not change; "" at opening
	To   State          `json:"to"`
	Text string         `json:"text"`
	Data map[string]any `json:"data,omitempty"`
}

// Act is who does something and when. PersonID is "" for the sweep. On is the
// civil day of At where the branch is.
type Act struct {
	PersonID string
	At       time.Time
	On       calendar.Date
}
