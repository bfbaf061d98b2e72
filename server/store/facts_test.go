package store_test

import (
	"context"
	"fmt"
	"slices"
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/domain/sweep"
	"tendfold/domain/ticket"
	"tendfold/server/app"
	"tendfold/server/store"
	"tendfold/server/store/storetest"

	"github.com/stretchr/testify/require"
)

func facts(t *testing.T, s *store.Store, q app.FactQuery) app.FactRows {
	t.Helper()
	q.On, q.Since, q.SettledSince = today, today.Add(-60), today.Add(-120)
	if q.Limit == 0 {
		q.Limit = 1000
	}
	rows, err := s.FactRows(ctx, q)
	require.NoError(t, err)
	return rows
}

func TestFactsOfOneFarm(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		must := func(err error) { t.Helper(); require.NoError(t, err) }
		done := milestone("y1", "planted", -50)
		done.DoneOn = today.Add(-48)
		must(w.AddMilestones(ctx, milestone("y1", "stocked", -10), done))
		pause := app.Pause{ID: "p1", CycleID: "y1", From: today.Add(-5), Until: today.Add(5), Reason: "floods", AskedBy: "ana", Version: 1}
		later := pause
		later.ID, later.From = "p2", today.Add(1)
		must(w.AddPause(ctx, pause))
		must(w.AddPause(ctx, later))
		must(w.PutMarks(ctx, app.Mark{CycleID: "y1", Item: "soil", Answer: farm.Yes, Grade: farm.Photo, On: today}, app.Mark{CycleID: "y1", Item: "tomorrow's", Answer: farm.Yes, Grade: farm.Photo, On: today.Add(1)}))
		reading := programme.Reading{Kind: "cover", On: today.Add(-3), Value: 40.5, N: 3, SD: 1.5}
		must(w.AddReadings(ctx, app.Reading{ID: "r1", CycleID: "y1", Reading: reading}, app.Reading{ID: "r2", CycleID: "y1", Reading: programme.Reading{Kind: "cover", On: today.Add(1), Value: 50}}))
		must(w.AddBatches(ctx, farm.Batch{ID: "b2", UnitID: "u1", CycleID: "y1", MeanWeightG: 20, StockedOn: today}, farm.Batch{ID: "b1", UnitID: "u1", CycleID: "y1", MeanWeightG: 12.5, StockedOn: today.Add(-9)}))
		for i, day := range []int{-400, -80, -60, -59, -1, 0, 1} {
			_, err := w.AppendEvents(ctx, event(fmt.Sprintf("e%d", i), "f1", day))
			must(err)
		}
		visit := app.Visit{ID: "v1", FarmID: "f1", OfficerID: "ana", On: today.Add(-8), State: app.VisitDone, DoneOn: today.Add(-7), PlannedBy: "mo"}
		planned, tomorrow := visit, visit
		planned.ID, planned.State, planned.DoneOn = "v2", app.VisitPlanned, 0
		tomorrow.ID, tomorrow.DoneOn = "v3", today.Add(1)
		must(w.AddVisits(ctx, visit, planned, tomorrow))
		must(w.AddPasses(ctx, app.Pass{PersonID: "care", Enterprise: "snail", Module: "handling", On: today.Add(-20), Until: today.Add(300), How: "in-person"}, app.Pass{PersonID: "far", Enterprise: "snail", Module: "handling", On: today, Until: today, How: "phone"}))
		must(w.AddSnags(ctx, app.Snag{ID: "n1", FarmID: "f1", UnitID: "u1", Text: "door", FoundOn: today.Add(-30), FixedOn: today.Add(-2)}))
		clock := sweep.Clock{Key: key("f1", "no-news", ""), TrueSince: today.Add(-2), LastOn: today.Add(-1), Reasons: []domain.Reason{{Code: "no-news"}}}
		must(w.SetFindings(ctx, "f1", []sweep.Clock{clock}))
		open := w.open(ticketOf("t1", clock.Key, ticket.Routine, time.Hour))
		for _, c := range []struct {
			id  string
			day int
		}{{"t2", -120}, {"t3", -121}} {
			tk := w.open(ticketOf(c.id, key("f1", "snag-due", c.id), ticket.Routine, time.Hour))
			tk.State, tk.SettledOn = ticket.Settled, today.Add(c.day)
			must(w.ChangeTicket(ctx, tk))
		}
		must(w.SetOutlook(ctx, app.Outlook{CycleID: "y1", Standing: programme.Behind, Entered: programme.Slipping, Hash: 1 << 63}))
		must(w.SetSwept(ctx, app.Swept{FarmID: "f1", Standing: programme.Behind, OwnSlip: 4, On: today.Add(-1)}))
		must(w.CountChange(ctx, "f1"))

		got := facts(t, s, app.FactQuery{FarmID: "f1"})
		require.Equal(t, []app.FactFarm{{ID: "f1", BranchID: "buea", Status: farm.Active, Intake: today, SweptOn: today.Add(-1), Standing: programme.Behind, OwnSlip: 4, Changes: 2}}, got.Farms)
		require.Equal(t, []app.FactUnit{{FarmID: "f1", ID: "u1", Enterprise: "snail", HandedOver: today.Add(-60), DefectsMonths: 6}}, got.Units)
		require.Equal(t, []app.FactCycle{{FarmID: "f1", ID: "y1", UnitID: "u1", Enterprise: "snail", Purpose: "grow-out", Started: today.Add(-50), Entered: programme.Slipping, Hash: 1 << 63, StockedG: 12.5}}, got.Cycles)
		require.Equal(t, []app.FactMilestone{{FarmID: "f1", CycleID: "y1", Window: done.Window, Done: done.DoneOn}, {FarmID: "f1", CycleID: "y1", Window: milestone("y1", "stocked", -10).Window}}, got.Milestones)
		require.Equal(t, []app.FactPause{{FarmID: "f1", Pause: pause}}, got.Pauses)
		require.Equal(t, []app.FactMark{{FarmID: "f1", CycleID: "y1", Item: "soil", Mark: sweep.Mark{Answer: farm.Yes, Grade: farm.Photo, On: today}}}, got.Marks)
		require.Equal(t, []app.FactReading{{FarmID: "f1", CycleID: "y1", Reading: reading}}, got.Readings)
		require.Equal(t, []calendar.Date{today.Add(-60), today.Add(-59), today.Add(-1), today}, ids(got.Evidence, func(d app.FactDay) calendar.Date { return d.On }), "the window, and the last day before it")
		require.Equal(t, []app.FactDay{{FarmID: "f1", On: today.Add(-7)}}, got.Visits)
		require.Equal(t, []app.FactWork{{FarmID: "f1", PersonID: "care", InCharge: true, Since: calendar.MustDate("2026-01-05")}}, got.Work)
		require.Equal(t, []app.FactPass{{FarmID: "f1", PersonID: "care", Enterprise: "snail", Module: "handling", On: today.Add(-20), Until: today.Add(300)}}, got.Passes)
		require.Equal(t, []app.FactSnag{{FarmID: "f1", UnitID: "u1", Found: today.Add(-30), Fixed: today.Add(-2)}}, got.Snags)
		clock.Reasons = nil // the day gives new ones
		require.Equal(t, []sweep.Clock{clock}, got.Clocks)
		require.ElementsMatch(t, []string{"t1", "t2"}, ids(got.Tickets, func(f app.TicketFact) string { return f.ID }))
		i := slices.IndexFunc(got.Tickets, func(f app.TicketFact) bool { return f.ID == "t1" })
		open.Reopened = []calendar.Date{}
		require.Contains(t, got.Tickets[i].Said, "milestone-behind", "reasons stay as they are stored")
		open.Reasons, open.FirstReason, open.Said = nil, nil, got.Tickets[i].Said
		require.Equal(t, app.TicketFact{Ticket: open, TouchedAt: now}, got.Tickets[i])

		require.Empty(t, facts(t, s, app.FactQuery{FarmID: "f2"}).Farms, "it has no running cycle")
		require.Empty(t, facts(t, s, app.FactQuery{FarmID: "nothing"}).Farms)
	})
}

