package server_test

import (
	"net/http"
	"testing"
	"time"

	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

// The steps of ISO 10002:2018 clause 7, as standards.md C2 lists them: a
// number of its own, acknowledged at once, assessed for severity and safety,
// looked into, answered, closed with the record, and a way outside.
func TestAComplaintGoesItsSteps(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		a := h.As("ana").Post("/api/complaints", obj{"farm_id": "f1", "person_id": "care", "channel": "phone", "said": "Nobody came"}, housetest.Key("once")).OK()
		c := housetest.Read[app.Complaint](a)
		require.Equal(t, []any{"C 1/26", app.ComplaintReceived, h.Now()}, []any{c.Number, c.State, c.AcknowledgedAt})
		h.As("ana").Post("/api/complaints", obj{"farm_id": "f1", "person_id": "care", "channel": "phone", "said": "Nobody came"}, housetest.Key("once")).OK()
		list := func(who string) []app.Complaint {
			return housetest.Read[struct{ Items []app.Complaint }](h.As(who).Get("/api/complaints").OK()).Items
		}
		require.Len(t, list("ana"), 1)
		require.Empty(t, list("dou"))
		told, err := h.Store.MessagesBy(t.Context(), h.Now().Add(-time.Hour))
		require.NoError(t, err)
		require.Equal(t, app.ByText, told[0].Channel)
		require.Equal(t, 1, told[0].Messages, "acknowledged once")

		step := func(who, tag string, b obj) *housetest.Answer {
			return h.As(who).Post("/api/complaints/"+c.ID+"/step", b, housetest.IfMatch(tag))
		}
		step("ana", `"1"`, obj{"to": "assessed", "severity": "high"}).Is(http.StatusForbidden, "forbidden")
		step("mo", `"1"`, obj{"to": "closed", "content": "yes"}).Is(http.StatusConflict, "complaint-step")
		step("mo", `"1"`, obj{"to": "assessed"}).Is(http.StatusUnprocessableEntity, "complaint-step-refused")
		a = step("mo", `"1"`, obj{"to": "assessed", "severity": "high", "safety": true}).OK()
		step("mo", `"1"`, obj{"to": "answered", "found": "x", "decision": "y"}).Is(http.StatusPreconditionFailed, "stale")
		step("mo", a.ETag(), obj{"to": "answered", "found": "The visit was missed"}).Is(http.StatusUnprocessableEntity, "complaint-step-refused")
		a = step("mo", a.ETag(), obj{"to": "answered", "found": "The visit was missed", "decision": "Fidel comes on Monday"}).OK()
		step("mo", a.ETag(), obj{"to": "closed"}).Is(http.StatusUnprocessableEntity, "complaint-step-refused")
		a = step("bm", a.ETag(), obj{"to": "closed", "content": "no"}).OK()
		c = housetest.Read[app.Complaint](a)
		require.Equal(t, []any{app.ComplaintClosed, "mo", "bm", "no", "The visit was missed"}, []any{c.State, c.HolderID, c.ClosedBy, c.Content, c.Found})
		step("mo", a.ETag(), obj{"to": "assessed", "severity": "low"}).Is(http.StatusConflict, "complaint-step")
		audit, err := h.Store.Audit(t.Context(), app.Everything, app.AuditQuery{Thing: "complaint", ThingID: c.ID})
		require.NoError(t, err)
		require.Len(t, audit.Items, 4)
	})
}

func TestFiltersAreSavedAndTicketsLinked(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		type list struct{ Items []app.SavedFilter }
		h.As("ana").Put("/api/me/filters/Rain", obj{"state": "waiting", "branch": "buea"}).OK()
		got := housetest.Read[list](h.As("ana").Put("/api/me/filters/Rain", obj{"state": "in-hand"}).OK())
		require.Equal(t, []app.SavedFilter{{Name: "Rain", Filter: app.Filter{State: "in-hand"}}}, got.Items)
		require.Empty(t, housetest.Read[list](h.As("mo").Get("/api/me/filters").OK()).Items, "one's own alone")
		require.Equal(t, 422, h.As("ana").Put("/api/me/filters/x", obj{"colour": "blue"}).Status)
		require.Empty(t, housetest.Read[list](h.As("ana").Delete("/api/me/filters/Rain").OK()).Items)
		h.As("care").Get("/api/me/filters").Is(http.StatusForbidden, "forbidden")

		a, b := say(t, h, 0), say(t, h, 0)
		link := func(off bool) app.Thread {
			return housetest.Read[app.Thread](h.As("ana").Post("/api/tickets/"+b+"/link", obj{"other": a, "off": off}).OK())
		}
		require.Equal(t, a, link(false).Linked[0].ID)
		require.Len(t, link(false).Linked, 1, "twice is once")
		th := housetest.Read[app.Thread](h.As("ana").Get("/api/tickets/" + a).OK())
		require.Equal(t, b, th.Linked[0].ID, "from the other side too")
		require.Equal(t, "linked", string(th.Events[len(th.Events)-1].Kind))
		require.Empty(t, link(true).Linked)
		h.As("ana").Post("/api/tickets/"+a+"/link", obj{"other": a}).Is(http.StatusConflict, "ticket-link")
	})
}
