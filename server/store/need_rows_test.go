package store_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/domain/sweep"
	"tendfold/domain/ticket"
	"tendfold/domain/visit"
	"tendfold/server/app"
	"tendfold/server/store"
	"tendfold/server/store/storetest"

	"github.com/stretchr/testify/require"
)

// watch begins to watch farms.
func (w *world) watch(ids ...string) {
	w.t.Helper()
	_, err := w.Watch(ctx, ids, today)
	require.NoError(w.t, err)
}

func TestNeedRows(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		w.watch("f1", "f3")
		must := func(err error) { t.Helper(); require.NoError(t, err) }
		must(w.SetOutlook(ctx, app.Outlook{CycleID: "y1", Standing: programme.NoNews, Entered: programme.Behind, EnteredOn: today.Add(-4), OwnSlip: 9, Detail: []byte(`{"next":"stocked"}`), Hash: 1}))
		_, err := w.AppendEvents(ctx, app.Event{ID: "e1", FarmID: "f1", Kind: "note", On: today.Add(-3), RecordedAt: now, Evidence: true},
			app.Event{ID: "e2", FarmID: "f1", Kind: "note", On: today.Add(3), RecordedAt: now, Evidence: true})
		must(err)
		must(w.AddSnags(ctx, app.Snag{ID: "n1", FarmID: "f1", UnitID: "u1", Text: "door", FoundOn: today.Add(-9)}, app.Snag{ID: "n2", FarmID: "f1", UnitID: "u1", Text: "roof", FoundOn: today.Add(-9), FixedOn: today}))
		must(w.AddPasses(ctx, app.Pass{PersonID: "care", Enterprise: "snail", Module: "water", On: today.Add(-30), Until: today.Add(300), How: "visit"}))
		must(w.AddPromises(ctx,
			app.Promise{ID: "p1", FarmID: "f1", Kind: "visit", Text: "I come", DueOn: today, MadeBy: "ana", MadeOn: today.Add(-2)},
			app.Promise{ID: "p2", FarmID: "f1", Kind: "other", Text: "I send", DueOn: today, MadeBy: "ana"},
			app.Promise{ID: "p3", FarmID: "f1", Kind: "visit", Text: "I came", DueOn: today, MadeBy: "ana", KeptOn: today}))
		must(w.AddVisitRequest(ctx, app.VisitRequest{ID: "r1", FarmID: "f1", PersonID: "own", On: today, Text: "please"}))
		must(w.AddVisitRequest(ctx, app.VisitRequest{ID: "r2", FarmID: "f1", PersonID: "own", On: today, AnsweredOn: today, Text: "thanks"}))
		must(w.AddVisits(ctx,
			app.Visit{ID: "v1", FarmID: "f1", OfficerID: "ana", On: today.Add(-5), State: app.VisitDone, DoneOn: today.Add(-5), Dealt: []visit.Dealt{{Key: "schedule", On: today.Add(-5), Size: 7}}},
			app.Visit{ID: "v2", FarmID: "f1", OfficerID: "ana", On: today.Add(2), State: app.VisitPlanned},
			app.Visit{ID: "v3", FarmID: "f1", OfficerID: "ana", On: today.Add(-500), State: app.VisitDone, DoneOn: today.Add(-500), Dealt: []visit.Dealt{{Key: "old"}}}))
		must(w.SetFindings(ctx, "f1", []sweep.Clock{
			{Key: ticket.Key{FarmID: "f1", CycleID: "y1", UnitID: "u1", Rule: sweep.GoAheadShort, Subject: "ready"}, TrueSince: today.Add(-8), LastOn: today},
			{Key: ticket.Key{FarmID: "f1", CycleID: "y1", UnitID: "u1", Rule: sweep.GoAheadShort, Subject: "gone"}, TrueSince: today.Add(-8), FalseSince: today, LastOn: today},
			{Key: key("f1", sweep.NoNews, ""), TrueSince: today.Add(-8), LastOn: today},
		}))
		tk := w.open(ticketOf("t1", key("f1", sweep.NoNews, ""), ticket.Routine, time.Hour))
		by := ticket.Act{PersonID: "ana", At: now, On: today}
		for i, e := range []ticket.Event{
			{Kind: ticket.Worse, Data: map[string]any{"value": 4}},
			{Kind: ticket.Judged, Data: map[string]any{"was": "routine", "urgency": "losing-time"}},
			{Kind: ticket.Noted, Text: `an "urgency" in words`},
			{Kind: ticket.Opened, Data: map[string]any{"urgency": "routine"}},
		} {
			must(w.AddTicketEvents(ctx, app.TicketEvent{ID: w.fresh("e"), TicketID: "t1", PersonID: by.PersonID, At: now.Add(time.Duration(i) * time.Second), On: today, Event: e}))
		}

		q := app.NeedQuery{On: today, Since: today.Add(-400)}
		rows, err := w.NeedRows(ctx, ana, q)
		must(err)
		require.Equal(t, []string{"f1"}, ids(rows.Farms, func(f app.NeedFarm) string { return f.ID }), "nobody watches f2")
		f := rows.Farms[0]
		require.Equal(t, []any{"Hillside", "Ngoh Ltd", today.Add(-3), today.Add(-5), true}, []any{f.Name, f.Client, f.Heard, f.Visited, f.Position.Known})
		require.Equal(t, []app.NeedCycle{{
			FarmID: "f1", ID: "y1", UnitID: "u1", Enterprise: "snail", Purpose: "grow-out", Started: today.Add(-50), Standing: programme.NoNews,
			Schedule: programme.Behind, EnteredOn: today.Add(-4), OwnSlip: 9, Outlook: []byte(`{"next":"stocked"}`),
		}}, rows.Cycles)
		require.Equal(t, []app.FactUnit{{FarmID: "f1", ID: "u1", Enterprise: "snail", HandedOver: today.Add(-60), DefectsMonths: 6}}, rows.Units)
		require.Equal(t, []app.NeedShort{{FarmID: "f1", CycleID: "y1", GoAhead: "ready", Since: today.Add(-8)}}, rows.Short)
		require.Equal(t, []app.FactSnag{{FarmID: "f1", UnitID: "u1", Found: today.Add(-9)}}, rows.Snags)
		require.Equal(t, []app.FactWork{{FarmID: "f1", PersonID: "care", InCharge: true, Since: calendar.MustDate("2026-01-05")}}, rows.Work)
		require.Equal(t, []app.FactPass{{FarmID: "f1", PersonID: "care", Enterprise: "snail", Module: "water", On: today.Add(-30), Until: today.Add(300)}}, rows.Passes)
		require.Equal(t, []app.Promise{{ID: "p1", FarmID: "f1", Text: "I come", DueOn: today, MadeOn: today.Add(-2)}}, rows.Promises)
		require.Equal(t, []app.VisitRequest{{ID: "r1", FarmID: "f1", PersonID: "own", On: today, Text: "please"}}, rows.Requests)
		require.Equal(t, []app.NeedTicket{{FarmID: "f1", ID: "t1", Number: tk.Number, Rule: sweep.NoNews, Urgency: ticket.Routine, Opened: today, Reopened: nil}}, rows.Tickets)
		kinds := ids(rows.Events, func(e app.TicketEvent) string { return string(e.Kind) })
		slices.Sort(kinds)
		require.Equal(t, []string{"judged", "worse"}, kinds)
		require.Equal(t, []app.NeedDealt{{FarmID: "f1", Dealt: []visit.Dealt{{Key: "schedule", On: today.Add(-5), Size: 7}}}}, rows.Dealt)
		require.Equal(t, []string{"v2"}, ids(rows.Planned, func(v app.Visit) string { return v.ID }))

		for name, c := range map[string]struct {
			sc   app.Scope
			q    app.NeedQuery
			want string
		}{
			"all":              {app.Everything, q, "f1 f3"},
			"another branch":   {douala, q, "f3"},
			"nothing":          {nothing, q, ""},
			"a branch":         {app.Everything, app.NeedQuery{On: today, Branch: "buea"}, "f1"},
			"one, not watched": {app.Everything, app.NeedQuery{On: today, FarmID: "f2"}, "f2"},
			"not hers":         {ana, app.NeedQuery{On: today, FarmID: "f3"}, ""},
		} {
			rows, err := w.NeedRows(ctx, c.sc, c.q)
			must(err)
			got := ids(rows.Farms, func(f app.NeedFarm) string { return f.ID })
			slices.Sort(got)
			require.Equal(t, c.want, strings.Join(got, " "), name)
		}
	})
}

