package server_test

import (
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"tendfold/domain/farm"
	"tendfold/domain/text"
	"tendfold/domain/ticket"
	"tendfold/server"
	"tendfold/server/app"
	"tendfold/server/housetest"
	"tendfold/server/notify"

	"github.com/stretchr/testify/require"
)

const hookSecret = "a secret that the gateway shares with us"

// carrier is a gateway that notes what it gets.
type carrier struct {
	*httptest.Server
	mu     sync.Mutex
	status int
	sent   []map[string]string
}

func newCarrier(t *testing.T) *carrier {
	c := &carrier{status: http.StatusOK}
	c.Server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		c.mu.Lock()
		defer c.mu.Unlock()
		raw, _ := io.ReadAll(r.Body)
		var m map[string]string
		if json.Unmarshal(raw, &m) == nil && c.status == http.StatusOK {
			c.sent = append(c.sent, m)
		}
		w.WriteHeader(c.status)
		_, _ = w.Write([]byte(`{"id": "g-` + m["id"] + `"}`))
	}))
	t.Cleanup(c.Close)
	return c
}

func (c *carrier) set(cfg *server.Config) {
	cfg.Notify.Text.URL = c.URL
	cfg.Notify.Hook.Secrets = []string{hookSecret}
}

// deliver does what the workers would: every message that is due is sent.
func deliver(t *testing.T, h *housetest.House) []error {
	t.Helper()
	waiting, err := h.Store.Unsent(t.Context(), h.Now().Add(time.Second))
	require.NoError(t, err)
	var out []error
	for _, m := range waiting {
		if err := h.Reach.Deliver(t.Context(), m.ID, false); err != nil {
			out = append(out, err)
		}
	}
	return out
}

var gatewayIDs int

// texts hands a message in as a gateway does.
func texts(t *testing.T, h *housetest.House, from, body string) app.TextState {
	t.Helper()
	gatewayIDs++
	return handIn(t, h, "g"+strconv.Itoa(gatewayIDs), from, body)
}

func handIn(t *testing.T, h *housetest.House, id, from, body string) app.TextState {
	t.Helper()
	raw, err := json.Marshal(obj{"id": id, "from": from, "text": body})
	require.NoError(t, err)
	return housetest.Read[struct{ State app.TextState }](post(h, "/api/texts/in", raw).OK()).State
}

func post(h *housetest.House, path string, raw []byte) *housetest.Answer {
	at := strconv.FormatInt(h.Now().Unix(), 10)
	return h.Stranger().Do(http.MethodPost, path, raw, func(head http.Header) {
		head.Set("X-Tendfold-Timestamp", at)
		head.Set("X-Tendfold-Signature", notify.Sign([]byte(hookSecret), at, raw))
	})
}

func ticketsOf(h *housetest.House, farm string) []app.TicketLine {
	h.T.Helper()
	return housetest.Read[app.Page[app.TicketLine]](h.As("mo").Get("/api/tickets?farm=" + farm).OK()).Items
}

