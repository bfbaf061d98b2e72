package server_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"image"
	"image/jpeg"
	"net/http"
	"slices"
	"strings"
	"testing"

	"tendfold/domain/calendar"
	"tendfold/server"
	"tendfold/server/app"
	"tendfold/server/app/signin"
	"tendfold/server/housetest"
	"tendfold/server/store"

	"github.com/stretchr/testify/require"
)

// The access matrix: every operation of the API against every role and things
// that are not theirs. An operation without a row here fails the test, so a
// new one cannot come in unseen (OWASP API1:2023; ASVS v5.0.0-8.2.1, 8.2.2).

// kind of an operation, which says what outsiders must get.
type kind int

const (
	open   kind = iota // needs no sign-in
	own                // about the caller alone: no other person's thing can be named
	object             // about a thing of farm f1: outsiders get 403 or 404
	list               // outsiders may ask, and see nothing of f1
	office             // for some roles only: the others get 403 or 404
	shared             // words of the packs, for everyone who is signed in
)

// row is how an operation is asked for with things of farm f1 (Buea, client
// c1, caretaker care).
type row struct {
	kind kind
	path string // with f1's things put in
	body any
	may  []string // office: who may
}

// outsiders know nothing of f1: staff of the other branch, another farm's
// caretaker, another client's owner, somebody without a role.
var outsiders = []string{"dou", "dfo", "far", "own2", "out"}

type obj = map[string]any

// form is a register of one farm as a browser uploads it.
var form = []byte("--b\r\nContent-Disposition: form-data; name=\"file\"; filename=\"r.csv\"\r\nContent-Type: text/csv\r\n\r\n" +
	"client,farm,unit,enterprise\r\nX,Y,Z,snail\r\n\r\n--b\r\nContent-Disposition: form-data; name=\"commit\"\r\n\r\ntrue\r\n--b--\r\n")

func asForm(h http.Header) { h.Set("Content-Type", "multipart/form-data; boundary=b") }