func TestQuietFarms(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		quiet := func(sc app.Scope, days int, branch string) string {
			rows, err := w.QuietFarms(ctx, sc, app.QuietQuery{On: today, Days: days, Branch: branch, Limit: 10})
			require.NoError(t, err)
			var out []string
			for _, r := range rows {
				out = append(out, r.FarmID+" "+r.Since.String())
			}
			return strings.Join(out, ", ")
		}
		require.Empty(t, quiet(app.Everything, 0, ""), "nobody watches them")
		w.watch("f1", "f2", "f3")
		for _, id := range []string{"f1", "f2", "f3"} {
			f, err := w.Farm(ctx, app.Everything, id)
			require.NoError(t, err)
			f.IntakeOn = today.Add(-90)
			require.NoError(t, w.ChangeFarm(ctx, f.Farm))
		}
		// f2 has no cycle; the others were handed over 60 days ago.
		require.Equal(t, "f1 2026-01-11, f3 2026-01-11", quiet(app.Everything, 7, ""))
		require.Equal(t, "f3 2026-01-11", quiet(douala, 7, ""))
		require.Equal(t, "f1 2026-01-11", quiet(app.Everything, 60, "buea"))
		require.Empty(t, quiet(app.Everything, 61, ""))
		_, err := w.AppendEvents(ctx, app.Event{ID: "e1", FarmID: "f1", Kind: "note", On: today.Add(-8), RecordedAt: now, Evidence: true},
			app.Event{ID: "e2", FarmID: "f1", Kind: "note", On: today.Add(1), RecordedAt: now, Evidence: true})
		require.NoError(t, err)
		require.NoError(t, w.AddVisits(ctx, app.Visit{ID: "v1", FarmID: "f3", OfficerID: "dou", On: today.Add(-7), State: app.VisitDone, DoneOn: today.Add(-7)},
			app.Visit{ID: "v2", FarmID: "f3", OfficerID: "dou", On: today.Add(-1), State: app.VisitPlanned}))
		require.Equal(t, "f1 2026-03-04, f3 2026-03-05", quiet(app.Everything, 7, ""))
		require.Equal(t, "f1 2026-03-04", quiet(app.Everything, 8, ""))
		require.NoError(t, w.SetSwept(ctx, app.Swept{FarmID: "f1", Standing: programme.PausedStanding, On: today, Changes: changesOf(t, w, "f1")}))
		require.Equal(t, "f3 2026-03-05", quiet(app.Everything, 7, ""), "a farm whose work rests may be quiet")
	})
}

