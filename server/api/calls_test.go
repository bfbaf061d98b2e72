package api_test

import (
	"net/http"
	"testing"
	"time"

	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

func note(h *housetest.House, who string, call body, opts ...housetest.Option) *housetest.Answer {
	h.T.Helper()
	if call["channel"] == nil {
		call["channel"] = "phone"
	}
	return h.As(who).Post("/api/calls", call, opts...)
}

func audits(h *housetest.House, thing, id string) []string {
	h.T.Helper()
	page, err := h.Store.Audit(h.T.Context(), app.Everything, app.AuditQuery{Thing: thing, ThingID: id})
	require.NoError(h.T, err)
	var verbs []string
	for _, l := range page.Items {
		require.NotEmpty(h.T, l.PersonID)
		verbs = append(verbs, l.Verb)
	}
	return verbs
}

func TestACallIsNewsFromItsFarm(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		h.Pass(30 * 24 * time.Hour)
		a := note(h, "ana", body{
			"farm_id": "f1", "person_id": "care", "phone": "677 00 00 08", "said": "The leaves are eaten", "advice": "Pick them off at dusk",
			"promises": []body{{"kind": "call-back", "text": "I ring on Monday", "due_on": h.Today().Add(3).String()}, {"kind": "visit", "text": "Fidel comes", "due_on": h.Today().Add(9).String()}},
		})
		c := housetest.Read[app.CallLine](a.OK())
		require.Equal(t, `"1"`, a.ETag())
		require.Equal(t, []any{"Hillside", "Carine Ngwa", "Ana Étoile", "ana", ""}, []any{c.Farm, c.Person, c.Taker, c.TakenBy, c.Ticket})
		require.Equal(t, "+237677000008", c.Phone, "read in the branch's country")
		require.Equal(t, h.Now(), c.EndedAt)
		require.Len(t, c.Promises, 2)
		require.Equal(t, []any{h.Today(), "ana"}, []any{c.Promises[0].MadeOn, c.Promises[0].MadeBy})

		days, err := h.Store.EvidenceDays(t.Context(), "f1", 0, h.Today())
		require.NoError(t, err)
		require.Contains(t, days, h.Today())
		events := housetest.Read[app.Page[app.Event]](h.As("ana").Get("/api/farms/f1/events").OK())
		require.Equal(t, app.EventCall, events.Items[0].Kind)
		require.JSONEq(t, `{"call_id":"`+c.ID+`","channel":"phone"}`, string(events.Items[0].Data))
		require.Equal(t, []string{"note"}, audits(h, "call", c.ID))

		list := housetest.Read[app.Page[app.CallLine]](h.As("fie").Get("/api/calls?farm=f1").OK())
		require.Equal(t, []app.CallLine{c}, list.Items)
		require.Equal(t, c, housetest.Read[app.CallLine](h.As("bm").Get("/api/calls/"+c.ID).OK()))
	})
}

