package app

import (
	"context"
	"fmt"
	"slices"
	"time"

	"tendfold/domain"
	"tendfold/domain/sweep"
	"tendfold/domain/ticket"
)

// apply does to a ticket what the sweep decided.
func (s *Sweeps) apply(ctx context.Context, w *worked, c sweep.Change, sum *SweepSummary) error {
	terms, err := s.plans.Terms(ctx, w.BranchID)
	if err != nil {
		return err
	}
	by := ticket.Act{At: instantOn(s.Now(), w, terms), On: w.day.On}
	if c.Doing == sweep.Opens {
		return s.openFor(ctx, w, c, by, terms, sum)
	}
	t, next, ev := w.Touched[c.TicketID].Ticket, ticket.Ticket{}, ticket.Event{}
	reasons, value := c.Finding.Clock.Reasons, c.Finding.Value
	switch c.Doing {
	case sweep.Reopens:
		next, ev, err = t.SweepReopen(by, reasons, value, terms)
		sum.Reopened++
	case sweep.Updates:
		next = t.Renew(reasons)
		sum.Updated++
	case sweep.Worsens:
		next, ev, err = t.Worsen(reasons, value)
		sum.Updated++
	case sweep.Clears:
		next, ev, err = t.Clear(by)
		sum.Cleared++
	case sweep.Goes:
		next, ev, err = t.Lift(by)
		sum.Updated++
	case sweep.Returns:
		next, ev, err = t.Return(reasons)
		sum.Updated++
	}
	if err != nil {
		return err
	}
	if err := s.store.ChangeTicket(ctx, next); err != nil {
		return err
	}
	if ev.Kind == "" {
		return nil
	}
	return s.store.AddTicketEvents(ctx, eventOf(s.NewID(), t.ID, by, ev))
}

func (s *Sweeps) openFor(ctx context.Context, w *worked, c sweep.Change, by ticket.Act, terms ticket.Terms, sum *SweepSummary) error {
	t, ev, err := ticket.Open(ticket.Opening{
		ID: s.NewID(), Seq: 1, Year: by.On.Year(), Key: c.Key, Origin: ticket.FromSweep,
		Impact: c.Finding.Impact, TimeToLoss: c.Finding.TimeToLoss, Reasons: c.Finding.Clock.Reasons,
		Value: c.Finding.Value, PreviousID: c.Previous,
	}, by, terms)
	if err != nil {
		return err
	}
	t, opened, err := s.store.OpenTicket(ctx, t)
	if err != nil || !opened {
		return err // another sweep was there first
	}
	sum.Opened++
	return s.store.AddTicketEvents(ctx, eventOf(s.NewID(), t.ID, by, ev))
}

// instantOn is now when the sweep is for today; for another day it is the
// start of that day's office hours, so that due times count from the day that
// was asked about.
func instantOn(now time.Time, w *worked, terms ticket.Terms) time.Time {
	if terms.Calendar.Day(now) == w.day.On {
		return now
	}
	return w.day.On.In(terms.Calendar.Zone()).Add(8 * time.Hour)
}

// markUntouched notes on each ticket that is past its time and that nobody
// has touched since that it is so: once, until its time moves. The manager
// reads of it in what was left lying.
func (s *Sweeps) markUntouched(ctx context.Context) error {
	for {
		at := s.Now()
		lines, err := s.store.Untouched(ctx, at)
		if err != nil || len(lines) == 0 {
			return err
		}
		for piece := range slices.Chunk(lines, writePiece) {
			if err := s.markPiece(ctx, piece, at); err != nil {
				return err
			}
		}
	}
}

func (s *Sweeps) markPiece(ctx context.Context, lines []TicketLine, at time.Time) error {
	events := make([]TicketEvent, len(lines))
	for i, t := range lines {
		on, err := s.plans.Today(ctx, t.BranchID, at)
		if err != nil {
			return err
		}
		events[i] = untouched(t.Ticket, ticket.Act{At: at, On: on})
	}
	err := s.store.AddTicketEvents(ctx, events...)
	if domain.KindOf(err) != domain.KindConflict {
		return err
	}
	for _, e := range events { // another sweep was first with some of them
		if err := s.store.AddTicketEvents(ctx, e); err != nil && domain.KindOf(err) != domain.KindConflict {
			return err
		}
	}
	return nil
}

// untouched is the event, under an id that two sweeps at once both give it.
func untouched(t ticket.Ticket, by ticket.Act) TicketEvent {
	what, due := t.Wants()
	id := fmt.Sprintf("untouched-%s-%d", t.ID, due.Unix())
	return eventOf(id, t.ID, by, ticket.Event{
		Kind: ticket.Untouched, From: t.State, To: t.State, Data: map[string]any{"wants": what, "due": due.UTC().Format(time.RFC3339)},
	})
}