// Farms without a running cycle lie between the others, with rows of their
// own in every table; pages of any size are the whole.
func TestFactsByPages(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		require.NoError(t, w.InTx(ctx, func(ctx context.Context) error {
			for i := range 20 {
				fillFarm(ctx, t, w, fmt.Sprintf("g%02d", i), i%3 != 0)
			}
			return nil
		}))
		whole := facts(t, s, app.FactQuery{})
		require.Len(t, whole.Farms, 2+13)
		require.True(t, slices.IsSorted(ids(whole.Farms, func(f app.FactFarm) string { return f.ID })))
		for _, limit := range []int{1, 2, 7, 15, 16} {
			var sum app.FactRows
			for at := ""; ; {
				p := facts(t, s, app.FactQuery{After: at, Limit: limit})
				if len(p.Farms) == 0 {
					break
				}
				require.LessOrEqual(t, len(p.Farms), limit)
				at = p.Farms[len(p.Farms)-1].ID
				sum = joinFacts(sum, p)
			}
			require.Equal(t, whole, sum, "pages of %d", limit)
		}
		one := facts(t, s, app.FactQuery{FarmID: "g01"})
		require.Len(t, one.Evidence, 3)
		require.Len(t, one.Units, 1)
	})
}

func fillFarm(ctx context.Context, t *testing.T, w *world, id string, running bool) {
	must := func(err error) { t.Helper(); require.NoError(t, err) }
	must(w.AddFarms(ctx, now, place(id, "c2", "douala", id)))
	must(w.AddUnits(ctx, unit("u"+id, id)))
	c := cycle("y"+id, id, "u"+id)
	if !running {
		c.EndedOn = today
	}
	must(w.AddCycles(ctx, c))
	must(w.AddMilestones(ctx, milestone(c.ID, "planted", -50), milestone(c.ID, "stocked", -10)))
	must(w.PutMarks(ctx, app.Mark{CycleID: c.ID, Item: "soil", Answer: farm.Yes, Grade: farm.Photo, On: today}))
	must(w.AddReadings(ctx, app.Reading{ID: "r" + id, CycleID: c.ID, Reading: programme.Reading{Kind: "cover", On: today, Value: 4}}))
	must(w.AddPause(ctx, app.Pause{ID: "p" + id, CycleID: c.ID, From: today, Until: today, Reason: "x", AskedBy: "mo", Version: 1}))
	must(w.SetWork(ctx, farm.Work{FarmID: id, PersonID: "care", InCharge: true}))
	must(w.AddSnags(ctx, app.Snag{ID: "n" + id, FarmID: id, UnitID: "u" + id, Text: "x", FoundOn: today}))
	must(w.AddVisits(ctx, app.Visit{ID: "v" + id, FarmID: id, OfficerID: "ana", On: today, State: app.VisitDone, DoneOn: today, PlannedBy: "mo"}))
	must(w.SetFindings(ctx, id, []sweep.Clock{{Key: key(id, "no-news", ""), TrueSince: today, LastOn: today}}))
	for i, day := range []int{-100, -3, 0} {
		e := event(fmt.Sprintf("%s-%d", id, i), id, day)
		_, err := w.AppendEvents(ctx, e)
		must(err)
	}
	w.openIn(ctx, ticketOf("t"+id, key(id, "no-news", ""), ticket.Routine, time.Hour))
}

