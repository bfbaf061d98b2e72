package store_test

import (
	"context"
	"errors"
	"sync"
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/sweep"
	"tendfold/domain/ticket"
	"tendfold/server/app"
	"tendfold/server/store"
	"tendfold/server/store/storetest"

	"github.com/stretchr/testify/require"
)

func TestTickets(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		first := w.open(ticketOf("t1", key("f1", "milestone-behind", "planted"), ticket.LosingTime, time.Hour))
		require.Equal(t, "1/26", first.Number)
		first.Reopened = []calendar.Date{} // as lists come back
		got, opened, err := w.OpenTicket(ctx, ticketOf("t2", first.Key, ticket.LosingTime, time.Hour))
		require.NoError(t, err)
		require.False(t, opened)
		require.Equal(t, first, got, "the one that is open")
		require.Equal(t, "2/26", w.open(ticketOf("t3", key("f3", "no-news", ""), ticket.Routine, time.Hour)).Number, "no number is lost")

		line, err := w.Ticket(ctx, ana, "t1")
		require.NoError(t, err)
		require.Equal(t, app.TicketLine{Ticket: first, Farm: "Hillside", BranchID: "buea", TouchedAt: now}, line)
		byNumber, err := w.TicketByNumber(ctx, app.Everything, 1, 2026)
		require.NoError(t, err)
		require.Equal(t, line, byNumber)
		sees(t, "a ticket", func(sc app.Scope) error { _, err := w.Ticket(ctx, sc, "t1"); return err }, []app.Scope{ana, carine, owner}, []app.Scope{douala})
		sees(t, "a ticket by its number", func(sc app.Scope) error { _, err := w.TicketByNumber(ctx, sc, 1, 2026); return err }, []app.Scope{ana}, []app.Scope{douala})

		changed := first
		changed.State, changed.WaitingOn, changed.HolderID, changed.Outcome = ticket.Settled, ticket.OnVet, "ana", "planted after all"
		changed.SettledAt, changed.SettledOn, changed.SettledBy, changed.RestsUntil = now, today, "ana", today.Add(9)
		changed.FirstWordAt, changed.GoneOn, changed.KeepsComing, changed.Reopened = now, today, true, []calendar.Date{today.Add(-4), today}
		changed.JoinedInto, changed.PreviousID, changed.CallID, changed.VisitID, changed.WorseAt = "t3", "t3", "call", "visit", 9.5
		require.NoError(t, w.ChangeTicket(ctx, changed))
		require.Equal(t, domain.KindStale, domain.KindOf(w.ChangeTicket(ctx, changed)))
		changed.Version = 2
		line, err = w.Ticket(ctx, ana, "t1")
		require.NoError(t, err)
		require.Equal(t, changed, line.Ticket)
		require.Equal(t, "Ana Étoile", line.Holder)

		next := w.open(ticketOf("t4", first.Key, ticket.Routine, time.Hour))
		require.Equal(t, "3/26", next.Number)
		changed.State = ticket.Assessed
		require.Equal(t, domain.KindConflict, domain.KindOf(w.ChangeTicket(ctx, changed)), "two open tickets for one problem")

		of, err := w.TicketsOf(ctx, []string{"f1", "f2"}, today.Add(1))
		require.NoError(t, err)
		require.Equal(t, []string{"t4"}, ids(of, func(t ticket.Ticket) string { return t.ID }), "settled before the day")
		of, err = w.TicketsOf(ctx, []string{"f1", "f3"}, today)
		require.NoError(t, err)
		require.ElementsMatch(t, []string{"t1", "t4", "t3"}, ids(of, func(t ticket.Ticket) string { return t.ID }))
	})
}

func TestPeoplesTicketsNeverCollide(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		for _, id := range []string{"a", "b"} {
			tk := ticketOf(id, key("f1", "", ""), ticket.Routine, time.Hour)
			tk.Origin, tk.Title, tk.Reasons = ticket.FromCall, "The pump stands still", nil
			w.open(tk)
		}
		_, err := w.OpenTicketOf(ctx, key("f1", "", ""))
		require.Equal(t, domain.KindNotFound, domain.KindOf(err))
		_, _, err = w.OpenTicket(ctx, ticketOf("a", key("f1", "", ""), ticket.Routine, time.Hour))
		require.Equal(t, domain.KindConflict, domain.KindOf(err), "the id is taken")
		require.Equal(t, 3, w.open(ticketOf("c", key("f1", "", ""), ticket.Routine, time.Hour)).Seq)
	})
}

