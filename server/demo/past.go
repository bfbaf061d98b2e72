package demo

import (
	"context"
	"errors"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/ticket"
	"tendfold/server/app"
)

// stride is how many days lie between the sweeps of the past; each works out
// the days in between too.
const stride = 14

// watchedPast is for how many days back the firm has used Tendfold.
const watchedPast = 300

// past sweeps through the months behind, and lets staff work on what it
// opens, so that tickets have a life and a thread.
func (b *builder) past(ctx context.Context) error {
	for on := b.today.Add(-watchedPast); on < b.today; on = on.Add(stride) {
		b.clock.at = on.In(time.UTC).Add(7 * time.Hour)
		if _, err := b.h.Sweeps.All(ctx, on, nil); err != nil {
			return err
		}
		if err := b.workOn(ctx, on); err != nil {
			return err
		}
	}
	b.clock.at = time.Now().UTC().Truncate(time.Microsecond)
	_, err := b.h.Sweeps.All(ctx, b.today, nil)
	return err
}

// workOn lets each branch's advisor deal with most of the open tickets, a few
// days after they came up.
func (b *builder) workOn(ctx context.Context, on calendar.Date) error {
	for _, branch := range b.branches {
		who, err := b.actor(ctx, b.of(branch.ID, farm.Advisor))
		if err != nil {
			return err
		}
		open, err := b.h.Tickets.Queue(ctx, who, app.TicketQuery{Branch: branch.ID, Limit: 200})
		if err != nil {
			return err
		}
		for _, t := range open.Items {
			r := b.luck.of("deal %s %s", t.Key, on)
			b.clock.at = on.In(time.UTC).Add(8*time.Hour + time.Duration(r.IntN(8*60))*time.Minute)
			if err := b.deal(ctx, who, t, r.IntN(10)); err != nil && domain.KindOf(err) != domain.KindConflict {
				return err
			}
		}
	}
	return nil
}

// actor is a member of staff as the use cases see one.
func (b *builder) actor(ctx context.Context, id string) (app.Actor, error) {
	p, err := b.h.Store.Person(ctx, app.Everything, id)
	return app.Actor{PersonID: p.ID, Name: p.Name, Language: p.Language, Grants: p.Grants}, err
}

var outcomes = map[string]string{
	"milestone-behind": "Called: the work was done, the day is now on record.",
	"cover-short":      "Advised watering at dusk and mulch; replanted the bare corner.",
	"growth-short":     "Sorted by size and changed to compound feed with shell powder.",
	"harvest-slip":     "Told the client the new date and why.",
	"no-news":          "Reached the caretaker on a neighbour's phone; all is well.",
	"go-ahead-short":   "Agreed with the officer to verify the rest on the next visit.",
	"go-ahead-skipped": "Verified the missing points afterwards.",
	"training-gap":     "The officer will pass the module with the caretaker on site.",
	"new-caretaker":    "The officer meets the new caretaker this week and brings the sheets.",
	"nobody-trained":   "Booked a morning on the farm: both take the first two modules.",
	"snag-due":         "The builder comes next week.",
	"season-risk":      "Moved the delivery forward with the nursery.",
}

// deal is one step of an advisor's work on a ticket: some are taken in hand,
// some wait, most are settled, a few lie.
func (b *builder) deal(ctx context.Context, who app.Actor, t app.TicketLine, n int) error {
	if n == 0 || b.clock.Now().Sub(t.OpenedAt) < 24*time.Hour {
		return nil
	}
	th, err := b.h.Tickets.Thread(ctx, who, t.ID)
	if err != nil {
		return err
	}
	move := func(m app.TicketMove) error {
		th, err = b.h.Tickets.Move(ctx, who, t.ID, th.Version, m)
		return err
	}
	if t.State == ticket.Reported {
		if err := move(app.TicketMove{To: ticket.InHand}); err != nil {
			return err
		}
	}
	switch {
	case n < 3:
		_, err = b.h.Tickets.Say(ctx, who, t.ID, "Called the caretaker; calling again on Friday.", true, false)
		return err
	case n == 3 && th.State == ticket.InHand:
		return move(app.TicketMove{To: ticket.Waiting, WaitingOn: ticket.OnFarm, Note: "The caretaker sends the count this week."})
	default:
		outcome := outcomes[t.Rule]
		if outcome == "" {
			outcome = "Dealt with on the phone."
		}
		return move(app.TicketMove{To: ticket.Settled, Outcome: outcome})
	}
}

// errNone says that the demo has no farm of a kind that it needs.
var errNone = errors.New("the demo's luck brought no farm of this kind; change its seed")
