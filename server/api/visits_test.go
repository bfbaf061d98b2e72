package api_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"tendfold/domain/farm"
	"tendfold/domain/visit"
	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

func needs(h *housetest.House, who, query string) app.VisitNeedList {
	h.T.Helper()
	return housetest.Read[app.VisitNeedList](h.As(who).Get("/api/visit-needs" + query).OK())
}

// needOf is what one farm needs.
func needOf(h *housetest.House, who, farmID string) app.VisitNeed {
	h.T.Helper()
	return needs(h, who, "?farm="+farmID).Items[0]
}

func reasonsOf(n app.VisitNeed) map[string]float64 {
	out := map[string]float64{}
	for _, r := range n.MustGo {
		out["must:"+r.Reason.Code] = r.Points
	}
	for _, r := range n.Reasons {
		if r.Counted {
			out[r.Reason.Code] = r.Points
		}
	}
	return out
}

func plan(h *housetest.House, who, farmID, officer string, days int, opts ...housetest.Option) *housetest.Answer {
	h.T.Helper()
	return h.As(who).Post("/api/visits", body{"farm_id": farmID, "officer_id": officer, "on": h.Today().Add(days).String()}, opts...)
}

func TestWhichFarmsNeedAVisitAndWhy(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		h.Sweep()
		list := needs(h, "mo", "")
		require.Equal(t, []int{3, 3, 0}, []int{list.Farms, list.Total, list.MustGo}, "nobody watches f4 yet")
		one := needOf(h, "ana", "f1")
		// Weights of the snail pack: behind 20 and half a point a day; the window
		// is open 20 and a point an item (5 need a person); untrained 15 and at
		// most 5 for the modules.
		got := reasonsOf(one)
		late := got[visit.Behind]
		require.InDelta(t, 20+0.5*float64(one.Reasons[0].Size), late, 1e-9)
		require.Equal(t, map[string]float64{visit.Behind: late, visit.GoAheadPerson: 25, visit.Untrained: 20}, got)
		require.InDelta(t, late+45, one.Points, 1e-9)
		require.Equal(t, []any{"Hillside", "Ngoh Ltd", "buea", "by the old mill", true}, []any{one.Farm, one.Client, one.BranchID, one.Landmark, one.Position.Known})
		require.NotEmpty(t, one.Agenda)
		require.NotEmpty(t, one.WhyNotHigher.Next)
		require.Equal(t, "House u1", one.Cycles[0].Unit)
		require.NotEmpty(t, one.Cycles[0].Outlook.Milestones, "the strip")

		require.Len(t, needs(h, "mo", "?branch=douala").Items, 1)
		require.Len(t, needs(h, "ana", "").Items, 2)
		require.Len(t, needs(h, "mo", "?limit=1").Items, 1)
		require.Len(t, needs(h, "mo", "?farm=f4").Items, 1, "a farm that is asked for is answered")
		h.As("ana").Get("/api/visit-needs?farm=f3").Is(http.StatusNotFound, "farm-not-found")
		h.As("ana").Get("/api/visit-needs?limit=501").Is(http.StatusUnprocessableEntity, "invalid")
		for _, who := range append([]string{"out"}, housetest.Farmers...) {
			h.As(who).Get("/api/visit-needs").Is(http.StatusForbidden, "forbidden")
		}
	})
}

func TestWhatPeopleAskForIsANeed(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		h.Sweep()
		before := needOf(h, "ana", "f1").Points
		ask := func(who, farmID string) *housetest.Answer {
			return h.As(who).Post("/api/farms/"+farmID+"/visit-requests", body{"text": "Please look at the water"})
		}
		r := housetest.Read[app.VisitRequest](ask("own", "f1").OK())
		require.Equal(t, []any{"own", h.Today()}, []any{r.PersonID, r.On})
		require.InDelta(t, before+12, needOf(h, "ana", "f1").Points, 1e-9)
		ask("own", "f3").Is(http.StatusNotFound, "farm-not-found")
		ask("care", "f1").Is(http.StatusForbidden, "forbidden")
		ask("ana", "f2").OK()
		own := h.As("own").Get("/api/farms/f1/visit-requests").OK()
		require.Contains(t, string(own.Body), "Please look at the water")
		h.As("care").Get("/api/farms/f1/visit-requests").Is(http.StatusForbidden, "forbidden")
		require.Equal(t, []string{"ask"}, audits(h, "visit-request", r.ID))

		promised(h, "ana", "f1", "visit", 5)
		require.InDelta(t, before+27, needOf(h, "ana", "f1").Points, 1e-9)
		h.Pass(8 * 24 * time.Hour)
		require.Contains(t, reasonsOf(needOf(h, "ana", "f1")), visit.BrokenPromise)

		say(h, "care", "trouble", body{"sign": danger(h)}).OK()
		got := reasonsOf(needOf(h, "ana", "f1"))
		require.Contains(t, got, "must:"+visit.PersonInDanger)
		require.Equal(t, "f1", needs(h, "mo", "").Items[0].FarmID, "whatever the points")
		require.Equal(t, 1, needs(h, "mo", "").MustGo)
	})
}

