package sweep

import (
	"bytes"
	"encoding/json"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/ticket"
)

// Doing is what a sweep does to a ticket.
type Doing string

// The doings, each with the reason in its name.
const (
	Opens   Doing = "open"    // nothing open or lately closed for this key
	Reopens Doing = "reopen"  // true again soon after it was closed, or its rest is over
	Updates Doing = "update"  // the evidence has changed
	Worsens Doing = "worse"   // the rule's value has grown by the rule's days
	Clears  Doing = "clear"   // gone for the rule's recovery
	Goes    Doing = "gone"    // gone, but a person has it: said, not settled
	Returns Doing = "returns" // was said to be gone while a person had it, and is not
)

// Change is one thing to do to one ticket, decided and not yet done.
type Change struct {
	Doing    Doing
	Key      Key
	TicketID string  // "" for Opens
	Previous string  // for Opens: the old ticket that a new one is linked to
	Finding  Finding // zero for Clears and Goes
}

// again is the number of days after clearing within which the same ticket is
// reopened rather than a new one opened.
const again = 14

// Reconcile decides what the sweep does to a farm's tickets: tickets are the
// open ones and those settled lately (the newest of a key counts). An
// unwatched farm opens nothing, and what it has is left alone.
func Reconcile(f *Facts, tickets []ticket.Ticket, d Day) []Change {
	if !f.Watched {
		return nil
	}
	latest, open := map[Key]ticket.Ticket{}, map[string]bool{}
	for _, t := range tickets {
		open[t.ID] = t.State != ticket.Settled
		if old, ok := latest[t.Key]; !ok || newer(t, old) {
			latest[t.Key] = t
		}
	}
	var out []Change
	for _, fd := range d.Findings {
		t, known := latest[fd.Clock.Key]
		if known && open[t.JoinedInto] {
			continue // it goes on in the ticket that it was joined to
		}
		if c, ok := answer(f, fd, t, known, d.On); ok {
			out = append(out, c)
		}
	}
	for _, key := range d.Cleared {
		if t, ok := latest[key]; ok && t.State != ticket.Settled {
			if c, ok := over(t); ok {
				out = append(out, c)
			}
		}
	}
	return out
}

// newer prefers an open ticket, then the one opened last.
func newer(a, b ticket.Ticket) bool {
	if (a.State == ticket.Settled) != (b.State == ticket.Settled) {
		return a.State != ticket.Settled
	}
	return a.OpenedAt.After(b.OpenedAt)
}

// answer is what a finding does to the newest ticket of its key.
func answer(f *Facts, fd Finding, t ticket.Ticket, known bool, on calendar.Date) (Change, bool) {
	c := Change{Key: fd.Clock.Key, TicketID: t.ID, Finding: fd}
	switch {
	case known && t.State != ticket.Settled:
		return change(f, c, t)
	case !OpensTickets(fd.Rule()) || !fd.Confirmed || fd.Clock.Muted():
		return Change{}, false
	case !known:
		c.Doing, c.TicketID = Opens, ""
		return c, true
	case t.RestsUntil >= on:
		return Change{}, false
	case fd.Clock.TrueSince <= t.SettledOn || on.Sub(t.SettledOn) <= again:
		c.Doing = Reopens
		return c, true
	default:
		c.Doing, c.TicketID, c.Previous = Opens, "", t.ID
		return c, true
	}
}

// Rule is the name of the rule that found it.
func (f Finding) Rule() string { return f.Clock.Rule }

// Subject is what of the farm, unit or cycle it is about, "" for all of it.
func (f Finding) Subject() string { return f.Clock.Subject }

// change is what a finding that holds does to its open ticket.
func change(f *Facts, c Change, t ticket.Ticket) (Change, bool) {
	fig := f.figures(c.Key)
	worse := c.Key.Rule == HarvestSlip || c.Key.Rule == GrowthShort
	switch {
	case t.GoneOn != 0:
		c.Doing = Returns
	case worse && fig.Days > 0 && c.Finding.Value >= t.WorseAt+fig.Days:
		c.Doing = Worsens
	case !sameReasons(t, c.Finding.Clock.Reasons):
		c.Doing = Updates
	default:
		return Change{}, false
	}
	return c, true
}

// sameReasons compares by what is stored: a whole number that has been through
// JSON comes back as a float.
func sameReasons(t ticket.Ticket, now []domain.Reason) bool {
	said, err := []byte(t.Said), error(nil)
	if t.Said == "" {
		said, err = json.Marshal(t.Reasons)
	}
	says, err2 := json.Marshal(now)
	return err == nil && err2 == nil && bytes.Equal(said, says)
}

// over is what a condition that is gone does to its open ticket: one that a
// person has is left to that person, and danger to people never settles by
// itself.
func over(t ticket.Ticket) (Change, bool) {
	c := Change{Doing: Clears, Key: t.Key, TicketID: t.ID}
	if t.Kept() {
		c.Doing = Goes
		if t.GoneOn != 0 {
			return Change{}, false
		}
	}
	return c, true
}