func joinFacts(a, b app.FactRows) app.FactRows {
	return app.FactRows{
		Farms: append(a.Farms, b.Farms...), Units: append(a.Units, b.Units...), Cycles: append(a.Cycles, b.Cycles...),
		Milestones: append(a.Milestones, b.Milestones...), Pauses: append(a.Pauses, b.Pauses...), Marks: append(a.Marks, b.Marks...),
		Readings: append(a.Readings, b.Readings...), Evidence: append(a.Evidence, b.Evidence...), Visits: append(a.Visits, b.Visits...),
		Work: append(a.Work, b.Work...), Passes: append(a.Passes, b.Passes...), Snags: append(a.Snags, b.Snags...),
		Clocks: append(a.Clocks, b.Clocks...), Tickets: append(a.Tickets, b.Tickets...),
	}
}

// Whatever is committed while facts are read belongs to the next reading.
func TestFactsSeeOneMoment(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		stop := make(chan struct{})
		wrote := make(chan error, 1)
		go func() {
			// Both halves change together, so a reader must see them equal.
			for i := 1; ; i++ {
				err := w.InTx(context.Background(), func(ctx context.Context) error {
					if err := w.CountChange(ctx, "f1"); err != nil {
						return err
					}
					return w.AddMilestones(ctx, milestone("y1", fmt.Sprintf("m%04d", i), i))
				})
				select {
				case <-stop:
					wrote <- err
					return
				default:
					if err != nil {
						wrote <- err
						return
					}
				}
			}
		}()
		for range 40 {
			got := facts(t, s, app.FactQuery{FarmID: "f1"})
			require.Len(t, got.Milestones, got.Farms[0].Changes)
		}
		close(stop)
		require.NoError(t, <-wrote)
	})
}