func TestATextFromAnyPhoneOpensATicketAndIsAnswered(t *testing.T) {
	gate := newCarrier(t)
	housetest.EachWith(t, gate.set, func(t *testing.T, h *housetest.House) {
		gate.sent = nil
		require.Equal(t, app.TextPlaced, texts(t, h, "+999670000008", "Morts 12"))
		list := ticketsOf(h, "f1")
		require.Len(t, list, 1)
		require.Equal(t, []any{ticket.AnimalsAtRisk, ticket.FromCaretaker, "many-sudden-deaths", "Morts 12"}, []any{list[0].Urgency, list[0].Origin, list[0].Subject, list[0].Title})
		day, err := h.Store.EventsSince(t.Context(), "f1", h.Today(), app.EntryDay)
		require.NoError(t, err)
		require.Len(t, day, 1)
		require.JSONEq(t, `{"deaths": 12, "note": "Morts 12"}`, string(day[0].Data))

		require.Empty(t, deliver(t, h))
		require.Len(t, gate.sent, 1)
		require.Equal(t, "+999670000008", gate.sent[0]["to"])
		require.Contains(t, gate.sent[0]["text"], "Tendfold: received, your report 1/26. We answer by 10:30 today. Gloves. Take out the dead")
		require.False(t, text.SizeOf(gate.sent[0]["text"]).Unicode)

		require.Equal(t, app.TextPlaced, texts(t, h, "999670000008", "it smells too"), "without its plus, and onto the same ticket")
		require.Equal(t, app.TextPlaced, texts(t, h, "+999670000008", "dead 14"))
		require.Len(t, ticketsOf(h, "f1"), 1)
		th := housetest.Read[app.Thread](h.As("ana").Get("/api/tickets/" + list[0].ID).OK())
		require.Equal(t, []string{"Morts 12", "it smells too", "dead 14"}, []string{th.Events[0].Text, th.Events[1].Text, th.Events[2].Text})
		require.Equal(t, "care", th.Events[1].PersonID)
		require.Equal(t, app.MessageSent, th.Messages[0].State, "the thread shows what became of the answer")

		require.Equal(t, app.TextPlaced, texts(t, h, "+999670000008", "0 dead, 40 eggs"))
		require.Len(t, ticketsOf(h, "f1"), 1, "news of nothing wrong is no ticket")
		h.Pass(73 * time.Hour)
		texts(t, h, "+999670000008", "the door hangs")
		require.Len(t, ticketsOf(h, "f1"), 2, "days later it is another thing")
	})
}

func TestTheSameTextComesTwice(t *testing.T) {
	gate := newCarrier(t)
	housetest.EachWith(t, gate.set, func(t *testing.T, h *housetest.House) {
		for range 3 {
			require.Equal(t, app.TextPlaced, handIn(t, h, "same", "+999670000008", "NO WATER"))
		}
		require.Len(t, ticketsOf(h, "f1"), 1)
		var group sync.WaitGroup
		for range 8 {
			group.Go(func() {
				_, _ = h.Texts.Receive(t.Context(), app.RawText{ID: "at once", From: "+999670000009", Body: "NO WATER"})
			})
		}
		group.Wait()
		require.Len(t, ticketsOf(h, "f3"), 1)

		raw := []byte(`{"id":"x","from":"+999670000008","text":"NO WATER"}`)
		h.Stranger().Post("/api/texts/in", raw).Is(http.StatusUnauthorized, "signature-refused")
		h.As("adm").Post("/api/texts/in", raw).Is(http.StatusUnauthorized, "signature-refused")
		post(h, "/api/texts/in", []byte(`[`)).Is(http.StatusBadRequest, "text-malformed")
		post(h, "/api/texts/in", []byte(`{"id":"x"}`)).Is(http.StatusUnprocessableEntity, "text-refused")
		require.Equal(t, http.StatusRequestEntityTooLarge, post(h, "/api/texts/in", []byte(`{"id":"`+strings.Repeat("x", 20<<10)+`"}`)).Status)
	})
}

func TestAPersonInDangerByText(t *testing.T) {
	gate := newCarrier(t)
	housetest.EachWith(t, gate.set, func(t *testing.T, h *housetest.House) {
		gate.sent = nil
		care := person(t, h, "care")
		care.Language = "fr"
		require.NoError(t, h.Store.ChangePerson(t.Context(), care))
		ana := person(t, h, "ana")
		ana.Email = "ana@example.org"
		require.NoError(t, h.Store.ChangePerson(t.Context(), ana))
		h.Pass(14 * time.Hour) // half past eleven at night
		texts(t, h, "+999670000008", "Mon frère est ÉLECTROCUTE!! dead 2")
		require.Equal(t, ticket.PersonInDanger, ticketsOf(h, "f1")[0].Urgency)
		require.Empty(t, deliver(t, h))
		require.Len(t, gate.sent, 1, "at night too")
		require.Contains(t, gate.sent[0]["text"], "Ne touchez ni la personne ni l'eau.")
		require.Contains(t, gate.sent[0]["text"], "Les personnes d'abord.", "with its caution")
		told, err := h.Store.MessagesOf(t.Context(), ticketsOf(h, "f1")[0].ID)
		require.NoError(t, err)
		require.True(t, told[0].Urgent)
		require.Equal(t, []any{app.ByEmail, "ana@example.org", app.MessageNoGateway}, []any{told[0].Channel, told[0].Address, told[0].State}, "kept, though no e-mail is set up")
	})
}

