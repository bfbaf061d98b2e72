package visit_test

import (
	"testing"

	"tendfold/domain/programme"
	"tendfold/domain/ticket"
	"tendfold/domain/visit"

	"github.com/stretchr/testify/require"
)

func TestAVisitTakesItsReasonAway(t *testing.T) {
	behind := with(func(f *visit.Facts) { f.Schedule, f.OwnSlip, f.Since = programme.Behind, 20, ago(10) })
	n := visit.Of(behind, weights)
	dealt := n.DealtWith([]string{"schedule", "nothing-like-it"}, today)
	require.Equal(t, []visit.Dealt{{Key: "schedule", On: today, Size: 20}}, dealt)
	require.Zero(t, n.Discount(dealt, weights).Points)
	require.InDelta(t, 30, n.Points, 1e-9, "the need itself is left as it was")

	for name, c := range map[string]struct {
		change func(*visit.Facts)
		points float64
	}{
		"the same a week later":       {func(f *visit.Facts) {}, 0},
		"six days later still":        {func(f *visit.Facts) { f.OwnSlip = 26 }, 0},
		"a week later still":          {func(f *visit.Facts) { f.OwnSlip = 27 }, 33.5},
		"left, and behind once more":  {func(f *visit.Facts) { f.Since = today.Add(3) }, 30},
		"another cause has come":      {func(f *visit.Facts) { f.Promises = []visit.Promise{{ID: "a", DueOn: today.Add(9)}} }, 15},
		"entered on the day of visit": {func(f *visit.Facts) { f.Since = today }, 0},
	} {
		f := behind
		f.On = today.Add(5)
		c.change(&f)
		require.InDelta(t, c.points, visit.Of(f, weights).Discount(dealt, weights).Points, 1e-9, name)
	}
}

func TestWhatStoodBelowCountsWhenTheHigherIsDealtWith(t *testing.T) {
	f := with(func(f *visit.Facts) {
		f.Tickets = []visit.Ticket{{ID: "t1", Urgency: ticket.LosingTime}, {ID: "t2", Urgency: ticket.Routine}}
	})
	n := visit.Of(f, weights)
	require.InDelta(t, 10, n.Points, 1e-9)
	n = n.Discount([]visit.Dealt{{Key: "ticket-open:t1", On: today}}, weights)
	require.InDelta(t, 3, n.Points, 1e-9)
	require.True(t, n.Reasons[0].Counted)
}

func TestDangerToAPersonIsNeverTakenAway(t *testing.T) {
	f := with(func(f *visit.Facts) {
		f.Tickets = []visit.Ticket{{ID: "t1", Urgency: ticket.PersonInDanger, Since: ago(2)}, {ID: "t2", Urgency: ticket.AnimalsAtRisk, Since: ago(2)}}
	})
	n := visit.Of(f, weights)
	n = n.Discount(n.DealtWith(keys(n.MustGo), today), weights)
	require.Equal(t, []string{"person-in-danger:t1"}, keys(n.MustGo))

	f.Tickets[1].Since = today.Add(1)
	f.On = today.Add(1)
	n = visit.Of(f, weights).Discount([]visit.Dealt{{Key: "animals-at-risk:t2", On: today}}, weights)
	require.Len(t, n.MustGo, 2, "worse since the visit")
}

func TestAPromiseBrokenAfterTheVisitWasDealtWith(t *testing.T) {
	f := with(func(f *visit.Facts) { f.Promises = []visit.Promise{{ID: "a", Made: ago(5), DueOn: today}} })
	dealt := visit.Of(f, weights).DealtWith([]string{"promise:a"}, today)
	f.On = today.Add(3)
	require.Zero(t, visit.Of(f, weights).Discount(dealt, weights).Points)
}

func TestAgenda(t *testing.T) {
	n := visit.Of(with(func(f *visit.Facts) {
		f.Schedule, f.OwnSlip, f.HoldUp = programme.Behind, 20, "planted"
		f.Tickets = []visit.Ticket{{ID: "t1", Urgency: ticket.AnimalsAtRisk}, {ID: "t2", Rule: "harvest-slip", Urgency: ticket.LosingTime}}
		f.Caretakers[0].Lacks = []string{"water"}
	}), weights)
	var do []string
	for _, task := range visit.Agenda(n) {
		do = append(do, task.Do)
	}
	require.Equal(t, []string{visit.DoDanger, visit.DoHoldUp, visit.DoTicket, visit.DoTrain, visit.DoWalk}, do)
	require.Equal(t, "planted", visit.Agenda(n)[1].Reason.Values["hold_up"])
	require.Equal(t, []visit.Task{{Do: visit.DoWalk}}, visit.Agenda(visit.Of(quiet(), weights)))
}

func TestAgendaWalksOnce(t *testing.T) {
	n := visit.Of(with(func(f *visit.Facts) { f.LastVisit = ago(20) }), weights)
	require.Len(t, visit.Agenda(n), 1)
	require.Equal(t, visit.VisitDue, visit.Agenda(n)[0].Key)
}

func TestWhyNotHigher(t *testing.T) {
	f := with(func(f *visit.Facts) {
		f.Schedule, f.OwnSlip = programme.Behind, 20
		f.Tickets = []visit.Ticket{{ID: "t1", Rule: "harvest-slip", Urgency: ticket.LosingTime, Since: ago(3)}}
		f.Promises = []visit.Promise{{ID: "a", DueOn: today.Add(10)}}
	})
	w := visit.WhyNotHigher(f, weights, nil)
	require.Equal(t, []string{"ticket-open:t1"}, keys(w.Uncounted), "the slip stands for it")

	got := map[string][3]any{}
	for _, n := range w.Next {
		got[n.Scored.Key] = [3]any{n.InDays, n.Adds, n.Must}
	}
	// Promise: due in 10 days, counts from 7 before. Visit: 12 of 14 days are
	// more than 0.8 of it. Twice the interval: 28 days. Silence: 17 days.
	require.Equal(t, map[string][3]any{
		"promise:a":          {3, 15.0, false},
		"visit-due":          {7, 8.6, false},
		"no-news":            {16, 12.5, false},
		"twice-the-interval": {23, 0.0, true},
	}, got)
	for i := 1; i < len(w.Next); i++ {
		require.LessOrEqual(t, w.Next[i-1].InDays, w.Next[i].InDays, "soonest first")
	}
	w = visit.WhyNotHigher(f, weights, []visit.Dealt{{Key: "ticket-open:t1", On: today}})
	require.Empty(t, w.Uncounted)
}
