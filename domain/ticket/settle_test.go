package ticket_test

import (
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/domain/ticket"

	"github.com/stretchr/testify/require"
)

func day(n int) time.Time { return friday.AddDate(0, 0, n) }

func TestSettle(t *testing.T) {
	tk, e, err := in(t, ticket.Waiting).Settle(ana(day(3)), ticket.Settlement{Outcome: "Planted", Learned: "Order seed earlier", RestDays: 14})
	require.NoError(t, err)
	require.Equal(t, ticket.Settled, tk.State)
	require.Equal(t, "ana", tk.SettledBy)
	require.Equal(t, "2026-05-18", tk.SettledOn.String())
	require.Equal(t, "2026-06-01", tk.RestsUntil.String())
	require.Equal(t, "Planted", tk.Outcome)
	require.Equal(t, "Order seed earlier", e.Data["learned"])
	_, _, err = opened(t).Settle(ana(friday), ticket.Settlement{})
	require.Equal(t, "ticket-outcome", domain.CodeOf(err))
}

func TestRestDays(t *testing.T) {
	byHand := func(o *ticket.Opening) { o.Key.Rule, o.Title = "", "Leak"; o.Reasons = nil }
	risky := func(o *ticket.Opening) { o.Impact = ticket.High }
	for name, c := range map[string]struct {
		tk   ticket.Ticket
		rule int
		want string
	}{
		"the rule's":                      {opened(t), 14, "2026-05-29"},
		"none":                            {opened(t), 0, ""},
		"a day where animals are at risk": {opened(t, risky), 14, "2026-05-16"},
		"never with a person in danger":   {opened(t, danger), 14, ""},
		"not without a rule":              {opened(t, byHand), 14, ""},
	} {
		tk, _, err := c.tk.Settle(ana(friday), ticket.Settlement{Outcome: "done", RestDays: c.rule})
		require.NoError(t, err)
		require.Equal(t, c.want, tk.RestsUntil.String(), name)
	}
	gone, _, err := in(t, ticket.InHand).Lift(sweep(friday))
	require.NoError(t, err)
	gone, _, err = gone.Settle(ana(friday), ticket.Settlement{Outcome: "done", RestDays: 14})
	require.NoError(t, err)
	require.Zero(t, gone.RestsUntil, "nothing to rest from")
}

func TestReopen(t *testing.T) {
	settled, _, err := in(t, ticket.InHand).Settle(ana(friday), ticket.Settlement{Outcome: "done", RestDays: 14})
	require.NoError(t, err)
	tk, e, err := settled.Reopen(ana(day(3)), "Not done at all", terms(t))
	require.NoError(t, err)
	require.Equal(t, ticket.Assessed, tk.State)
	require.Equal(t, ticket.Reopened, e.Kind)
	require.Equal(t, "ana", e.Data["tell"], "the last holder is told")
	require.Empty(t, tk.HolderID)
	require.True(t, tk.SettledAt.IsZero())
	require.Zero(t, tk.RestsUntil)
	require.Zero(t, tk.SettledOn)
	require.Empty(t, tk.Outcome)
	require.Equal(t, wall("2026-05-19 17:00"), tk.FirstWordBy, "a new first word is due")
	require.True(t, tk.FirstWordAt.IsZero())
	require.Empty(t, settled.Reopened, "the old value is left as it was")

	_, _, err = tk.Reopen(ana(friday), "again", terms(t))
	require.Equal(t, "ticket-open", domain.CodeOf(err))
	_, _, err = settled.Reopen(ana(friday), "", terms(t))
	require.Equal(t, "ticket-why", domain.CodeOf(err))
}

// cycle settles and reopens the ticket on each of the days.
func cycle(t require.TestingT, tk ticket.Ticket, days ...int) ticket.Ticket {
	for _, n := range days {
		var err error
		tk, _, err = tk.Settle(ana(day(n)), ticket.Settlement{Outcome: "done", RestDays: 14})
		require.NoError(t, err)
		tk, _, err = tk.SweepReopen(sweep(day(n)), why, 9, terms(t))
		require.NoError(t, err)
	}
	return tk
}

func TestKeepsComingBack(t *testing.T) {
	require.False(t, cycle(t, opened(t), 1, 2).KeepsComing)
	require.False(t, cycle(t, opened(t), 1, 2, 92).KeepsComing, "the first lies 91 days back")
	require.True(t, cycle(t, opened(t), 1, 2, 91).KeepsComing)

	tk := cycle(t, opened(t), 1, 2, 3)
	require.Equal(t, ticket.AnimalsAtRisk, tk.Urgency, "one up from losing time")
	tk, _, err := tk.Settle(ana(day(4)), ticket.Settlement{Outcome: "done", RestDays: 14})
	require.NoError(t, err)
	require.Zero(t, tk.RestsUntil, "no more rest")
	tk, e, err := tk.SweepReopen(sweep(day(5)), why, 9, terms(t))
	require.NoError(t, err)
	require.Equal(t, ticket.AnimalsAtRisk, tk.Urgency, "once only")
	require.NotContains(t, e.Data, "keeps_coming")

	tk, _, err = tk.Assess(ana(day(5)), ticket.Assessment{Impact: ticket.Low, TimeToLoss: ticket.Week, Why: "small"}, terms(t))
	require.NoError(t, err)
	require.Equal(t, ticket.LosingTime, tk.Urgency, "routine, and one up")
}