func changesOf(t *testing.T, w *world, id string) int {
	t.Helper()
	rows, err := w.FactRows(ctx, app.FactQuery{FarmID: id, On: today, Limit: 1})
	require.NoError(t, err)
	return rows.Farms[0].Changes
}

func TestLoadRows(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		w.open(ticketOf("t1", key("f1", sweep.NoNews, ""), ticket.Routine, time.Hour))
		w.open(ticketOf("t2", key("f3", sweep.HarvestSlip, ""), ticket.LosingTime, time.Hour))
		byHand := ticketOf("t3", ticket.Key{FarmID: "f1"}, ticket.Routine, 100*time.Hour)
		byHand.Origin, byHand.HolderID, byHand.OpenedAt, byHand.OpenedOn = ticket.FromCall, "ana", now.Add(24*time.Hour), today.Add(1)
		w.open(byHand)
		add := func(id, person string, kind ticket.EventKind, on int) {
			require.NoError(t, w.AddTicketEvents(ctx, app.TicketEvent{ID: w.fresh("e"), TicketID: id, PersonID: person, At: now.Add(time.Duration(on) * 24 * time.Hour), On: today.Add(on), Event: ticket.Event{Kind: kind}}))
		}
		add("t1", "", ticket.Reopened, 2)
		add("t2", "mo", ticket.Reopened, 2)
		add("t2", "", ticket.Worse, 2)

		raised := func(sc app.Scope, q app.LoadQuery) string {
			rows, err := w.Raised(ctx, sc, q)
			require.NoError(t, err)
			var out []string
			for _, r := range rows {
				how := map[bool]string{true: "again", false: "opened"}[r.Reopened]
				if r.BySweep {
					how += " by the sweep"
				}
				out = append(out, strings.Join([]string{r.On.String()[8:], r.BranchID, r.Rule, how}, " "))
			}
			return strings.Join(out, "; ")
		}
		all := app.LoadQuery{From: today, To: today.Add(9)}
		require.Equal(t, "12 buea no-news opened by the sweep; 13 buea  opened; 14 buea no-news again by the sweep", raised(ana, all))
		require.Equal(t, "12 douala harvest-slip opened by the sweep; 14 douala harvest-slip again", raised(app.Everything, app.LoadQuery{From: today, To: today.Add(9), Branch: "douala"}))
		require.Equal(t, "13 buea  opened", raised(app.Everything, app.LoadQuery{From: today.Add(1), To: today.Add(1)}))
		require.Equal(t, "13 buea  opened", raised(app.Everything, app.LoadQuery{From: today, To: today.Add(9), Holder: "ana"}))
		require.Empty(t, raised(nothing, all))

		at := now.Add(2 * time.Hour)
		totals, err := w.TicketTotals(ctx, app.Everything, all, at)
		require.NoError(t, err)
		require.Equal(t, app.TicketTotals{Open: 3, Overdue: 2}, totals)
		lying, err := w.LeftLying(ctx, app.Everything, all, at, 10)
		require.NoError(t, err)
		require.Equal(t, []string{"t1"}, ticketIDs(lying), "mo has touched t2")
		lying, err = w.LeftLying(ctx, douala, all, at, 10)
		require.NoError(t, err)
		require.Empty(t, lying)

		got, err := w.Ticket(ctx, app.Everything, "t1")
		require.NoError(t, err)
		done := got.Ticket
		done.State, done.SettledBy, done.SettledOn, done.SettledAt = ticket.Settled, "ana", today.Add(1), now.Add(24*time.Hour)
		require.NoError(t, w.ChangeTicket(ctx, done))
		for q, want := range map[app.LoadQuery]app.TicketTotals{
			all: {Open: 2, Overdue: 1, Settled: 1},
			{From: today, To: today.Add(9), Holder: "ana"}: {Open: 1, Settled: 1},
			{From: today, To: today.Add(9), Holder: "mo"}:  {},
			{From: today.Add(2), To: today.Add(9)}:         {Open: 2, Overdue: 1},
			{From: today, To: today, Branch: "douala"}:     {Open: 1, Overdue: 1},
		} {
			totals, err := w.TicketTotals(ctx, app.Everything, q, at)
			require.NoError(t, err)
			require.Equal(t, want, totals, "%+v", q)
		}
	})
}

func TestUnwatchedFarms(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		unwatched := func(sc app.Scope, branch string) []string {
			lines, err := w.UnwatchedFarms(ctx, sc, branch)
			require.NoError(t, err)
			return farmIDs(lines)
		}
		require.Equal(t, []string{"f1", "f2"}, unwatched(app.Everything, "buea"))
		require.Empty(t, unwatched(ana, "douala"))
		before := changesOf(t, w, "f1")
		w.watch("f1")
		require.Equal(t, before+1, changesOf(t, w, "f1"), "a sweep that read it before writes nothing")
		require.Equal(t, []string{"f2"}, unwatched(ana, "buea"))
		f, err := w.Farm(ctx, app.Everything, "f2")
		require.NoError(t, err)
		f.Status = farm.Closed
		require.NoError(t, w.ChangeFarm(ctx, f.Farm))
		require.Empty(t, unwatched(ana, "buea"))
	})
}
