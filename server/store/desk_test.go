package store_test

import (
	"context"
	"errors"
	"sync"
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/ticket"
	"tendfold/domain/visit"
	"tendfold/server/app"
	"tendfold/server/store"
	"tendfold/server/store/storetest"

	"github.com/stretchr/testify/require"
)

func TestCalls(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		c := app.Call{
			ID: "k1", FarmID: "f1", PersonID: "care", Phone: "+999677123456", Channel: "phone", Said: "dry", Advice: "water at dusk",
			TicketID: "t1", TakenBy: "ana", StartedAt: now, EndedAt: now.Add(time.Minute), Version: 1,
		}
		require.NoError(t, w.AddCall(ctx, c))
		unknown := app.Call{ID: "k2", Phone: "12", Channel: "text", TakenBy: "ana", StartedAt: now.Add(time.Hour), Version: 1}
		require.NoError(t, w.AddCall(ctx, unknown))
		of := func(who, id string) func(app.Scope) error {
			return func(sc app.Scope) error { _, err := w.Call(ctx, sc, who, id); return err }
		}
		sees(t, "a call", of("ana", "k1"), []app.Scope{ana, carine, owner}, []app.Scope{douala})
		sees(t, "a call about no known farm", of("dou", "k2"), nil, []app.Scope{ana, douala})
		require.NoError(t, of("ana", "k2")(ana), "but she took it")
		stale(t, func(id string, version int) error {
			d := c
			d.ID, d.Version, d.Advice = id, version, "shade"
			return w.ChangeCall(ctx, d)
		}, "k1")
		unknown.FarmID = "f1"
		require.NoError(t, w.ChangeCall(ctx, unknown))
	})
}

func TestCallLines(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		opened := w.open(ticketOf("t1", key("f1", "no-news", ""), ticket.Routine, time.Hour))
		known := app.Call{ID: "k1", FarmID: "f1", PersonID: "care", Phone: "+999677123456", Channel: "phone", Said: "dry", TicketID: "t1", TakenBy: "ana", StartedAt: now, EndedAt: now.Add(time.Minute), Version: 1}
		other := app.Call{ID: "k2", FarmID: "f3", Channel: "chat", Said: "hm", TakenBy: "dou", StartedAt: now.Add(time.Hour), Version: 1}
		unknown := app.Call{ID: "k3", Phone: "12", Channel: "text", TakenBy: "ana", StartedAt: now.Add(2 * time.Hour), Version: 1}
		for _, c := range []app.Call{known, other, unknown} {
			require.NoError(t, w.AddCall(ctx, c))
		}
		promise := app.Promise{ID: "p1", CallID: "k1", FarmID: "f1", Kind: "visit", Text: "I come", DueOn: today.Add(3), MadeBy: "ana", MadeOn: today, Version: 1}
		require.NoError(t, w.AddPromises(ctx, promise))

		list := func(sc app.Scope, who string, q app.CallQuery) []string {
			p, err := w.CallLines(ctx, sc, who, q)
			require.NoError(t, err)
			return ids(p.Items, func(l app.CallLine) string { return l.ID })
		}
		require.Equal(t, []string{"k3", "k2", "k1"}, list(app.Everything, "mo", app.CallQuery{}))
		require.Equal(t, []string{"k3", "k1"}, list(ana, "ana", app.CallQuery{}), "what she took about no known farm, too")
		require.Equal(t, []string{"k2"}, list(douala, "dou", app.CallQuery{}))
		require.Equal(t, []string{"k1"}, list(ana, "mo", app.CallQuery{FarmID: "f1"}))
		require.Equal(t, []string{"k3"}, list(app.Everything, "mo", app.CallQuery{NoFarm: true}))
		require.Equal(t, []string{"k2"}, list(app.Everything, "mo", app.CallQuery{TakenBy: "dou"}))
		require.Empty(t, list(nothing, "own", app.CallQuery{}))

		one, err := w.CallLines(ctx, ana, "ana", app.CallQuery{Limit: 1})
		require.NoError(t, err)
		next, err := w.CallLines(ctx, ana, "ana", app.CallQuery{Cursor: one.Next, Limit: 1})
		require.NoError(t, err)
		require.Equal(t, []app.CallLine{{Call: known, Farm: "Hillside", Person: "Carine Ngwa", Taker: "Ana Étoile", Ticket: opened.Number, Promises: []app.Promise{promise}}}, next.Items)
	})
}