func matrix(ids map[string]string, today calendar.Date) map[string]row {
	day := today.String()
	person := obj{"name": "Carine", "language": "en", "grants": []obj{{"role": "caretaker", "branch_id": ""}}}
	unit := obj{"name": "House", "enterprise": "snail", "build": obj{
		"length": obj{"value": 1, "measure": "m"}, "width": obj{"value": 1, "measure": "m"}, "capacity": 0, "standard": "", "wall_base": "", "cover": "",
		"double_door": "", "drain": "", "lined": "", "paths": "", "feed_platforms": "", "water": "", "tank_litres": 0,
		"pump": obj{"value": 0, "measure": ""}, "handed_over_on": "", "defects_months": 0,
	}}
	branch := obj{"name": "Buea", "time_zone": "Africa/Douala"}
	entry := obj{"id": "e-matrix", "kind": "note", "on": day, "data": obj{"note": "x"}}
	admins, leaders := []string{"adm"}, []string{"adm", "mo", "bm"}
	return map[string]row{
		"get-firm": {kind: open, path: "/api/firm"}, "first-run": {kind: open}, "sign-in": {kind: open}, "refresh": {kind: open},
		"sign-out": {kind: open}, "make-nonce": {kind: open}, "sign-in-phone": {kind: open}, "look-at-way-in": {kind: open},
		"enrol-phone": {kind: open}, "set-password": {kind: open}, "report-wrong-pin": {kind: open},

		"get-me": {kind: own, path: "/api/me"}, "change-password": {kind: own, path: "/api/me/password"}, "start-code-app": {kind: own, path: "/api/me/code-app"},
		"confirm-code-app": {kind: own, path: "/api/me/code-app"}, "remove-code-app": {kind: own, path: "/api/me/code-app/remove"},
		"list-own-phones": {kind: own, path: "/api/me/phones"}, "add-own-phone": {kind: own, path: "/api/me/phones"},
		"list-own-sessions": {kind: own, path: "/api/me/sessions"}, "end-other-sessions": {kind: own, path: "/api/me/sessions"},
		"revoke-own-phone": {kind: object, path: "/api/me/phones/" + ids["phone"]}, "end-own-session": {kind: object, path: "/api/me/sessions/session-of-care"},
		"get-outbox-key": {kind: shared, path: "/api/outbox-key"}, "list-packs": {kind: shared, path: "/api/packs"},
		"get-pack": {kind: shared, path: "/api/packs/snail"}, "get-triage": {kind: shared, path: "/api/triage/snail"}, "get-lessons": {kind: shared, path: "/api/lessons/snail"},
		"get-farm-training": {kind: object, path: "/api/farms/f1/training"},
		"get-training":      {kind: list, path: "/api/training"}, "list-questions": {kind: list, path: "/api/training/questions"},
		"get-training-record": {kind: list, path: "/api/training/record"}, "export-training": {kind: list, path: "/api/training/record.csv"},
		"issue-certificate": {kind: object, path: "/api/people/care/certificates", body: obj{}}, "check-certificate": {kind: open},
		"get-certificate-paper": {kind: object, path: "/api/certificates/" + ids["certificate"] + "/paper"},
		"get-drawings":          {kind: shared, path: "/api/lessons/snail/drawings"}, "get-voices": {kind: shared, path: "/api/lessons/snail/voices/moving-safely"},

		"list-farms": {kind: list, path: "/api/farms"}, "count-farms": {kind: list, path: "/api/farm-counts"}, "search": {kind: list, path: "/api/search?q=Hillside"},
		"list-tickets": {kind: list, path: "/api/tickets?farm=f1"}, "list-calls": {kind: list, path: "/api/calls?farm=f1"},
		"list-absences":   {kind: list, path: "/api/absences"},
		"list-vet-clocks": {kind: list, path: "/api/vet-clocks"}, "list-card-reviews": {kind: list, path: "/api/card-reviews"}, "export-card-reviews": {kind: list, path: "/api/card-reviews.csv"},
		"list-promises": {kind: list, path: "/api/promises?farm=f1"}, "list-call-backs": {kind: list, path: "/api/call-backs"},
		"list-visits": {kind: list, path: "/api/visits?farm=f1"}, "list-visit-needs": {kind: list, path: "/api/visit-needs"},
		"list-to-confirm": {kind: list, path: "/api/to-confirm"}, "get-load": {kind: list, path: "/api/load?branch=buea"},
		"list-clients": {kind: list, path: "/api/clients?q=Ngoh"}, "list-people": {kind: list, path: "/api/people?farm=f1"},
		"get-today": {kind: list, path: "/api/today"}, "list-first-steps": {kind: list, path: "/api/first-steps"}, "get-book": {kind: shared, path: "/api/book"},

		"get-farm": {kind: object, path: "/api/farms/f1"}, "list-events": {kind: object, path: "/api/farms/f1/events"},
		"list-findings": {kind: object, path: "/api/farms/f1/findings"}, "list-visit-requests": {kind: object, path: "/api/farms/f1/visit-requests"},
		"ask-for-visit": {kind: object, path: "/api/farms/f1/visit-requests", body: obj{"text": "please"}},
		"add-entry":     {kind: object, path: "/api/farms/f1/entries", body: entry},
		"sync-entries": {kind: list, path: "/api/sync", body: obj{"sent_at": "2026-03-12T08:30:00Z", "entries": []obj{
			{"id": "e-sync", "farm_id": "f1", "kind": "note", "on": day, "data": obj{"note": "x"}},
		}}},
		"sync-sealed":    {kind: list, path: "/api/sync/sealed", body: obj{"entries": []obj{{"id": "e-sealed", "kid": "k", "enc": "BA", "ciphertext": "AA"}}}},
		"announce-media": {kind: object, path: "/api/media", body: announcement("019cdf44-9c6a-7b0e-8f0a-3a5d5c1f2b99")},
		"send-media":     {kind: object, path: "/api/media/" + ids["media"] + "/parts?offset=0", body: []byte("x")},
		"finish-media":   {kind: object, path: "/api/media/" + ids["media"] + "/finish"},
		"get-media":      {kind: object, path: "/api/media/" + ids["media"]},
		"get-thumbnail":  {kind: object, path: "/api/media/" + ids["media"] + "/thumbnail"},
		"change-farm":    {kind: object, path: "/api/farms/f1", body: obj{"branch_id": "buea", "name": "Stolen"}},
		"add-unit":       {kind: object, path: "/api/farms/f1/units", body: unit}, "change-unit": {kind: object, path: "/api/units/u1", body: unit},
		"get-projection": {kind: object, path: "/api/units/u1/projection"},
		"get-daybook":    {kind: object, path: "/api/units/u1/daybook"}, "get-daybook-paper": {kind: object, path: "/api/units/u1/daybook/paper"},
		"ask-on-ticket": {kind: object, path: "/api/tickets/" + ids["ticket"] + "/ask", body: obj{"text": "x", "due_on": day}},
		"ask-farm":      {kind: object, path: "/api/farms/f1/requests", body: obj{"text": "x", "due_on": day}},
		"list-requests": {kind: object, path: "/api/farms/f1/requests"}, "withdraw-request": {kind: object, path: "/api/requests/" + ids["request"] + "/withdraw"},
		"start-cycle": {kind: object, path: "/api/units/u1/cycles", body: obj{"purpose": "grow-out", "started_on": day}},
		"end-cycle":   {kind: object, path: "/api/cycles/y1/end", body: obj{"ended_on": day}},
		"set-work":    {kind: object, path: "/api/farms/f1/people/far", body: obj{"in_charge": true}},
		"end-work":    {kind: object, path: "/api/farms/f1/people/care"},
		"watch-farms": {kind: object, path: "/api/farms/watch", body: obj{"ids": []string{"f4"}}},

		"open-ticket":      {kind: object, path: "/api/tickets", body: obj{"farm_id": "f1", "title": "x", "impact": "low", "time_to_loss": "week", "origin": "call"}},
		"get-ticket":       {kind: object, path: "/api/tickets/" + ids["ticket"]},
		"assess-ticket":    {kind: object, path: "/api/tickets/" + ids["ticket"] + "/assess", body: obj{"impact": "high", "time_to_loss": "hours", "why": "x"}},
		"move-ticket":      {kind: object, path: "/api/tickets/" + ids["ticket"] + "/move", body: obj{"to": "in-hand"}},
		"move-ticket-due":  {kind: object, path: "/api/tickets/" + ids["ticket"] + "/due", body: obj{"plan_by": "2026-03-20T10:00:00Z", "why": "x"}},
		"hand-over-ticket": {kind: object, path: "/api/tickets/" + ids["ticket"] + "/hand-over", body: obj{"to": "fie"}},
		"join-ticket":      {kind: object, path: "/api/tickets/" + ids["ticket"] + "/join", body: obj{"into": ids["other-ticket"]}},
		"say-on-ticket":    {kind: object, path: "/api/tickets/" + ids["ticket"] + "/say", body: obj{"text": "x"}},

		"list-complaints": {kind: list, path: "/api/complaints?farm=f1"}, "receive-complaint": {kind: object, path: "/api/complaints", body: obj{"farm_id": "f1", "channel": "phone", "said": "x"}},
		"step-complaint": {kind: object, path: "/api/complaints/" + ids["complaint"] + "/step", body: obj{"to": "assessed", "severity": "low"}},
		"list-filters":   {kind: own, path: "/api/me/filters"}, "save-filter": {kind: own, path: "/api/me/filters/x"}, "drop-filter": {kind: own, path: "/api/me/filters/x"},
		"link-tickets":   {kind: object, path: "/api/tickets/" + ids["ticket"] + "/link", body: obj{"other": ids["other-ticket"]}},
		"list-outbreaks": {kind: office, path: "/api/outbreaks", may: leaders},
		"follow-news":    {kind: office, path: "/api/news", may: housetest.Staff}, "be-here": {kind: object, path: "/api/tickets/" + ids["ticket"] + "/here", body: obj{}},
		"receive-text": {kind: open}, "note-delivery": {kind: open},
		"list-texts":     {kind: office, path: "/api/texts", may: housetest.Staff},
		"deal-with-text": {kind: office, path: "/api/texts/" + ids["text"] + "/dealt", body: obj{}, may: housetest.Staff},
		"get-reach":      {kind: office, path: "/api/reach", may: leaders},
		"set-reach":      {kind: office, path: "/api/reach", body: obj{"monthly_parts": 1, "quiet_from": 0, "quiet_to": 0}, may: admins},
		"send-again":     {kind: object, path: "/api/messages/" + ids["message"] + "/again"},
		"get-push-key":   {kind: shared, path: "/api/push-key"}, "push-on": {kind: own, path: "/api/me/push"}, "push-off": {kind: own, path: "/api/me/push/off"},

		"note-call":      {kind: object, path: "/api/calls", body: obj{"farm_id": "f1", "channel": "phone", "said": "x"}},
		"get-call":       {kind: object, path: "/api/calls/" + ids["call"]},
		"change-call":    {kind: object, path: "/api/calls/" + ids["call"], body: obj{"farm_id": "f1", "channel": "phone", "said": "y"}},
		"tell-call":      {kind: object, path: "/api/calls/" + ids["call"] + "/told", body: obj{"how": "x"}},
		"change-promise": {kind: object, path: "/api/promises/" + ids["promise"], body: obj{"kind": "other", "text": "y", "due_on": day}},
		"keep-promise":   {kind: object, path: "/api/promises/" + ids["promise"] + "/kept", body: obj{"kept": true}},
		"plan-visit":     {kind: object, path: "/api/visits", body: obj{"farm_id": "f1", "officer_id": "fie", "on": day}},
		"get-visit":      {kind: object, path: "/api/visits/" + ids["visit"]},
		"change-visit":   {kind: object, path: "/api/visits/" + ids["visit"], body: obj{"officer_id": "fie", "on": day}},
		"finish-visit":   {kind: object, path: "/api/visits/" + ids["visit"] + "/done", body: obj{"findings": "x"}},
		"miss-visit":     {kind: object, path: "/api/visits/" + ids["visit"] + "/missed", body: obj{"why": "x"}},

		"get-person": {kind: object, path: "/api/people/care"}, "change-person": {kind: object, path: "/api/people/care", body: person},
		"make-way-in":   {kind: object, path: "/api/people/care/ways-in", body: obj{"purpose": "phone", "kind": "link"}},
		"list-phones":   {kind: object, path: "/api/people/care/phones"},
		"revoke-phone":  {kind: object, path: "/api/people/care/phones/" + ids["phone"]},
		"revoke-phones": {kind: object, path: "/api/people/care/phones"},
		"list-sessions": {kind: object, path: "/api/people/care/sessions"},
		"end-session":   {kind: object, path: "/api/people/care/sessions/session-of-care"},
		"end-sessions":  {kind: object, path: "/api/people/care/sessions"},
		"change-client": {kind: object, path: "/api/clients/c1", body: obj{"name": "Stolen"}},

		"add-absence":      {kind: office, path: "/api/absences", body: obj{"person_id": "ana", "cover_id": "fie", "from": day, "until": day}, may: []string{"adm", "mo", "bm", "ana"}},
		"remove-absence":   {kind: office, path: "/api/absences/" + ids["absence"], may: []string{"adm", "mo", "bm", "ana"}},
		"sign-card":        {kind: office, path: "/api/card-reviews", body: obj{"enterprise": "catfish", "sign": "no-water", "version": 1, "reviewer": "x", "qualification": "x", "signed_on": day, "agrees": true}, may: leaders},
		"change-firm":      {kind: office, path: "/api/firm", body: obj{"name": "X", "language": "en", "time_zone": "UTC", "currency": "XAF"}, may: admins},
		"list-branches":    {kind: office, path: "/api/branches", may: housetest.Staff},
		"add-branch":       {kind: office, path: "/api/branches", body: obj{"name": "New", "time_zone": "UTC"}, may: admins},
		"change-branch":    {kind: office, path: "/api/branches/buea", body: branch, may: leaders},
		"branch-calendar":  {kind: office, path: "/api/branches/buea/calendar?year=2026", may: housetest.Staff},
		"edit-holiday":     {kind: office, path: "/api/branches/buea/holidays/" + day, body: obj{"name": "x"}, may: leaders},
		"remove-holiday":   {kind: office, path: "/api/branches/buea/holidays/" + day, may: leaders},
		"set-branch-rules": {kind: office, path: "/api/branches/buea/rules", body: obj{}, may: leaders},
		"add-person":       {kind: office, path: "/api/people", body: person, may: housetest.Staff},
		"add-client":       {kind: office, path: "/api/clients", body: obj{"name": "New"}, may: []string{"adm", "mo", "bm", "ana", "dou"}},
		"add-farm":         {kind: object, path: "/api/farms", body: obj{"client_id": "c1", "branch_id": "buea", "name": "New"}},
		"import-register":  {kind: office, path: "/api/intake", body: form, may: leaders},
	}
}