func TestACallMayComeBeforeItsFarmIsKnown(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		a := note(h, "ana", body{"phone": "0999 12", "channel": "text", "said": "hello?", "goes": true})
		c := housetest.Read[app.CallLine](a.OK())
		require.Empty(t, c.FarmID)
		require.True(t, c.EndedAt.IsZero())
		h.As("dou").Get("/api/calls/"+c.ID).Is(http.StatusNotFound, "call-not-found")
		h.As("mo").Get("/api/calls/" + c.ID).OK()
		require.Len(t, housetest.Read[app.Page[app.CallLine]](h.As("ana").Get("/api/calls?no_farm=true&mine=true").OK()).Items, 1)
		require.Empty(t, housetest.Read[app.Page[app.CallLine]](h.As("bm").Get("/api/calls?no_farm=true").OK()).Items, "whoever took it and those who see everything")

		put := func(who, tag string, b body) *housetest.Answer {
			b["channel"] = "text"
			return h.As(who).Put("/api/calls/"+c.ID, b, housetest.IfMatch(tag))
		}
		h.As("ana").Put("/api/calls/"+c.ID, body{"channel": "text", "said": "x"}).Is(http.StatusPreconditionRequired, "if-match-missing")
		put("ana", `"9"`, body{"said": "x"}).Is(http.StatusPreconditionFailed, "stale")
		put("ana", a.ETag(), body{"farm_id": "f3", "said": "x"}).Is(http.StatusNotFound, "farm-not-found")
		second := put("ana", a.ETag(), body{"farm_id": "f2", "said": "hello, the water is gone", "goes": true})
		require.Equal(t, "Riverside", housetest.Read[app.CallLine](second.OK()).Farm)
		put("ana", second.ETag(), body{"farm_id": "f1", "said": "x"}).Is(http.StatusConflict, "call-has-farm")
		put("fie", second.ETag(), body{"farm_id": "f2", "said": "x"}).Is(http.StatusForbidden, "forbidden")
		third := put("bm", second.ETag(), body{"farm_id": "f2", "said": "hello, the water is gone", "advice": "Fill by hand"})
		require.False(t, housetest.Read[app.CallLine](third.OK()).EndedAt.IsZero(), "it ended")
		put("ana", third.ETag(), body{"farm_id": "f2", "said": "another story"}).Is(http.StatusConflict, "call-ended")
		put("ana", third.ETag(), body{
			"farm_id": "f2", "person_id": "own", "said": "hello, the water is gone", "advice": "Fill by hand",
			"promises": []body{{"kind": "other", "text": "a list of plumbers", "due_on": h.Today().String()}},
		}).OK()
		events := housetest.Read[app.Page[app.Event]](h.As("ana").Get("/api/farms/f2/events").OK())
		require.Len(t, events.Items, 1, "however often it is changed, it is one piece of news")
		require.Equal(t, []string{"change", "change", "change", "note"}, audits(h, "call", c.ID))
	})
}

func TestACallOpensATicketAndSettlesAQuestion(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		open := body{"title": "The pump has stopped", "impact": "high", "time_to_loss": "hours", "unit_id": "u1"}
		c := housetest.Read[app.CallLine](note(h, "ana", body{"farm_id": "f1", "said": "no water", "ticket": open}).OK())
		require.Equal(t, "1/26", c.Ticket)
		th := housetest.Read[app.Thread](h.As("ana").Get("/api/tickets/" + c.TicketID).OK())
		require.Equal(t, []any{"animals-at-risk", "call", c.ID, "u1", "reported"}, []any{string(th.Urgency), string(th.Origin), th.CallID, th.UnitID, string(th.State)})
		require.False(t, th.FirstWordAt.IsZero(), "the call was the first word")

		question := body{"title": "Which leaves", "impact": "low", "time_to_loss": "longer", "outcome": "Told her: pawpaw and cocoyam"}
		c = housetest.Read[app.CallLine](note(h, "ana", body{"farm_id": "f1", "said": "which leaves?", "ticket": question}).OK())
		th = housetest.Read[app.Thread](h.As("ana").Get("/api/tickets/" + c.TicketID).OK())
		require.Equal(t, []any{"settled", "Told her: pawpaw and cocoyam", "ana"}, []any{string(th.State), th.Outcome, th.SettledBy})

		open["unit_id"] = "u2"
		note(h, "ana", body{"farm_id": "f1", "said": "no water", "ticket": open}).Is(http.StatusNotFound, "unit-not-found")
		require.Len(t, housetest.Read[app.Page[app.CallLine]](h.As("ana").Get("/api/calls?farm=f1").OK()).Items, 2, "nothing half-written")
	})
}

func TestACallSpeaksToItsTicket(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		say(h, "care", "trouble", body{"note": "the door hangs"}).OK()
		tickets := housetest.Read[app.Page[app.TicketLine]](h.As("ana").Get("/api/tickets?farm=f1").OK())
		id := tickets.Items[0].ID
		note(h, "ana", body{"farm_id": "f1", "said": "It is worse", "advice": "Tie it with wire", "ticket_id": id}).OK()
		th := housetest.Read[app.Thread](h.As("care").Get("/api/tickets/" + id).OK())
		require.Equal(t, "Tie it with wire", th.Events[1].Text, "the farm reads the advice")
		require.False(t, th.FirstWordAt.IsZero())
		note(h, "ana", body{"farm_id": "f1", "said": "They have wire", "ticket_id": id}).OK()
		require.Len(t, housetest.Read[app.Thread](h.As("care").Get("/api/tickets/"+id).OK()).Events, 2, "what was said stays inside the firm")
		require.Len(t, housetest.Read[app.Thread](h.As("ana").Get("/api/tickets/"+id).OK()).Events, 3)

		note(h, "ana", body{"farm_id": "f2", "said": "x", "ticket_id": id}).Is(http.StatusNotFound, "ticket-not-found")
		note(h, "dou", body{"farm_id": "f3", "said": "x", "ticket_id": id}).Is(http.StatusNotFound, "ticket-not-found")
	})
}

