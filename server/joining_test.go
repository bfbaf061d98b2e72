package server_test

import (
	"strconv"
	"testing"

	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Whatever is done to three tickets of a farm, joining among it, every line of
// every thread stays as it was written, and a ticket that became part of
// another still has its own.
func TestJoiningKeepsEveryEvent(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		rapid.Check(t, func(rt *rapid.T) {
			var ids []string
			for range 3 {
				ids = append(ids, say(t, h, 0))
			}
			kept := map[string]app.TicketEvent{}
			words := 0
			one := func(label string) string { return rapid.SampledFrom(ids).Draw(rt, label) }
			act := func(path string, body obj, id string) {
				th := h.As("ana").Get("/api/tickets/" + id).OK()
				a := h.As("ana").Post("/api/tickets/"+id+path, body, housetest.IfMatch(th.ETag()))
				require.Less(t, a.Status, 500, "%s", a.Body)
			}
			rt.Repeat(map[string]func(*rapid.T){
				"join":   func(*rapid.T) { act("/join", obj{"into": one("into")}, one("ticket")) },
				"settle": func(*rapid.T) { act("/move", obj{"to": "settled", "outcome": "done"}, one("ticket")) },
				"reopen": func(*rapid.T) { act("/move", obj{"to": "assessed", "note": "again"}, one("ticket")) },
				"take":   func(*rapid.T) { act("/move", obj{"to": "in-hand"}, one("ticket")) },
				"say": func(*rapid.T) {
					words++
					act("/say", obj{"text": "word " + strconv.Itoa(words), "inside": words%2 == 0}, one("ticket"))
				},
				"": func(*rapid.T) {
					now := map[string]app.TicketEvent{}
					for _, id := range ids {
						list, err := h.Store.TicketEvents(t.Context(), id)
						require.NoError(t, err)
						for _, e := range list {
							require.Equal(t, id, e.TicketID)
							now[e.ID] = e
						}
					}
					for id, e := range kept {
						require.Equal(t, e, now[id])
					}
					kept = now
				},
			})
		})
	})
}