// picture is a small photo, and announcement what a phone says before it
// sends it for an entry of farm f1.
var picture = func() []byte {
	var out bytes.Buffer
	if err := jpeg.Encode(&out, image.NewGray(image.Rect(0, 0, 8, 8)), nil); err != nil {
		panic(err) // a picture of ours can be written
	}
	return out.Bytes()
}()

func announcement(id string) obj {
	sum := sha256.Sum256(picture)
	return obj{"id": id, "farm_id": "f1", "entry_id": "e-photo", "kind": "photo", "size": len(picture), "sha256": hex.EncodeToString(sum[:])}
}

// operation is a path and method of the description.
type operation struct{ id, method, path string }

func operations(t *testing.T) []operation {
	t.Helper()
	raw, err := server.OpenAPI()
	require.NoError(t, err)
	var doc struct {
		Paths map[string]map[string]struct {
			OperationID string `json:"operationId"`
		} `json:"paths"`
	}
	require.NoError(t, json.Unmarshal(raw, &doc))
	var out []operation
	for path, methods := range doc.Paths {
		for method, o := range methods {
			out = append(out, operation{o.OperationID, strings.ToUpper(method), path})
		}
	}
	slices.SortFunc(out, func(a, b operation) int { return strings.Compare(a.id, b.id) })
	return out
}