func TestATextThatNobodyKnowsIsCalledBack(t *testing.T) {
	gate := newCarrier(t)
	housetest.EachWith(t, gate.set, func(t *testing.T, h *housetest.House) {
		gate.sent = nil
		require.Equal(t, app.TextWaiting, texts(t, h, "+999600000077", "my snails"))
		require.Empty(t, deliver(t, h))
		require.Contains(t, gate.sent[0]["text"], "we do not know this number")
		list := housetest.Read[struct{ Items []app.TextIn }](h.As("ana").Get("/api/texts").OK()).Items
		require.Len(t, list, 1)
		h.As("ana").Post("/api/texts/"+list[0].ID+"/dealt", obj{"farm_id": "f3"}, housetest.IfMatch(`"2"`)).Is(http.StatusNotFound, "farm-not-found")
		h.As("ana").Post("/api/texts/"+list[0].ID+"/dealt", obj{"farm_id": "f1"}, housetest.IfMatch(`"1"`)).Is(http.StatusPreconditionFailed, "stale")
		a := h.As("ana").Post("/api/texts/"+list[0].ID+"/dealt", obj{"farm_id": "f1"}, housetest.IfMatch(`"2"`)).OK()
		require.Equal(t, "ana", housetest.Read[app.TextIn](a).DealtBy)
		h.As("ana").Post("/api/texts/"+list[0].ID+"/dealt", obj{}, housetest.IfMatch(a.ETag())).Is(http.StatusConflict, "text-dealt")
		require.Empty(t, housetest.Read[struct{ Items []app.TextIn }](h.As("ana").Get("/api/texts").OK()).Items)

		gate.sent = nil
		for range 30 {
			texts(t, h, "+999600000078", "hello machine")
			require.Empty(t, deliver(t, h))
		}
		require.Len(t, gate.sent, 12, "a loop between two machines ends")

		// One number, two farms: the one that is named, else we ask.
		require.NoError(t, h.Store.SetWork(t.Context(), farm.Work{FarmID: "f2", PersonID: "care", InCharge: true, Since: "2026-01-05"}))
		require.Equal(t, app.TextWaiting, texts(t, h, "+999670000008", "no water"))
		require.Equal(t, app.TextPlaced, texts(t, h, "+999670000008", "no water at riverside"))
		require.Len(t, ticketsOf(h, "f2"), 1)
		require.Empty(t, ticketsOf(h, "f1"))
		require.Equal(t, app.TextPlaced, texts(t, h, "+999670000008", "she got a shock"), "a danger does not wait for an answer")
	})
}

func person(t *testing.T, h *housetest.House, id string) farm.Person {
	t.Helper()
	p, err := h.Store.Person(t.Context(), app.Everything, id)
	require.NoError(t, err)
	return p
}

// say opens a ticket on f1 and says something to the farm by text, n times.
func say(t *testing.T, h *housetest.House, n int) string {
	t.Helper()
	id := housetest.Read[app.Thread](h.As("ana").Post("/api/tickets", obj{"farm_id": "f1", "title": "Pump", "impact": "low", "time_to_loss": "week", "origin": "call"}).OK()).ID
	for i := range n {
		h.As("ana").Post("/api/tickets/"+id+"/say", obj{"text": "Word " + strconv.Itoa(i+1), "by_text": true}).OK()
	}
	return id
}

