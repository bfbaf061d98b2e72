package api_test

import (
	"net/http"
	"testing"
	"time"

	"tendfold/domain/calendar"
	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

// promised notes a call with one promise, and answers the promise.
func promised(h *housetest.House, who, farmID, kind string, days int) app.Promise {
	h.T.Helper()
	c := housetest.Read[app.CallLine](note(h, who, body{
		"farm_id": farmID, "said": "x", "promises": []body{{"kind": kind, "text": "as promised", "due_on": h.Today().Add(days).String()}},
	}).OK())
	return c.Promises[0]
}

func promises(h *housetest.House, who, query string) []string {
	h.T.Helper()
	var out []string
	for _, p := range housetest.Read[app.Page[app.PromiseLine]](h.As(who).Get("/api/promises" + query).OK()).Items {
		out = append(out, p.ID)
	}
	return out
}

func TestPromisesAreOwedUntilKept(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		now, later := promised(h, "ana", "f1", "call-back", 0), promised(h, "fie", "f2", "visit", 3)
		far := promised(h, "dou", "f3", "other", 1)
		require.Equal(t, []string{now.ID, far.ID, later.ID}, promises(h, "mo", ""), "first due first")
		require.Equal(t, []string{now.ID, later.ID}, promises(h, "ana", ""))
		require.Equal(t, []string{now.ID}, promises(h, "ana", "?mine=true"))
		require.Equal(t, []string{now.ID}, promises(h, "ana", "?due=today"))
		require.Empty(t, promises(h, "ana", "?due=overdue"))
		require.Equal(t, []string{later.ID}, promises(h, "ana", "?farm=f2&kind=visit"))
		require.Equal(t, []string{far.ID}, promises(h, "mo", "?branch=douala"))
		h.As("ana").Get("/api/promises?farm=f3").Is(http.StatusNotFound, "farm-not-found")

		h.Pass(24 * time.Hour)
		require.Equal(t, []string{now.ID}, promises(h, "ana", "?due=overdue"))
		keep := func(who string, p app.Promise, tag string, kept bool) *housetest.Answer {
			return h.As(who).Post("/api/promises/"+p.ID+"/kept", body{"kept": kept}, housetest.IfMatch(tag))
		}
		keep("dou", now, `"1"`, true).Is(http.StatusNotFound, "promise-not-found")
		keep("care", now, `"1"`, true).Is(http.StatusForbidden, "forbidden")
		h.As("ana").Post("/api/promises/"+now.ID+"/kept", body{"kept": true}).Is(http.StatusPreconditionRequired, "if-match-missing")
		done := keep("fie", now, `"1"`, true)
		p := housetest.Read[app.Promise](done.OK())
		require.Equal(t, []any{h.Today(), "fie", `"2"`}, []any{p.KeptOn, p.KeptBy, done.ETag()})
		keep("ana", now, `"1"`, true).Is(http.StatusPreconditionFailed, "stale")
		keep("ana", now, `"2"`, true).Is(http.StatusConflict, "promise-kept")
		require.Equal(t, []string{later.ID}, promises(h, "ana", ""))
		require.Equal(t, []string{now.ID}, promises(h, "ana", "?kept=yes"))
		keep("ana", now, `"2"`, false).OK()
		require.Equal(t, []string{now.ID, later.ID}, promises(h, "ana", "?kept=all"))
		require.Empty(t, promises(h, "ana", "?kept=yes"))
		require.Equal(t, []string{"open", "keep"}, audits(h, "promise", now.ID))
	})
}

func TestAPromiseIsSaidAnew(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		p := promised(h, "ana", "f1", "call-back", 2)
		put := func(tag string, due calendar.Date, text string) *housetest.Answer {
			return h.As("ana").Put("/api/promises/"+p.ID, body{"kind": "visit", "text": text, "due_on": due.String()}, housetest.IfMatch(tag))
		}
		got := housetest.Read[app.Promise](put(`"1"`, h.Today().Add(5), "Fidel comes").OK())
		require.Equal(t, []any{"visit", "Fidel comes", h.Today().Add(5), 2}, []any{got.Kind, got.Text, got.DueOn, got.Version})
		put(`"2"`, h.Today().Add(-1), "x").Is(http.StatusUnprocessableEntity, "promise-refused")
		put(`"2"`, h.Today(), "  ").Is(http.StatusUnprocessableEntity, "promise-refused")
		h.Pass(10 * 24 * time.Hour)
		put(`"2"`, got.DueOn, "we were late").OK()
		h.As("ana").Post("/api/promises/"+p.ID+"/kept", body{"kept": true}, housetest.IfMatch(`"3"`)).OK()
		put(`"4"`, h.Today(), "x").Is(http.StatusConflict, "promise-kept")
	})
}

func TestWhomToCallBack(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		list := func(who, query string) app.CallBackList {
			return housetest.Read[app.CallBackList](h.As(who).Get("/api/call-backs" + query).OK())
		}
		h.Sweep()
		require.Empty(t, list("mo", "").Items, "intake is news too")
		h.Pass(6 * 24 * time.Hour)
		require.Empty(t, list("mo", "").Items)
		say(h, "care", "call-me", body{"note": "about the feed"}, body{"cycle_id": ""}).OK()
		promised(h, "dou", "f3", "call-back", 2)

		h.Pass(24 * time.Hour)
		got := list("mo", "")
		require.Len(t, got.Items, 3)
		require.Equal(t, []any{"f2", 7, h.Today().Add(-7), h.Today()}, []any{got.Items[0].FarmID, got.Items[0].QuietDays, got.Items[0].LastHeard, got.Items[0].DueOn})
		require.Equal(t, []any{"f1", 0, "about the feed"}, []any{got.Items[1].FarmID, got.Items[1].QuietDays, got.Items[1].Promises[0].Text})
		require.Equal(t, "Carine Ngwa", got.Items[1].People[0].Name)
		require.Equal(t, []any{"Hillside", "Ngoh Ltd", "Town of Hillside", "buea"}, []any{got.Items[1].Farm, got.Items[1].Client, got.Items[1].Town, got.Items[1].BranchID})
		require.Equal(t, "f3", got.Items[2].FarmID)
		require.Len(t, list("mo", "?branch=douala").Items, 1)
		require.Len(t, list("ana", "").Items, 2)

		h.Pass(8 * 24 * time.Hour)
		got = list("ana", "")
		require.Equal(t, []any{"f2", 15}, []any{got.Items[0].FarmID, got.Items[0].QuietDays})
		require.Equal(t, []any{"f1", 9, 1}, []any{got.Items[1].FarmID, got.Items[1].QuietDays, len(got.Items[1].Promises)}, "one line a farm")
		require.Len(t, got.Items, 2, "nobody watches f4 yet")

		note(h, "ana", body{"farm_id": "f2", "said": "all is well there"}).OK()
		require.Len(t, list("ana", "").Items, 1, "a call ends the silence")
		for _, who := range append([]string{"out"}, housetest.Farmers...) {
			h.As(who).Get("/api/call-backs").Is(http.StatusForbidden, "forbidden")
		}
	})
}