// things makes one of each thing on f1, as those who may.
func things(t *testing.T, h *housetest.House) map[string]string {
	t.Helper()
	type made struct {
		ID string `json:"id"`
	}
	id := func(a *housetest.Answer) string { return housetest.Read[made](a.OK()).ID }
	ids := map[string]string{"phone": "phone-of-care"}
	open := obj{"farm_id": "f1", "title": "Hillside pump", "impact": "low", "time_to_loss": "week", "origin": "call"}
	ids["ticket"] = id(h.As("ana").Post("/api/tickets", open))
	ids["other-ticket"] = id(h.As("ana").Post("/api/tickets", open))
	call := h.As("ana").Post("/api/calls", obj{"farm_id": "f1", "channel": "phone", "said": "Hillside is dry", "promises": []obj{{"kind": "call-back", "text": "ring Hillside", "due_on": h.Today().String()}}})
	ids["call"] = id(call)
	promises := housetest.Read[app.Page[made]](h.As("ana").Get("/api/promises?farm=f1").OK())
	require.NotEmpty(t, promises.Items)
	ids["promise"] = promises.Items[0].ID
	require.NoError(t, h.Store.AddCertificate(context.Background(), app.Certificate{Code: "ABCDEFGHJKMNPQRS", PersonID: "care", IssuedAt: h.Now(), ByID: "ana"}))
	ids["certificate"] = "ABCD-EFGH-JKMN-PQRS"
	ids["request"] = id(h.As("ana").Post("/api/farms/f1/requests", obj{"text": "Close the gap", "due_on": h.Today().String()}))
	ids["visit"] = id(h.As("mo").Post("/api/visits", obj{"farm_id": "f1", "officer_id": "fie", "on": h.Today().String()}))
	text, err := h.Texts.Receive(context.Background(), app.RawText{ID: "g1", From: "+999600000001", Body: "who are you"})
	require.NoError(t, err)
	ids["text"] = text.ID
	h.As("ana").Post("/api/tickets/"+ids["ticket"]+"/say", obj{"text": "Keep Hillside dry", "by_text": true}).OK()
	messages, err := h.Store.MessagesOf(context.Background(), ids["ticket"])
	require.NoError(t, err)
	require.NotEmpty(t, messages)
	ids["message"] = messages[0].ID
	ids["complaint"] = id(h.As("ana").Post("/api/complaints", obj{"farm_id": "f1", "channel": "phone", "said": "Hillside waits"}))
	ids["absence"] = id(h.As("ana").Post("/api/absences", obj{"person_id": "ana", "cover_id": "fie", "from": h.Today().String(), "until": h.Today().String()}))
	ids["media"] = "019cdf44-9c6a-7b0e-8f0a-3a5d5c1f2b10"
	h.As("care").Post("/api/media", announcement(ids["media"])).OK()
	h.As("care").Put("/api/media/"+ids["media"]+"/parts?offset=0", picture).OK()
	h.As("care").Post("/api/media/"+ids["media"]+"/finish", nil).OK()
	require.NoError(t, h.Store.AddDevice(context.Background(), signin.Device{ID: ids["phone"], PersonID: "care", Name: "phone", PublicKey: "{}", EnrolledAt: h.Now(), SeenAt: h.Now()}))
	return ids
}

