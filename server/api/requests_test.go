package api_test

import (
	"net/http"
	"testing"

	"tendfold/domain/ticket"
	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

// requestsOf is what f1 was asked for, as the desk sees it.
func requestsOf(h *housetest.House) []app.Request {
	h.T.Helper()
	return housetest.Read[app.Page[app.Request]](h.As("ana").Get("/api/farms/f1/requests").OK()).Items
}

func askFarm(h *housetest.House, data body) app.Request {
	h.T.Helper()
	return housetest.Read[app.Request](h.As("ana").Post("/api/farms/f1/requests", data).OK())
}

func TestWhatTheFirmAsksStandsOnTheCaretakersDay(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		due := h.Today().Add(3)
		r := askFarm(h, body{"text": " Close the gap under the door ", "due_on": due.String(), "unit_id": "u1"})
		askFarm(h, body{"text": "Weigh ten", "from": h.Today().Add(20).String(), "due_on": h.Today().Add(30).String()})
		askFarm(h, body{"text": "Far away", "from": h.Today().Add(90).String(), "due_on": h.Today().Add(99).String()})
		asked := todayOf(h, "care", "").Farms[0].Requests
		require.Len(t, asked, 2, "what begins within the days ahead is shipped, what is later is not yet")
		require.Equal(t, app.TodayRequest{ID: r.ID, Text: "Close the gap under the door", DueOn: due, By: "Ana Étoile", UnitID: "u1"}, asked[0])
		require.Equal(t, h.Today().Add(20), asked[1].From)

		require.Equal(t, "kept", states(receipts(h, "care", entryOf(h, "request", body{"request": r.ID, "note": "With mesh"}))))
		require.Len(t, todayOf(h, "care", "").Farms[0].Requests, 1)
		got := requestsOf(h)[0]
		require.Equal(t, []any{"done", "With mesh", "care", h.Today()}, []any{got.Answer, got.Note, got.AnsweredBy, got.AnsweredOn})
	})
}

func TestTheAnswerLandsOnTheTicketsThread(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		receipts(h, "care", entryOf(h, "trouble", body{"note": "Rats"}))
		report := todayOf(h, "care", "").Farms[0].Reports[0]
		th := housetest.Read[app.Thread](h.As("ana").Post("/api/tickets/"+report.ID+"/ask", body{"text": "Put the feed into a drum", "due_on": h.Today().String()}).OK())
		require.Equal(t, ticket.Asked, th.Events[1].Kind)
		asked := todayOf(h, "care", "").Farms[0].Requests[0]
		require.Equal(t, []any{"Put the feed into a drum", report.Number}, []any{asked.Text, asked.Number})

		entry := entryOf(h, "could-not", body{"task": "request:" + asked.ID, "reason": "other", "note": "No drum"})
		receipts(h, "care", entry)
		receipts(h, "care", entry) // the phone never saw the answer
		th = housetest.Read[app.Thread](h.As("ana").Get("/api/tickets/" + report.ID).OK())
		require.Len(t, th.Events, 3)
		last := th.Events[2]
		require.Equal(t, []any{ticket.Answered, "No drum", "care", false, "other", "Put the feed into a drum"},
			[]any{last.Kind, last.Text, last.PersonID, last.Data["done"], last.Data["reason"], last.Data["asked"]})
		require.Empty(t, todayOf(h, "care", "").Farms[0].Requests, "who could not do it is not asked again by a machine")
		require.NotContains(t, todayOf(h, "care", "").Farms[0].WrittenOn, h.Today(), "it is no word on the day as a whole")

		own := housetest.Read[app.Thread](h.As("care").Get("/api/tickets/" + report.ID).OK())
		require.Equal(t, []string{"Put the feed into a drum", "No drum"}, []string{own.Events[1].Text, own.Events[2].Text}, "both are for the farm too")
	})
}

// Of several answers the one made last stands, in whatever order they come,
// also after the ticket was settled.
func TestTheLastAnswerStands(t *testing.T) {
	for name, order := range map[string][]int{"as said": {0, 1}, "the other way round": {1, 0}} {
		t.Run(name, func(t *testing.T) {
			housetest.Each(t, func(t *testing.T, h *housetest.House) {
				tk := housetest.Read[app.Thread](h.As("ana").Post("/api/tickets", body{
					"farm_id": "f1", "title": "Pump", "impact": "low", "time_to_loss": "week", "origin": "call",
				}).OK())
				h.As("ana").Post("/api/tickets/"+tk.ID+"/ask", body{"text": "Clean the filter", "due_on": h.Today().String()}).OK()
				r := requestsOf(h)[0]
				now := h.As("ana").Get("/api/tickets/" + tk.ID).OK()
				h.As("ana").Post("/api/tickets/"+tk.ID+"/move", body{"to": "settled", "outcome": "done by us"}, housetest.IfMatch(now.ETag())).OK()

				first := entryOf(h, "could-not", body{"task": "request:" + r.ID, "reason": "rain"})
				first["hlc"] = "019cdf449c6a-0000-00000001"
				second := entryOf(h, "request", body{"request": r.ID})
				second["hlc"] = "019cdf449c6b-0000-00000001"
				both := []any{first, second}
				for _, i := range order {
					require.Equal(t, "kept", states(receipts(h, "care", both[i])))
				}
				require.Equal(t, "done", requestsOf(h)[0].Answer)
				th := housetest.Read[app.Thread](h.As("ana").Get("/api/tickets/" + tk.ID).OK())
				require.Equal(t, ticket.Settled, th.State)
				require.Equal(t, ticket.Answered, th.Events[len(th.Events)-1].Kind)
			})
		})
	}
}

func TestARequestIsTakenBackBeforeItIsAnswered(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		r := askFarm(h, body{"text": "Count them", "due_on": h.Today().String()})
		h.As("ana").Post("/api/requests/"+r.ID+"/withdraw", nil).OK()
		h.As("ana").Post("/api/requests/"+r.ID+"/withdraw", nil).OK()
		require.Empty(t, todayOf(h, "care", "").Farms[0].Requests)
		require.Equal(t, h.Today(), requestsOf(h)[0].WithdrawnOn)
		require.Equal(t, "kept", states(receipts(h, "care", entryOf(h, "request", body{"request": r.ID}))), "a phone that did not hear of it is not refused")

		two := askFarm(h, body{"text": "Count them", "due_on": h.Today().String()})
		receipts(h, "care", entryOf(h, "request", body{"request": two.ID}))
		h.As("ana").Post("/api/requests/"+two.ID+"/withdraw", nil).Is(http.StatusConflict, "request-answered")
	})
}

func TestWhatCannotBeAsked(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		day := h.Today().String()
		for name, data := range map[string]body{
			"nothing":                {"text": "  ", "due_on": day},
			"due yesterday":          {"text": "x", "due_on": h.Today().Add(-1).String()},
			"due in two years":       {"text": "x", "due_on": h.Today().Add(700).String()},
			"due before it is asked": {"text": "x", "due_on": day, "from": h.Today().Add(1).String()},
		} {
			a := h.As("ana").Post("/api/farms/f1/requests", data)
			require.Equal(t, http.StatusUnprocessableEntity, a.Status, name)
		}
		h.As("care").Post("/api/farms/f1/requests", body{"text": "x", "due_on": day}).Is(http.StatusForbidden, "forbidden")
		rs := receipts(h, "care", entryOf(h, "request", body{"request": "nothing"}))
		require.Equal(t, "unknown", rs[0].Problem.Fields[0].Code)
	})
}