func TestJoin(t *testing.T) {
	other := opened(t, func(o *ticket.Opening) { o.ID, o.Seq = "t2", 418 })
	tk, e, err := in(t, ticket.InHand).Join(ana(friday), other, 14)
	require.NoError(t, err)
	require.Equal(t, ticket.Settled, tk.State)
	require.Equal(t, "t2", tk.JoinedInto)
	require.Equal(t, "2026-05-29", tk.RestsUntil.String(), "a joined ticket rests like a settled one")
	require.Equal(t, ticket.Joined, e.Kind)
	require.Equal(t, "418/26", e.Data["number"])

	tk, _, err = tk.Reopen(ana(friday), "Not the same after all", terms(t))
	require.NoError(t, err)
	require.Empty(t, tk.JoinedInto)

	settledOther := other
	settledOther.State = ticket.Settled
	for name, into := range map[string]ticket.Ticket{
		"itself":       opened(t),
		"another farm": opened(t, func(o *ticket.Opening) { o.ID, o.Key.FarmID = "t3", "f2" }),
		"settled":      settledOther,
		"less urgent":  opened(t, func(o *ticket.Opening) { o.ID, o.Impact = "t3", ticket.Low }),
	} {
		_, _, err := opened(t).Join(ana(friday), into, 0)
		require.Equal(t, "ticket-join", domain.CodeOf(err), name)
	}
	_, _, err = in(t, ticket.Settled).Join(ana(friday), other, 0)
	require.Equal(t, "ticket-move-not-allowed", domain.CodeOf(err))
}

func TestClear(t *testing.T) {
	for s, kept := range map[ticket.State]bool{ticket.Reported: false, ticket.Assessed: false, ticket.InHand: true, ticket.Waiting: true} {
		was := in(t, s)
		require.Equal(t, kept, was.Kept(), s)
		tk, e, err := was.Clear(ana(friday))
		if kept {
			require.Equal(t, "ticket-kept", domain.CodeOf(err), s)
			require.Equal(t, was, tk)
			continue
		}
		require.NoError(t, err)
		require.Equal(t, ticket.Settled, tk.State)
		require.Empty(t, tk.SettledBy, "nobody settled it")
		require.Equal(t, ticket.ConditionGone, tk.Outcome)
		require.Equal(t, ticket.Settled, e.To)
	}
	_, _, err := opened(t, danger).Clear(sweep(friday))
	require.Equal(t, "ticket-kept", domain.CodeOf(err), "a person in danger never settles by itself")
	_, _, err = in(t, ticket.Settled).Clear(sweep(friday))
	require.Equal(t, "ticket-move-not-allowed", domain.CodeOf(err))
}

func TestWhatTheSweepSays(t *testing.T) {
	later := why[:0:0]
	held := in(t, ticket.InHand)
	tk, e, err := held.Worsen(later, 17)
	require.NoError(t, err)
	require.Equal(t, ticket.Worse, e.Kind)
	require.Equal(t, map[string]any{"was": 9.0, "value": 17.0, "tell": "ana"}, e.Data)
	require.InDelta(t, 17.0, tk.WorseAt, 0)
	require.Equal(t, why, tk.FirstReason, "the evidence at opening stays")

	tk, e, err = held.Lift(sweep(day(3)))
	require.NoError(t, err)
	require.Equal(t, ticket.Gone, e.Kind)
	require.Equal(t, ticket.InHand, tk.State)
	require.Equal(t, "2026-05-18", tk.GoneOn.String())

	tk, e, err = tk.Return(why)
	require.NoError(t, err)
	require.Equal(t, ticket.Returned, e.Kind)
	require.Zero(t, tk.GoneOn)
	require.Equal(t, later, held.Renew(later).Reasons)

	for _, do := range []func() error{
		func() error { _, _, err := in(t, ticket.Settled).Worsen(why, 1); return err },
		func() error { _, _, err := in(t, ticket.Settled).Lift(sweep(friday)); return err },
		func() error { _, _, err := in(t, ticket.Settled).Return(why); return err },
	} {
		require.Equal(t, "ticket-settled", domain.CodeOf(do()))
	}
	_, _, err = opened(t).SweepReopen(sweep(friday), why, 1, terms(t))
	require.Equal(t, "ticket-open", domain.CodeOf(err))
}