func TestNobodyReachesWhatIsNotTheirs(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		h.Sweep()
		for _, who := range housetest.Everybody {
			h.As(who).Get("/api/me").OK() // a session for each, so that reading changes no row
		}
		rows := matrix(things(t, h), h.Today())
		before := fingerprint(t, h)
		seen := map[string]bool{}
		for _, o := range operations(t) {
			r, ok := rows[o.id]
			require.True(t, ok, "the operation %s has no row in the access matrix: say who may", o.id)
			seen[o.id] = true
			if r.kind == open {
				continue
			}
			for _, who := range append([]string{""}, housetest.Everybody...) {
				try(t, h, o, r, who)
			}
			require.Equal(t, before, fingerprint(t, h), "%s changed a row", o.id)
		}
		for id := range rows {
			require.True(t, seen[id], "the access matrix speaks of %s, which the API does not have", id)
		}
	})
}

// try asks for an operation as somebody who must not get it; those who may are
// left out, because the matrix is about those who may not.
func try(t *testing.T, h *housetest.House, o operation, r row, who string) {
	t.Helper()
	ask := h.Stranger()
	if who != "" {
		ask = h.As(who)
	}
	refused := false
	switch {
	case who == "":
		refused = true
	case r.kind == object:
		refused = slices.Contains(outsiders, who)
	case r.kind == office:
		refused = !slices.Contains(r.may, who)
	case r.kind == list && slices.Contains(outsiders, who):
		seesNothing(t, ask.Do(o.method, r.path, r.body, housetest.IfMatch(`"1"`)), o.id+" as "+who)
		return
	default:
		return
	}
	if !refused {
		return
	}
	opts := []housetest.Option{housetest.IfMatch(`"1"`)}
	if o.id == "import-register" {
		opts = append(opts, asForm)
	}
	a := ask.Do(o.method, r.path, r.body, opts...)
	want := []int{http.StatusForbidden, http.StatusNotFound}
	if who == "" {
		want = []int{http.StatusUnauthorized}
	}
	require.Contains(t, want, a.Status, "%s as %q: %s", o.id, who, a.Body)
	require.NotContains(t, string(a.Body), "Hillside", "%s as %q", o.id, who)
}