func states(t *testing.T, h *housetest.House, ticketID string) string {
	t.Helper()
	ms, err := h.Store.MessagesOf(t.Context(), ticketID)
	require.NoError(t, err)
	var out []string
	for _, m := range ms {
		out = append(out, string(m.State))
	}
	return strings.Join(out, " ")
}

func TestTenMessagesAreOneDigest(t *testing.T) {
	gate := newCarrier(t)
	housetest.EachWith(t, gate.set, func(t *testing.T, h *housetest.House) {
		gate.sent = nil
		id := say(t, h, 10)
		require.Empty(t, deliver(t, h))
		require.Empty(t, gate.sent, "it waits a little for others")
		h.Pass(3 * time.Minute)
		require.Empty(t, deliver(t, h))
		require.Len(t, gate.sent, 1)
		require.True(t, strings.HasPrefix(gate.sent[0]["text"], "10 messages:\n1) Word 1\n2) Word 2\n"))
		require.Equal(t, "sent"+strings.Repeat(" gathered", 9), states(t, h, id))
		used, err := h.Store.PartsIn(t.Context(), "2026-03")
		require.NoError(t, err)
		require.Equal(t, text.SizeOf(gate.sent[0]["text"]).Parts, used, "what is paid is counted once")

		raw := []byte(`{"id":"g-` + gate.sent[0]["id"] + `","state":"DELIVRD"}`)
		post(h, "/api/texts/delivery", raw).OK()
		require.True(t, strings.HasPrefix(states(t, h, id), "delivered gathered"))
		post(h, "/api/texts/delivery", []byte(`{"id":"nobody's","state":"failed"}`)).Is(http.StatusNotFound, "message-not-found")
	})
}

func TestADeadGatewayLosesNothing(t *testing.T) {
	gate := newCarrier(t)
	housetest.EachWith(t, gate.set, func(t *testing.T, h *housetest.House) {
		gate.sent, gate.status = nil, http.StatusBadGateway
		id := say(t, h, 2)
		h.Pass(3 * time.Minute)
		for range 5 {
			require.NotEmpty(t, deliver(t, h), "the worker is told to try again")
		}
		require.Equal(t, "waiting waiting", states(t, h, id))
		gate.status = http.StatusOK
		require.Empty(t, deliver(t, h))
		require.Equal(t, "sent gathered", states(t, h, id))
		require.Len(t, gate.sent, 1)

		gate.status = http.StatusBadRequest
		id = say(t, h, 1)
		h.Pass(3 * time.Minute)
		require.Empty(t, deliver(t, h), "what is refused for good is not tried again")
		require.Equal(t, "failed", states(t, h, id))
		ms, err := h.Store.MessagesOf(t.Context(), id)
		require.NoError(t, err)
		gate.status = http.StatusOK
		h.As("dou").Post("/api/messages/"+ms[0].ID+"/again", nil).Is(http.StatusNotFound, "message-not-found")
		h.As("ana").Post("/api/messages/"+ms[0].ID+"/again", nil).OK()
		h.As("ana").Post("/api/messages/"+ms[0].ID+"/again", nil).Is(http.StatusConflict, "message-under-way")
		require.Empty(t, deliver(t, h))
		require.Equal(t, "sent", states(t, h, id))
	})
}