func TestACallSentAgainIsNotedOnce(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		c := body{"farm_id": "f1", "said": "x", "promises": []body{{"kind": "visit", "text": "y", "due_on": h.Today().String()}}}
		first := note(h, "ana", c, housetest.Key("k")).OK()
		h.Pass(time.Minute)
		require.JSONEq(t, string(first.Body), string(note(h, "ana", c, housetest.Key("k")).OK().Body))
		require.Len(t, housetest.Read[app.Page[app.PromiseLine]](h.As("ana").Get("/api/promises").OK()).Items, 1)
		c["said"] = "z"
		note(h, "ana", c, housetest.Key("k")).Is(http.StatusUnprocessableEntity, "idempotency-key-reused")
		c["id"] = "own-id"
		note(h, "ana", c).OK()
		note(h, "ana", c).Is(http.StatusConflict, "call-exists")
	})
}

func TestCallsThatCannotBe(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		due := func(d int) []body {
			return []body{{"kind": "visit", "text": "x", "due_on": h.Today().Add(d).String()}}
		}
		for name, c := range map[string]body{
			"nothing said":        {"farm_id": "f1"},
			"promise to nobody":   {"said": "x", "promises": due(1)},
			"ticket of nobody":    {"said": "x", "ticket": body{"title": "x", "impact": "low", "time_to_loss": "longer"}},
			"promised yesterday":  {"farm_id": "f1", "said": "x", "promises": due(-1)},
			"promised in years":   {"farm_id": "f1", "said": "x", "promises": due(367)},
			"tomorrow":            {"farm_id": "f1", "said": "x", "started_at": h.Now().Add(time.Hour)},
			"two years ago":       {"farm_id": "f1", "said": "x", "started_at": h.Now().AddDate(-2, 0, 0)},
			"two tickets":         {"farm_id": "f1", "said": "x", "ticket_id": "t", "ticket": body{"title": "x", "impact": "low", "time_to_loss": "longer"}},
			"by pigeon":           {"farm_id": "f1", "said": "x", "channel": "pigeon"},
			"a word of no one's":  {"farm_id": "f1", "said": "x", "mood": "good"},
			"promise of a kind":   {"farm_id": "f1", "said": "x", "promises": []body{{"kind": "gift", "text": "x", "due_on": h.Today().String()}}},
			"promise of nothing":  {"farm_id": "f1", "said": "x", "promises": []body{{"kind": "visit", "text": " ", "due_on": h.Today().String()}}},
			"ticket without word": {"farm_id": "f1", "said": "x", "ticket": body{"title": " ", "impact": "low", "time_to_loss": "longer"}},
		} {
			t.Run(name, func(t *testing.T) { require.Equal(t, 422, note(h, "ana", c).Status) })
		}
		require.Empty(t, housetest.Read[app.Page[app.CallLine]](h.As("mo").Get("/api/calls").OK()).Items)
	})
}

func TestWhoMayNoteCalls(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		h.Stranger().Get("/api/calls").Is(http.StatusUnauthorized, "not-signed-in")
		for _, who := range append([]string{"out"}, housetest.Farmers...) {
			note(h, who, body{"farm_id": "f1", "said": "x"}).Is(http.StatusForbidden, "forbidden")
			h.As(who).Get("/api/calls").Is(http.StatusForbidden, "forbidden")
		}
		for _, who := range []string{"dou", "dfo"} {
			note(h, who, body{"farm_id": "f1", "said": "x"}).Is(http.StatusNotFound, "farm-not-found")
			h.As(who).Get("/api/calls?farm=f1").Is(http.StatusNotFound, "farm-not-found")
		}
		for _, who := range []string{"adm", "mo", "bm", "ana", "fie"} {
			note(h, who, body{"farm_id": "f1", "said": "x"}).OK()
		}
		note(h, "ana", body{"farm_id": "f1", "person_id": "far", "said": "x"}).Is(http.StatusNotFound, "person-not-found")
	})
}
