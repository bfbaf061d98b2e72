package app

import (
	"context"
	"time"

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