// A worker that dies with a message in its hands leaves it; it is taken up
// again after a while, and never twice at once.
func TestAMessageWhoseWorkerDied(t *testing.T) {
	gate := newCarrier(t)
	housetest.EachWith(t, gate.set, func(t *testing.T, h *housetest.House) {
		gate.sent = nil
		id := say(t, h, 1)
		h.Pass(3 * time.Minute)
		ms, err := h.Store.MessagesOf(t.Context(), id)
		require.NoError(t, err)
		m := ms[0]
		m.State, m.ClaimedAt = app.MessageSending, h.Now()
		require.NoError(t, h.Store.ChangeMessage(t.Context(), m))
		require.ErrorAs(t, h.Reach.Deliver(t.Context(), m.ID, false), &app.NotYet{})
		h.Pass(6 * time.Minute)
		require.NoError(t, h.Reach.Deliver(t.Context(), m.ID, false))
		require.NoError(t, h.Reach.Deliver(t.Context(), m.ID, false), "again, and nothing happens")
		require.Len(t, gate.sent, 1)

		id = say(t, h, 6)
		h.Pass(3 * time.Minute)
		ms, err = h.Store.MessagesOf(t.Context(), id)
		require.NoError(t, err)
		var group sync.WaitGroup
		for _, m := range ms {
			group.Go(func() { _ = h.Reach.Deliver(t.Context(), m.ID, false) })
		}
		group.Wait()
		deliver(t, h)
		all := ""
		for _, s := range gate.sent[1:] {
			all += s["text"] + "\n"
		}
		for i := range 6 {
			require.Equal(t, 1, strings.Count(all, "Word "+strconv.Itoa(i+1)), "six workers at once: each word goes once")
		}
	})
}

func TestQuietHoursOptOutAndBudget(t *testing.T) {
	gate := newCarrier(t)
	housetest.EachWith(t, gate.set, func(t *testing.T, h *housetest.House) {
		gate.sent = nil
		h.Pass(12 * time.Hour) // half past nine in the evening where the farm is
		id := say(t, h, 1)
		h.Pass(8 * time.Hour)
		require.Empty(t, deliver(t, h))
		require.Equal(t, "waiting", states(t, h, id), "half past five is quiet still")
		h.Pass(time.Hour)
		require.Empty(t, deliver(t, h))
		require.Equal(t, "sent", states(t, h, id))

		texts(t, h, "+999670000008", "ARRÊT")
		require.Empty(t, deliver(t, h))
		require.Contains(t, gate.sent[len(gate.sent)-1]["text"], "START")
		id = say(t, h, 1)
		require.Equal(t, "opted-out", states(t, h, id))
		ms, err := h.Store.MessagesOf(t.Context(), id)
		require.NoError(t, err)
		h.As("ana").Post("/api/messages/"+ms[0].ID+"/again", nil).Is(http.StatusConflict, "message-opted-out")
		texts(t, h, "+999670000008", "start")

		a := h.As("adm").Get("/api/reach").OK()
		h.As("mo").Put("/api/reach", obj{"monthly_parts": 0, "quiet_from": 0, "quiet_to": 0}, housetest.IfMatch(a.ETag())).Is(http.StatusForbidden, "forbidden")
		a = h.As("adm").Put("/api/reach", obj{"monthly_parts": 0, "quiet_from": 0, "quiet_to": 0}, housetest.IfMatch(a.ETag())).OK()
		require.Positive(t, housetest.Read[app.Settings](a).UsedParts)
		deliver(t, h)
		id = say(t, h, 1)
		h.Pass(3 * time.Minute)
		require.Empty(t, deliver(t, h))
		require.Equal(t, "over-budget", states(t, h, id))
		gate.sent = nil
		texts(t, h, "+999670000008", "snake bite")
		require.Empty(t, deliver(t, h))
		require.Len(t, gate.sent, 1, "a danger is sent whatever the budget")
	})
}

func TestWithoutAGatewayMessagesAreKept(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		id := say(t, h, 2)
		require.Equal(t, "no-gateway no-gateway", states(t, h, id))
		ms, err := h.Store.MessagesOf(t.Context(), id)
		require.NoError(t, err)
		h.As("ana").Post("/api/messages/"+ms[0].ID+"/again", nil).Is(http.StatusConflict, "message-no-gateway")
		post(h, "/api/texts/in", []byte(`{"id":"x","from":"+999670000008","text":"NO WATER"}`)).Is(http.StatusNotFound, "texts-off")
	})
}