func TestPromises(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		promise := func(id, farmID, by string, day int) app.Promise {
			return app.Promise{ID: id, CallID: "k1", FarmID: farmID, Kind: "call-back", Text: "ring again", DueOn: today.Add(day), MadeBy: by, Version: 1}
		}
		require.NoError(t, w.AddPromises(ctx, promise("p2", "f1", "ana", 0), promise("p1", "f2", "ana", -2), promise("p3", "f3", "dou", -1), promise("p4", "f1", "mo", 5)))
		yes, no := true, false
		list := func(sc app.Scope, q app.PromiseQuery) []string {
			p, err := w.PromiseLines(ctx, sc, q)
			require.NoError(t, err)
			return ids(p.Items, func(p app.PromiseLine) string { return p.ID })
		}
		require.Equal(t, []string{"p1", "p3", "p2", "p4"}, list(app.Everything, app.PromiseQuery{Kept: &no}))
		require.Equal(t, []string{"p1", "p2"}, list(ana, app.PromiseQuery{DueTo: today}))
		require.Equal(t, []string{"p2", "p4"}, list(ana, app.PromiseQuery{DueFrom: today}))
		require.Equal(t, []string{"p4"}, list(ana, app.PromiseQuery{MadeBy: "mo"}))
		require.Equal(t, []string{"p2", "p4"}, list(ana, app.PromiseQuery{FarmID: "f1"}))
		require.Equal(t, []string{"p3"}, list(app.Everything, app.PromiseQuery{Branch: "douala"}))
		require.Empty(t, list(app.Everything, app.PromiseQuery{Kind: "visit"}))
		require.Empty(t, list(nothing, app.PromiseQuery{}))
		stale(t, func(id string, version int) error {
			p := promise(id, "f2", "ana", -2)
			p.Version, p.KeptOn, p.KeptBy = version, today, "ana"
			return w.ChangePromise(ctx, p)
		}, "p1")
		require.Equal(t, []string{"p2", "p4"}, list(ana, app.PromiseQuery{Kept: &no}))
		require.Equal(t, []string{"p1"}, list(ana, app.PromiseQuery{Kept: &yes}))
		first, err := w.PromiseLines(ctx, ana, app.PromiseQuery{Kept: &no, Limit: 1})
		require.NoError(t, err)
		require.Equal(t, app.PromiseLine{Promise: promise("p2", "f1", "ana", 0), Farm: "Hillside", BranchID: "buea", Maker: "Ana Étoile"}, first.Items[0])
		rest, err := w.PromiseLines(ctx, ana, app.PromiseQuery{Kept: &no, Cursor: first.Next})
		require.NoError(t, err)
		require.Len(t, rest.Items, 1)
		sees(t, "a promise", func(sc app.Scope) error { _, err := w.Promise(ctx, sc, "p2"); return err }, []app.Scope{ana, carine, owner}, []app.Scope{douala})
		of, err := w.PromisesOf(ctx, []string{"f1"})
		require.NoError(t, err)
		require.Equal(t, []app.Promise{promise("p2", "f1", "ana", 0), promise("p4", "f1", "mo", 5)}, of)
	})
}