// However many sweeps open a ticket for one problem at once, one is opened,
// and its number is the only one used.
func TestOneOpenTicketForOneProblem(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		const sweeps = 16
		var all sync.WaitGroup
		errs, got, opened := make([]error, sweeps), make([]ticket.Ticket, sweeps), make([]bool, sweeps)
		for i := range sweeps {
			all.Go(func() {
				tk := ticketOf(t.Name()+string(rune('a'+i)), key("f1", "no-news", ""), ticket.Routine, time.Hour)
				tk.Year = 2026
				got[i], opened[i], errs[i] = w.OpenTicket(ctx, tk)
			})
		}
		all.Wait()
		require.NoError(t, errors.Join(errs...))
		n := 0
		for i := range sweeps {
			require.Equal(t, got[0].ID, got[i].ID)
			if opened[i] {
				n++
			}
		}
		require.Equal(t, 1, n)
		require.Equal(t, 2, w.open(ticketOf("next", key("f2", "no-news", ""), ticket.Routine, time.Hour)).Seq)
	})
}

func TestAnUndoneOpeningGivesItsNumberBack(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		boom := errors.New("boom")
		require.ErrorIs(t, w.InTx(ctx, func(ctx context.Context) error {
			_, _, err := w.OpenTicket(ctx, ticketOf("t1", key("f1", "no-news", ""), ticket.Routine, time.Hour))
			require.NoError(t, err)
			return boom
		}), boom)
		require.Equal(t, 1, w.open(ticketOf("t1", key("f1", "no-news", ""), ticket.Routine, time.Hour)).Seq)
	})
}

func TestTicketQueue(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		w.open(ticketOf("late", key("f1", "no-news", ""), ticket.Routine, -time.Hour))
		w.open(ticketOf("soon", key("f2", "no-news", ""), ticket.Routine, time.Hour))
		w.open(ticketOf("animals", key("f1", "deaths-high", ""), ticket.AnimalsAtRisk, 2*time.Hour))
		w.open(ticketOf("far", key("f3", "no-news", ""), ticket.LosingTime, time.Hour))
		mine := w.open(ticketOf("mine", key("f2", "snag-due", ""), ticket.AnimalsAtRisk, time.Minute))
		mine.State, mine.HolderID, mine.FirstWordAt = ticket.InHand, "ana", now
		require.NoError(t, w.ChangeTicket(ctx, mine))
		done := w.open(ticketOf("done", key("f2", "go-ahead-short", ""), ticket.PersonInDanger, time.Minute))
		done.State, done.SettledAt, done.SettledOn = ticket.Settled, now, today
		require.NoError(t, w.ChangeTicket(ctx, done))

		for name, c := range map[string]struct {
			sc   app.Scope
			q    app.TicketQuery
			want []string
		}{
			"all open, most urgent first, what wants nothing last": {app.Everything, app.TicketQuery{}, []string{"animals", "mine", "far", "late", "soon"}},
			"a branch's people":  {ana, app.TicketQuery{}, []string{"animals", "mine", "late", "soon"}},
			"a caretaker's farm": {carine, app.TicketQuery{}, []string{"animals", "late"}},
			"nothing":            {nothing, app.TicketQuery{}, []string{}},
			"mine":               {ana, app.TicketQuery{Holder: "ana"}, []string{"mine"}},
			"nobody's":           {ana, app.TicketQuery{Nobody: true}, []string{"animals", "late", "soon"}},
			"a branch":           {app.Everything, app.TicketQuery{Branch: "douala"}, []string{"far"}},
			"a foreign branch":   {ana, app.TicketQuery{Branch: "douala"}, []string{}},
			"a state":            {app.Everything, app.TicketQuery{State: ticket.Settled}, []string{"done"}},
			"in hand":            {app.Everything, app.TicketQuery{State: ticket.InHand}, []string{"mine"}},
			"an urgency":         {app.Everything, app.TicketQuery{Urgency: ticket.Routine}, []string{"late", "soon"}},
			"overdue":            {app.Everything, app.TicketQuery{OverdueAt: now}, []string{"late"}},
			"due soon":           {app.Everything, app.TicketQuery{DueBefore: now.Add(90 * time.Minute)}, []string{"far", "late", "soon"}},
			"a farm":             {app.Everything, app.TicketQuery{FarmID: "f2"}, []string{"mine", "soon"}},
			"a rule":             {app.Everything, app.TicketQuery{Rule: "no-news", FarmID: "f1"}, []string{"late"}},
			"an origin":          {app.Everything, app.TicketQuery{Origin: ticket.FromCall}, []string{}},
		} {
			got, err := w.Tickets(ctx, c.sc, c.q)
			require.NoError(t, err, name)
			require.Equal(t, c.want, ticketIDs(got.Items), name)
		}
	})
}

