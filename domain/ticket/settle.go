package ticket

import (
	"fmt"
	"strings"

	"tendfold/domain"
	"tendfold/domain/calendar"
)

// Settlement is how a ticket ended. Learned is what the firm should know next
// time. RestDays is the figure of the ticket's rule, 0 for none.
type Settlement struct {
	Outcome  string
	Learned  string
	RestDays int
}

// Settle ends it. Settled while the condition of its rule holds, it rests: the
// sweep leaves it alone until RestsUntil, that day included.
func (t Ticket) Settle(by Act, s Settlement) (Ticket, Event, error) {
	if err := required("outcome", "Say how it ended.", s.Outcome); err != nil {
		return t, Event{}, err
	}
	if err := optional("learned", s.Learned); err != nil {
		return t, Event{}, err
	}
	next, err := t.end(by, strings.TrimSpace(s.Outcome))
	if err != nil {
		return t, Event{}, err
	}
	next.RestsUntil = t.rest(by, s.RestDays)
	e := Event{Kind: Moved, From: t.State, To: Settled, Text: next.Outcome}
	if learned := strings.TrimSpace(s.Learned); learned != "" {
		e.Data = map[string]any{"learned": learned}
	}
	return next.spoken(by), e, nil
}

// end is the ticket settled by whoever acts. The holder stays on record as the
// last one.
func (t Ticket) end(by Act, outcome string) (Ticket, error) {
	t, err := t.move(Settled)
	if err != nil {
		return t, err
	}
	t.SettledAt, t.SettledOn, t.SettledBy, t.Outcome = by.At, by.On, by.PersonID, outcome
	return t, nil
}

// rest is the last day of rest of a ticket settled by a person: none when no
// rule speaks, when the condition is gone, or when it keeps coming back.
func (t Ticket) rest(by Act, ruleDays int) calendar.Date {
	days := t.Urgency.Rest(ruleDays)
	if t.Rule == "" || t.GoneOn != 0 || t.KeepsComing || days <= 0 {
		return 0
	}
	return by.On.Add(days)
}

// Join makes it part of another open ticket of the same farm; it is settled
// with that. The one that goes on must be as urgent, so that joining hides
// nothing.
func (t Ticket) Join(by Act, into Ticket, restDays int) (Ticket, Event, error) {
	if err := t.joins(into); err != nil {
		return t, Event{}, err
	}
	next, err := t.end(by, "joined into "+into.Number)
	if err != nil {
		return t, Event{}, err
	}
	next.JoinedInto, next.RestsUntil = into.ID, t.rest(by, restDays)
	return next.spoken(by), Event{
		Kind: Joined, From: t.State, To: Settled, Text: next.Outcome,
		Data: map[string]any{"into": into.ID, "number": into.Number},
	}, nil
}

func (t Ticket) joins(into Ticket) error {
	no := func(text string) error { return domain.Conflict("ticket-join", text) }
	switch {
	case into.ID == t.ID:
		return no("A ticket cannot be joined to itself.")
	case into.FarmID != t.FarmID:
		return no("Only tickets of the same farm can be joined.")
	case !into.Open():
		return no(fmt.Sprintf("Ticket %s is settled. Reopen it first, or join the other way round.", into.Number))
	case t.Urgency.Above(into.Urgency):
		return no(fmt.Sprintf("Ticket %s is more urgent than %s. Join the other way round.", t.Number, into.Number))
	}
	return nil
}

// Reopen brings a settled ticket back among the assessed, with new due times;
// its last holder must hear of it.
func (t Ticket) Reopen(by Act, why string, terms Terms) (Ticket, Event, error) {
	if err := required("why", "Say why it is open again.", why); err != nil {
		return t, Event{}, err
	}
	return t.again(by, strings.TrimSpace(why), terms)
}

// The limits beyond which a ticket keeps coming back (programme rules).
const (
	comingTimes = 3
	comingDays  = 90
)

// again is a settled ticket up again: nothing of its settlement is left, and
// the third time in 90 days it goes one urgency up and no longer rests.
func (t Ticket) again(by Act, text string, terms Terms) (Ticket, Event, error) {
	if t.Open() {
		return t, Event{}, domain.Conflict("ticket-open", fmt.Sprintf("Ticket %s is not settled, so it cannot be reopened.", t.Number))
	}
	next, err := t.move(Assessed)
	if err != nil {
		return t, Event{}, err
	}
	e := Event{Kind: Reopened, From: t.State, To: Assessed, Text: text, Data: map[string]any{"tell": t.HolderID}}
	next.SettledAt, next.SettledOn, next.SettledBy, next.Outcome = zero, 0, "", ""
	next.JoinedInto, next.RestsUntil, next.GoneOn, next.FirstWordAt = "", 0, 0, zero
	next.Reopened = append(append([]calendar.Date(nil), t.Reopened...), by.On)
	if !t.KeepsComing && lately(next.Reopened, by.On) >= comingTimes {
		next.KeepsComing, next.Urgency = true, t.Urgency.Raised()
		e.Data["keeps_coming"] = true
		e.Data["urgency"] = string(next.Urgency)
	}
	next.FirstWordBy, next.PlanBy = terms.Due(next.Urgency, by.At)
	return next, e, nil
}

// lately counts the days of the last 90, today among them.
func lately(days []calendar.Date, on calendar.Date) int {
	n := 0
	for _, d := range days {
		if on.Sub(d) <= comingDays {
			n++
		}
	}
	return n
}
