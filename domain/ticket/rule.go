package ticket

import (
	"fmt"
	"time"

	"tendfold/domain"
)

var zero time.Time

// ConditionGone is the outcome of a ticket that the sweep settled.
const ConditionGone = "condition-gone"

// Renew takes the latest evidence of its rule: nothing has happened that a
// person must hear of.
func (t Ticket) Renew(reasons []domain.Reason) Ticket {
	t.Reasons = reasons
	return t
}

// Worsen says that the condition has grown by the rule's days; the holder
// must hear of it. Value becomes what the next growth is measured from.
func (t Ticket) Worsen(reasons []domain.Reason, value float64) (Ticket, Event, error) {
	if !t.Open() {
		return t, Event{}, t.settled()
	}
	e := Event{Kind: Worse, From: t.State, To: t.State, Data: map[string]any{"was": t.WorseAt, "value": value, "tell": t.HolderID}}
	t.Reasons, t.WorseAt = reasons, value
	return t, e, nil
}

// Lift says that the condition is gone while a person has the ticket, or a
// person is in danger: it stays open, and that person ends it.
func (t Ticket) Lift(by Act) (Ticket, Event, error) {
	if !t.Open() {
		return t, Event{}, t.settled()
	}
	t.GoneOn = by.On
	return t, Event{Kind: Gone, From: t.State, To: t.State, Data: map[string]any{"tell": t.HolderID}}, nil
}

// Return says that a condition that was gone holds again.
func (t Ticket) Return(reasons []domain.Reason) (Ticket, Event, error) {
	if !t.Open() {
		return t, Event{}, t.settled()
	}
	t.GoneOn, t.Reasons = 0, reasons
	return t, Event{Kind: Returned, From: t.State, To: t.State, Data: map[string]any{"tell": t.HolderID}}, nil
}

// Kept says whether the ticket stays open when its condition is gone: a
// person has it, or a person is in danger.
func (t Ticket) Kept() bool {
	return t.Urgency == PersonInDanger || t.State == InHand || t.State == Waiting
}

// Clear settles it because its condition is gone. What Kept says stays open;
// asking for it is an error.
func (t Ticket) Clear(by Act) (Ticket, Event, error) {
	if t.Open() && t.Kept() {
		return t, Event{}, domain.Conflict("ticket-kept", fmt.Sprintf("Ticket %s is a person's to settle.", t.Number))
	}
	by.PersonID = ""
	next, err := t.end(by, ConditionGone)
	if err != nil {
		return t, Event{}, err
	}
	return next, Event{Kind: Moved, From: t.State, To: Settled, Data: map[string]any{"outcome": ConditionGone}}, nil
}

// SweepReopen brings a settled ticket back because its condition holds: it
// was settled while it held and has rested, or it is true again soon after it
// was cleared.
func (t Ticket) SweepReopen(by Act, reasons []domain.Reason, value float64, terms Terms) (Ticket, Event, error) {
	next, e, err := t.again(by, "", terms)
	if err != nil {
		return t, Event{}, err
	}
	next.Reasons, next.WorseAt = reasons, value
	return next, e, nil
}