func TestVisits(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		why := visit.Scored{Key: "no-news", Reason: domain.Reason{Code: "no-news", Values: map[string]any{"quiet_days": 20.0}}, Group: visit.Silence, Points: 12, Counted: true, Since: today, Size: 3}
		stop := func(id, farmID, officer string, day int) app.Visit {
			return app.Visit{
				ID: id, FarmID: farmID, OfficerID: officer, On: today.Add(day), State: app.VisitPlanned, Reasons: []visit.Scored{why},
				Agenda: []visit.Task{{Key: why.Key, Do: visit.DoAskWhy, Reason: why.Reason}}, Dealt: []visit.Dealt{{Key: "no-news", On: today, Size: 3}}, PlannedBy: "mo", Version: 1,
			}
		}
		require.NoError(t, w.AddVisits(ctx, stop("v1", "f1", "ana", 2), stop("v2", "f3", "dou", 1), stop("v3", "f2", "ana", 1)))
		got, err := w.Visit(ctx, ana, "v1")
		require.NoError(t, err)
		require.Equal(t, stop("v1", "f1", "ana", 2), got)
		list := func(sc app.Scope, q app.VisitQuery) []string {
			p, err := w.VisitLines(ctx, sc, q)
			require.NoError(t, err)
			return ids(p.Items, func(v app.VisitLine) string { return v.ID })
		}
		require.Equal(t, []string{"v2", "v3", "v1"}, list(app.Everything, app.VisitQuery{}))
		require.Equal(t, []string{"v3", "v1"}, list(ana, app.VisitQuery{}))
		require.Equal(t, []string{"v2"}, list(app.Everything, app.VisitQuery{OfficerID: "dou"}))
		require.Equal(t, []string{"v1"}, list(app.Everything, app.VisitQuery{FarmID: "f1"}))
		require.Equal(t, []string{"v2"}, list(app.Everything, app.VisitQuery{Branch: "douala"}))
		require.Equal(t, []string{"v3"}, list(ana, app.VisitQuery{To: today.Add(1)}))
		require.Equal(t, []string{"v1"}, list(ana, app.VisitQuery{From: today.Add(2)}))
		require.Empty(t, list(app.Everything, app.VisitQuery{State: app.VisitMissed}))
		first, err := w.VisitLines(ctx, ana, app.VisitQuery{Limit: 1})
		require.NoError(t, err)
		next, err := w.VisitLines(ctx, ana, app.VisitQuery{Limit: 1, Cursor: first.Next})
		require.NoError(t, err)
		line := app.VisitLine{
			Visit: stop("v1", "f1", "ana", 2), Farm: "Hillside", Town: "Town of Hillside", Landmark: "by the old mill",
			Position: farm.Position{Lat: 4.1, Lng: 9.2, Known: true}, BranchID: "buea", Officer: "Ana Étoile",
		}
		require.Equal(t, []app.VisitLine{line}, next.Items)
		require.Empty(t, list(nothing, app.VisitQuery{}))
		stale(t, func(id string, version int) error {
			v := stop(id, "f1", "ana", 2)
			v.Version, v.State, v.DoneOn, v.Findings = version, app.VisitDone, today, "all well"
			return w.ChangeVisit(ctx, v)
		}, "v1")
		sees(t, "a visit", func(sc app.Scope) error { _, err := w.Visit(ctx, sc, "v1"); return err }, []app.Scope{ana, carine, owner}, []app.Scope{douala})

		r := app.VisitRequest{ID: "r1", FarmID: "f1", PersonID: "own", On: today, Text: "please come"}
		require.NoError(t, w.AddVisitRequest(ctx, r))
		require.NoError(t, w.AnswerVisitRequests(ctx, "f1", today.Add(2)))
		require.NoError(t, w.AnswerVisitRequests(ctx, "f1", today.Add(3)))
		r.AnsweredOn = today.Add(2)
		requests, err := w.VisitRequestsOf(ctx, []string{"f1", "f2"})
		require.NoError(t, err)
		require.Equal(t, []app.VisitRequest{r}, requests)
	})
}