// danger is a sign of the snail pack that puts a person in danger.
func danger(h *housetest.House) string {
	pack, _ := h.Packs.Pack("snail")
	for _, s := range pack.Signs {
		if s.Danger {
			return s.Key
		}
	}
	return ""
}

func TestAVisitIsPlannedMadeAndTakesItsReasonsAway(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		h.Sweep()
		h.As("own").Post("/api/farms/f1/visit-requests", body{"text": "Please come"}).OK()
		promise := promised(h, "ana", "f1", "visit", 3)
		a := plan(h, "bm", "f1", "fie", 1)
		v := housetest.Read[app.VisitLine](a.OK())
		require.Equal(t, []any{"planned", "Fidel Ewane", "Hillside", "bm"}, []any{v.State, v.Officer, v.Farm, v.PlannedBy})
		need := needOf(h, "ana", "f1")
		require.Len(t, v.Reasons, len(need.Reasons), "why is kept as it stood")
		require.Len(t, v.Agenda, len(need.Agenda))
		require.Equal(t, []app.PlannedStop{{VisitID: v.ID, OfficerID: "fie", On: h.Today().Add(1)}}, need.Planned)
		require.Len(t, housetest.Read[app.Page[app.VisitLine]](h.As("fie").Get("/api/visits").OK()).Items, 1)

		h.Pass(24 * time.Hour)
		done := func(who, tag string, keys ...string) *housetest.Answer {
			return h.As(who).Post("/api/visits/"+v.ID+"/done", body{"findings": "Plants are up", "dealt": keys}, housetest.IfMatch(tag))
		}
		wish := ""
		for _, r := range need.Reasons {
			if strings.HasPrefix(r.Key, visit.OwnerAsked) {
				wish = r.Key
			}
		}
		h.As("fie").Post("/api/visits/"+v.ID+"/done", body{"findings": "x"}).Is(http.StatusPreconditionRequired, "if-match-missing")
		done("dfo", a.ETag(), "schedule").Is(http.StatusNotFound, "visit-not-found")
		done("fie", a.ETag(), "no-such-reason").Is(http.StatusUnprocessableEntity, "visit-refused")
		over := done("fie", a.ETag(), "schedule", "promise:"+promise.ID, wish)
		got := housetest.Read[app.VisitLine](over.OK())
		require.Equal(t, []any{"done", h.Today(), "Plants are up"}, []any{got.State, got.DoneOn, got.Findings})
		require.Equal(t, []visit.Dealt{{Key: "schedule", On: h.Today(), Size: need.Reasons[0].Size + 1}, {Key: "promise:" + promise.ID, On: h.Today()}, {Key: wish, On: h.Today()}}, got.Dealt)
		done("fie", over.ETag(), "schedule").Is(http.StatusConflict, "visit-over")

		after := needOf(h, "ana", "f1")
		require.Equal(t, h.Today(), after.LastVisit)
		reasons := reasonsOf(after)
		for _, gone := range []string{visit.Behind, visit.PromisedVisit, visit.OwnerAsked} {
			require.NotContains(t, reasons, gone)
		}
		require.Contains(t, reasons, visit.Untrained, "what the visit did not deal with stays")
		require.Empty(t, promises(h, "ana", ""), "the promise was kept")
		days, err := h.Store.EvidenceDays(t.Context(), "f1", 0, h.Today())
		require.NoError(t, err)
		require.Contains(t, days, h.Today())
		require.Equal(t, []string{"finish", "plan"}, audits(h, "visit", v.ID))

		h.Pass(6 * 24 * time.Hour)
		h.Sweep()
		require.NotContains(t, reasonsOf(needOf(h, "ana", "f1")), visit.Behind)
		h.Pass(24 * time.Hour)
		h.Sweep()
		require.Contains(t, reasonsOf(needOf(h, "ana", "f1")), visit.Behind, "a week later still is news again")
	})
}

func TestAGoAheadDealtWithDoesNotComeBackByItself(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		h.Sweep()
		v := housetest.Read[app.VisitLine](plan(h, "ana", "f1", "fie", 0).OK())
		key := "go-ahead-needs-person:u1/ready-to-stock"
		h.As("ana").Post("/api/visits/"+v.ID+"/done", body{"findings": "x", "dealt": []string{key, "caretaker-untrained:care"}}, housetest.IfMatch(`"1"`)).OK()
		for range 5 {
			h.Pass(9 * 24 * time.Hour)
			h.Sweep()
			got := reasonsOf(needOf(h, "ana", "f1"))
			require.NotContains(t, got, visit.GoAheadPerson, "the window moves with the forecast")
			require.NotContains(t, got, visit.Untrained)
		}
		items := needOf(h, "ana", "f2")
		require.Contains(t, reasonsOf(items), visit.GoAheadPerson)
		say(h, "fie", "item", body{"item": firstMissing(h, "f1"), "answer": "no"}).OK()
		require.Contains(t, reasonsOf(needOf(h, "ana", "f1")), visit.GoAheadPerson, "somebody looked again and it was not so")
	})
}