// seesNothing passes a refusal, or an answer in which nothing of f1 is.
func seesNothing(t *testing.T, a *housetest.Answer, what string) {
	t.Helper()
	require.Contains(t, []int{http.StatusOK, http.StatusForbidden, http.StatusNotFound}, a.Status, "%s: %s", what, a.Body)
	for _, mark := range []string{"Hillside", `"f1"`, "Ngoh", "Carine"} {
		if !strings.Contains(what, "sync-entries") { // a receipt names nothing but the sender's own entry
			require.NotContains(t, string(a.Body), mark, what)
		}
	}
	require.NotContains(t, string(a.Body), `"state":"kept"`, what)
}

// fingerprint is a hash of every row of the database, but for the counters
// that a refusal is meant to leave behind.
func fingerprint(t *testing.T, h *housetest.House) string {
	t.Helper()
	sum := sha256.New()
	for _, table := range tables(t, h) {
		rows, err := h.Store.SQL().QueryContext(context.Background(), "SELECT * FROM "+table+" ORDER BY 1, 2")
		require.NoError(t, err)
		hashRows(t, rows, func(format string, args ...any) { fmt.Fprintf(sum, table+format, args...) })
	}
	return hex.EncodeToString(sum.Sum(nil))
}

func hashRows(t *testing.T, rows *sql.Rows, put func(format string, args ...any)) {
	t.Helper()
	defer rows.Close() // read to its end
	columns, err := rows.Columns()
	require.NoError(t, err)
	values, into := make([]any, len(columns)), make([]any, len(columns))
	for i := range values {
		into[i] = &values[i]
	}
	for rows.Next() {
		require.NoError(t, rows.Scan(into...))
		put("%v\n", values)
	}
	require.NoError(t, rows.Err())
}

func tables(t *testing.T, h *housetest.House) []string {
	t.Helper()
	query := "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite%'"
	if h.Store.Dialect() == store.PostgreSQL {
		query = "SELECT table_name FROM information_schema.tables WHERE table_schema = 'public' AND table_type = 'BASE TABLE'"
	}
	rows, err := h.Store.SQL().QueryContext(context.Background(), query)
	require.NoError(t, err)
	defer rows.Close() // read to its end
	var out []string
	for rows.Next() {
		var name string
		require.NoError(t, rows.Scan(&name))
		if name != "attempts" && name != "goose_db_version" && !strings.HasPrefix(name, "river") {
			out = append(out, name)
		}
	}
	require.NoError(t, rows.Err())
	slices.Sort(out)
	return out
}