func TestAudit(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		require.NoError(t, w.Record(ctx, "a1", now, "ana", app.Change{Verb: "change", Thing: "farm", ThingID: "f1", FarmID: "f1", Before: place("f1", "c1", "buea", "Hill"), After: place("f1", "c1", "buea", "Hillside")}))
		require.NoError(t, w.Record(ctx, "a2", now.Add(time.Second), "", app.Change{Verb: "settle", Thing: "ticket", ThingID: "t1", FarmID: "f1"}))
		require.NoError(t, w.Record(ctx, "a3", now, "mo", app.Change{Verb: "change", Thing: "firm", ThingID: "firm"}))
		list := func(sc app.Scope, q app.AuditQuery) []string {
			p, err := w.Audit(ctx, sc, q)
			require.NoError(t, err)
			return ids(p.Items, func(l app.AuditLine) string { return l.ID })
		}
		require.Equal(t, []string{"a2", "a3", "a1"}, list(app.Everything, app.AuditQuery{}))
		require.Equal(t, []string{"a2", "a1"}, list(ana, app.AuditQuery{}))
		require.Empty(t, list(douala, app.AuditQuery{}))
		require.Equal(t, []string{"a1"}, list(ana, app.AuditQuery{Thing: "farm", ThingID: "f1"}))
		require.Equal(t, []string{"a2", "a1"}, list(ana, app.AuditQuery{FarmID: "f1"}))
		p, err := w.Audit(ctx, ana, app.AuditQuery{Thing: "farm", ThingID: "f1"})
		require.NoError(t, err)
		require.Contains(t, string(p.Items[0].Before), `"name":"Hill"`)
		require.Contains(t, string(p.Items[0].After), `"name":"Hillside"`)
	})
}

func TestIdempotencyKeys(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		_, _, err := w.BeginKey(ctx, "ana", "k", "hash", now)
		require.Equal(t, "no-transaction", domain.CodeOf(err))
		boom := errors.New("boom")
		use := func(person, request string, fail error) (answer app.Answer, done bool, err error) {
			err = w.InTx(ctx, func(ctx context.Context) error {
				if answer, done, err = w.BeginKey(ctx, person, "k", request, now); err != nil || done {
					return err
				}
				return errors.Join(w.FinishKey(ctx, person, "k", app.Answer{Status: 201, ETag: `"1"`, Body: "made"}), fail)
			})
			return answer, done, err
		}
		_, _, err = use("ana", "hash", boom)
		require.ErrorIs(t, err, boom)
		_, done, err := use("ana", "hash", nil)
		require.NoError(t, err)
		require.False(t, done, "an effect that was undone leaves its key free")
		answer, done, err := use("ana", "hash", nil)
		require.NoError(t, err)
		require.True(t, done)
		require.Equal(t, app.Answer{Request: "hash", Status: 201, ETag: `"1"`, Body: "made"}, answer)
		_, _, err = use("ana", "another", nil)
		require.Equal(t, "idempotency-key-reused", domain.CodeOf(err))
		_, done, err = use("mo", "another", nil)
		require.NoError(t, err)
		require.False(t, done, "keys belong to a person")

		n, err := w.PurgeKeys(ctx, now)
		require.NoError(t, err)
		require.Zero(t, n)
		n, err = w.PurgeKeys(ctx, now.Add(time.Second))
		require.NoError(t, err)
		require.Equal(t, 2, n)
	})
}

// Of sixteen equal requests at once one takes effect, and all get its answer.
func TestEqualRequestsAtOnce(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		const requests = 16
		var all sync.WaitGroup
		errs, effects, bodies := make([]error, requests), make([]bool, requests), make([]string, requests)
		for i := range requests {
			all.Go(func() {
				errs[i] = w.InTx(ctx, func(ctx context.Context) error {
					a, done, err := w.BeginKey(ctx, "ana", "k", "hash", now)
					if err != nil || done {
						bodies[i] = a.Body
						return err
					}
					effects[i], bodies[i] = true, "made"
					return errors.Join(w.AddPromises(ctx, app.Promise{ID: "p", FarmID: "f1", Kind: "other", Text: "x", DueOn: calendar.Date(1), MadeBy: "ana"}),
						w.FinishKey(ctx, "ana", "k", app.Answer{Status: 201, Body: "made"}))
				})
			})
		}
		all.Wait()
		require.NoError(t, errors.Join(errs...))
		n := 0
		for i := range requests {
			require.Equal(t, "made", bodies[i])
			if effects[i] {
				n++
			}
		}
		require.Equal(t, 1, n)
	})
}