// firstMissing is an item of the farm's first go-ahead that a person must see.
func firstMissing(h *housetest.House, farmID string) string {
	pack, _ := h.Packs.Pack("snail")
	for _, m := range farmOf(h, "ana", farmID).Units[0].Cycle.Missing[0].Missing {
		for _, c := range pack.Checklists {
			for _, it := range c.Items {
				if it.Key == m.Thing && it.InPerson && it.Measured == nil {
					return it.Key
				}
			}
		}
	}
	return ""
}

func TestAVisitIsChangedOrMissed(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		a := plan(h, "ana", "f1", "fie", 1)
		v := housetest.Read[app.VisitLine](a.OK())
		put := func(who, tag, officer string, days int) *housetest.Answer {
			return h.As(who).Put("/api/visits/"+v.ID, body{"officer_id": officer, "on": h.Today().Add(days).String()}, housetest.IfMatch(tag))
		}
		put("fie", a.ETag(), "fie", 2).Is(http.StatusForbidden, "forbidden")
		put("dou", a.ETag(), "dfo", 2).Is(http.StatusNotFound, "visit-not-found")
		put("ana", `"7"`, "fie", 2).Is(http.StatusPreconditionFailed, "stale")
		put("ana", a.ETag(), "dfo", 2).Is(http.StatusUnprocessableEntity, "visit-officer")
		b := put("ana", a.ETag(), "ana", 2)
		require.Equal(t, "Ana Étoile", housetest.Read[app.VisitLine](b.OK()).Officer)
		h.As("fie").Get("/api/visits/"+v.ID).Is(http.StatusNotFound, "visit-not-found")
		h.As("fie").Get("/api/visits?officer=ana").Is(http.StatusForbidden, "forbidden")

		miss := func(who string) *housetest.Answer {
			return h.As(who).Post("/api/visits/"+v.ID+"/missed", body{"why": "The road was under water"}, housetest.IfMatch(b.ETag()))
		}
		miss("fie").Is(http.StatusNotFound, "visit-not-found")
		got := housetest.Read[app.VisitLine](miss("bm").OK())
		require.Equal(t, []any{"missed", "The road was under water"}, []any{got.State, got.Missed})
		require.Empty(t, needOf(h, "ana", "f1").Planned)
		events := housetest.Read[app.Page[app.Event]](h.As("ana").Get("/api/farms/f1/events").OK())
		require.Empty(t, events.Items, "nobody was there")
		require.Len(t, housetest.Read[app.Page[app.VisitLine]](h.As("ana").Get("/api/visits?farm=f1&state=missed").OK()).Items, 1)
	})
}

func TestVisitsThatCannotBe(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		for _, who := range append([]string{"out", "fie", "dfo"}, housetest.Farmers...) {
			plan(h, who, "f1", "fie", 1).Is(http.StatusForbidden, "forbidden")
		}
		plan(h, "dou", "f1", "dfo", 1).Is(http.StatusNotFound, "farm-not-found")
		plan(h, "ana", "f1", "dfo", 1).Is(http.StatusUnprocessableEntity, "visit-officer")
		plan(h, "ana", "f1", "care", 1).Is(http.StatusUnprocessableEntity, "visit-officer")
		plan(h, "ana", "f1", "nobody", 1).Is(http.StatusUnprocessableEntity, "visit-officer")
		plan(h, "ana", "f1", "fie", -1).Is(http.StatusUnprocessableEntity, "visit-refused")
		plan(h, "ana", "f1", "fie", 184).Is(http.StatusUnprocessableEntity, "visit-refused")
		h.As("ana").Get("/api/visits?from=soon").Is(http.StatusUnprocessableEntity, "date-none")

		first := plan(h, "ana", "f1", "fie", 1, housetest.Key("k")).OK()
		require.JSONEq(t, string(first.Body), string(plan(h, "ana", "f1", "fie", 1, housetest.Key("k")).OK().Body))
		plan(h, "ana", "f1", "bm", 1).Is(http.StatusConflict, "visit-planned")
		plan(h, "mo", "f1", "mo", 2).OK()
		v := housetest.Read[app.VisitLine](first)
		done := func(on int) *housetest.Answer {
			return h.As("fie").Post("/api/visits/"+v.ID+"/done", body{"findings": "x", "done_on": h.Today().Add(on).String()}, housetest.IfMatch(`"1"`))
		}
		done(1).Is(http.StatusUnprocessableEntity, "visit-refused")
		done(-61).Is(http.StatusUnprocessableEntity, "visit-refused")
		done(0).OK()

		f, err := h.Store.Farm(t.Context(), app.Everything, "f2")
		require.NoError(t, err)
		f.Status = farm.Closed
		require.NoError(t, h.Store.ChangeFarm(t.Context(), f.Farm))
		plan(h, "ana", "f2", "fie", 1).Is(http.StatusConflict, "farm-closed")
	})
}