func TestThreads(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		old := ticketOf("t1", key("f1", "no-news", ""), ticket.Routine, -2*time.Hour)
		old.OpenedAt = now.Add(-4 * time.Hour)
		w.open(old)
		line := func(id, person string, at time.Time, kind ticket.EventKind) app.TicketEvent {
			return app.TicketEvent{ID: id, TicketID: "t1", PersonID: person, At: at, On: today, Event: ticket.Event{
				Kind: kind, From: ticket.Reported, To: ticket.Assessed, Text: "seen", Data: map[string]any{"days": 4.0},
			}}
		}
		untouched := func() []string {
			got, err := w.Untouched(ctx, now)
			require.NoError(t, err)
			return ticketIDs(got)
		}
		require.Equal(t, []string{"t1"}, untouched())
		a, b, c := line("e1", "", now.Add(-3*time.Hour), ticket.Opened), line("e2", "ana", now.Add(-3*time.Hour), ticket.Noted), line("e3", "", now.Add(-time.Hour), ticket.Untouched)
		require.NoError(t, w.AddTicketEvents(ctx, a, b))
		require.Equal(t, []string{"t1"}, untouched(), "touched before it was due")
		require.NoError(t, w.AddTicketEvents(ctx, c))
		require.Empty(t, untouched(), "the manager has been told, once")
		got, err := w.TicketEvents(ctx, "t1")
		require.NoError(t, err)
		require.Equal(t, []app.TicketEvent{a, b, c}, got)

		old.ID, old.Key = "t2", key("f2", "no-news", "")
		w.open(old)
		d := line("e4", "ana", now, ticket.Noted)
		d.TicketID = "t2"
		require.NoError(t, w.AddTicketEvents(ctx, d))
		require.Empty(t, untouched(), "a person has dealt with it")
		tk, err := w.Ticket(ctx, ana, "t2")
		require.NoError(t, err)
		require.Equal(t, now, tk.TouchedAt)
	})
}

func TestFindings(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		clock := func(farmID, rule string) sweep.Clock {
			return sweep.Clock{
				Key:       ticket.Key{FarmID: farmID, UnitID: "u1", CycleID: "y1", Rule: rule, Subject: "planted"},
				TrueSince: today.Add(-4), FalseSince: today.Add(-1), Still: 2, LastOn: today, MutedBy: key(farmID, "no-news", ""),
				Reasons: []domain.Reason{{Code: "late", Values: map[string]any{"days": 4.0}}},
			}
		}
		a, b, other := clock("f1", "a"), clock("f1", "b"), clock("f3", "a")
		require.NoError(t, w.SetFindings(ctx, "f1", []sweep.Clock{a, b}))
		require.NoError(t, w.SetFindings(ctx, "f3", []sweep.Clock{other}))
		b.MutedBy, b.Reasons, b.Still = ticket.Key{}, nil, 3
		c := clock("f1", "c")
		for range 2 {
			require.NoError(t, w.SetFindings(ctx, "f1", []sweep.Clock{b, c}))
		}
		got, err := w.FindingsOf(ctx, []string{"f1"})
		require.NoError(t, err)
		require.Len(t, got, 2)
		got[0].Reasons = nil
		require.Equal(t, []sweep.Clock{b, c}, got)
		got, err = w.FindingsOf(ctx, []string{"f3"})
		require.NoError(t, err)
		require.Equal(t, []sweep.Clock{other}, got)
		require.NoError(t, w.SetFindings(ctx, "f1", nil))
		got, err = w.FindingsOf(ctx, []string{"f1"})
		require.NoError(t, err)
		require.Empty(t, got)
	})
}

func TestSweepRuns(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		last, err := s.LastSweep(ctx)
		require.NoError(t, err)
		require.Equal(t, app.SweepRun{}, last)
		run := func(id string, day int) app.SweepRun {
			return app.SweepRun{ID: id, On: today.Add(day), StartedAt: now.Add(time.Duration(day) * 24 * time.Hour)}
		}
		for i, r := range []app.SweepRun{run("a", -2), run("b", 0), run("c", -1), run("open", 1)} {
			require.NoError(t, s.BeginSweep(ctx, r))
			if r.ID != "open" {
				require.NoError(t, s.EndSweep(ctx, r.ID, now.Add(time.Duration(i)*time.Minute), []byte(`{"farms":3}`)))
			}
		}
		require.Equal(t, domain.KindNotFound, domain.KindOf(s.EndSweep(ctx, "nothing", now, nil)))
		last, err = s.LastSweep(ctx)
		require.NoError(t, err)
		require.Equal(t, "b", last.ID)
		require.JSONEq(t, `{"farms":3}`, string(last.Summary))
		n, err := s.PurgeSweeps(ctx, now.Add(24*time.Hour))
		require.NoError(t, err)
		require.Equal(t, 2, n, "the last one and one under way stay")
	})
}
