package api

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"net/http"
	"strings"
	"time"

	"tendfold/domain"
	"tendfold/server/app"

	"github.com/danielgtaylor/huma/v2"
)

type (
	// SameAsBefore is part of every answer that a phone asks for again and
	// again.
	SameAsBefore struct {
		IfNoneMatch string `header:"If-None-Match" maxLength:"100" doc:"The ETag of the answer that you have; 304 when it is still so."`
		Language    string `query:"lang" enum:"en,fr" doc:"Of the texts; without it the person's own."`
	}
	todayAnswer struct {
		Status int
		ETag   string `header:"ETag"`
		Body   *app.TodayPage
	}
	firstStepsAnswer struct {
		Status int
		ETag   string `header:"ETag"`
		Body   *firstStepsBody
	}
	firstStepsBody struct {
		Language string           `json:"language"`
		Items    []app.FirstSteps `json:"items"`
	}
	bookAnswer struct {
		Status int
		ETag   string `header:"ETag"`
		Body   *bookBody
	}
	bookBody struct {
		Language string         `json:"language"`
		Packs    []app.BookPack `json:"packs"`
	}
	// PhoneEntry is an entry as a phone sends it, read one by one: what is
	// wrong with one is told in its receipt and stops no other.
	PhoneEntry struct{ json.RawMessage }
	syncPage   struct {
		Body struct {
			SentAt  time.Time    `json:"sent_at" doc:"The phone's own clock at sending: off by more than five minutes, the entries are flagged."`
			Entries []PhoneEntry `json:"entries" minItems:"1" maxItems:"200"`
		}
	}
	// SyncReceipt is what became of one entry.
	SyncReceipt struct {
		ID      string           `json:"id"`
		State   app.ReceiptState `json:"state" enum:"kept,kept-before,refused,later" doc:"later: a fault of ours, nothing was changed; send the entry again."`
		Problem *Problem         `json:"problem,omitempty"`
	}
	syncAnswer struct {
		Body struct {
			ReceivedAt time.Time     `json:"received_at"`
			Receipts   []SyncReceipt `json:"receipts" doc:"One for each entry, in the order sent."`
		}
	}
)

// maxSync bounds a page of entries: 200 of the longest, with room to spare.
const maxSync = 4 << 20

func (f Face) phone(api huma.API) {
	const tag = "phone"
	register(api, op("get-today", http.MethodGet, "/api/today", tag, "What is open today on the farms on which I work"), f.getToday)
	register(api, op("list-first-steps", http.MethodGet, "/api/first-steps", tag, "What to do first when a sign is seen: the cards that a phone keeps"), f.listFirstSteps)
	register(api, op("get-book", http.MethodGet, "/api/book", tag, "What the packs say of the caretaker's day: the words that a phone keeps"), f.getBook)
	sync := op("sync-entries", http.MethodPost, "/api/sync", tag, "Bring the entries that a phone kept; the same entry again is the same entry")
	sync.MaxBodyBytes = maxSync
	register(api, sync, f.syncEntries)
	f.sealed(api)
}

// Schema describes an entry in words: a schema that bound it would refuse
// the page for the fault of one.
func (PhoneEntry) Schema(huma.Registry) *huma.Schema {
	return &huma.Schema{
		Description: "An entry as in POST /api/farms/{id}/entries, with the farm's id as farm_id.",
		Examples: []any{map[string]any{
			"id": "019cdf44-9c6a-7b0e-8f0a-3a5d5c1f2b10", "farm_id": "019c", "kind": "day", "on": "2026-03-12",
			"device_at": "2026-03-12T17:40:00Z", "data": map[string]any{"all_well": true},
		}},
	}
}

func (f Face) getToday(ctx context.Context, in *SameAsBefore) (*todayAnswer, error) {
	page, err := f.Today.Read(ctx, actor(ctx), in.Language)
	if err != nil {
		return nil, err
	}
	content := page
	content.MadeAt = time.Time{} // its age is no news
	tag, same := in.compare(content)
	if same {
		return &todayAnswer{Status: http.StatusNotModified, ETag: tag}, nil
	}
	return &todayAnswer{Status: http.StatusOK, ETag: tag, Body: &page}, nil
}

func (f Face) listFirstSteps(ctx context.Context, in *SameAsBefore) (*firstStepsAnswer, error) {
	who := actor(ctx)
	items, err := f.Today.FirstSteps(ctx, who, in.Language)
	if err != nil {
		return nil, err
	}
	body := &firstStepsBody{Language: in.Language, Items: items}
	if body.Language == "" {
		body.Language = who.Language
	}
	tag, same := in.compare(body)
	if same {
		return &firstStepsAnswer{Status: http.StatusNotModified, ETag: tag}, nil
	}
	return &firstStepsAnswer{Status: http.StatusOK, ETag: tag, Body: body}, nil
}

func (f Face) getBook(ctx context.Context, in *SameAsBefore) (*bookAnswer, error) {
	who := actor(ctx)
	packs, err := f.Today.Book(ctx, who, in.Language)
	if err != nil {
		return nil, err
	}
	body := &bookBody{Language: in.Language, Packs: packs}
	if body.Language == "" {
		body.Language = who.Language
	}
	tag, same := in.compare(body)
	if same {
		return &bookAnswer{Status: http.StatusNotModified, ETag: tag}, nil
	}
	return &bookAnswer{Status: http.StatusOK, ETag: tag, Body: body}, nil
}

// compare names a content by its hash and says whether the caller has it. A
// proxy that compressed the answer may have marked the tag as weak.
func (s SameAsBefore) compare(content any) (tag string, same bool) {
	text, err := json.Marshal(content)
	if err != nil {
		return "", false // the answer itself will fail and say so
	}
	sum := sha256.Sum256(text)
	tag = `"` + hex.EncodeToString(sum[:12]) + `"`
	return tag, strings.TrimPrefix(s.IfNoneMatch, "W/") == tag
}

func (f Face) syncEntries(ctx context.Context, in *syncPage) (*syncAnswer, error) {
	sent := make([]app.Sent, len(in.Body.Entries))
	for i, raw := range in.Body.Entries {
		sent[i] = raw.read()
	}
	receipts, err := f.Entries.Sync(ctx, actor(ctx), in.Body.SentAt, sent)
	if err != nil {
		return nil, err
	}
	out := &syncAnswer{}
	out.Body.ReceivedAt = f.Entries.Now()
	out.Body.Receipts = make([]SyncReceipt, len(receipts))
	for i, r := range receipts {
		out.Body.Receipts[i] = receipt(ctx, r)
	}
	return out, nil
}

func receipt(ctx context.Context, r app.Receipt) SyncReceipt {
	out := SyncReceipt{ID: r.ID, State: r.State}
	if r.Err != nil {
		out.Problem = problem(ctx, r.Err)
	}
	return out
}

// longestID bounds every id in an entry, as the schemas of other operations
// do.
const longestID = 64

// read is the entry, or why it cannot be read, with its id where it has one.
func (e PhoneEntry) read() app.Sent {
	var named struct {
		ID     string `json:"id"`
		Schema int    `json:"schema"`
	}
	_ = json.Unmarshal(e.RawMessage, &named) // what is wrong with it is said below
	named.ID = named.ID[:min(len(named.ID), longestID+1)]
	if named.Schema > entrySchema {
		return app.Sent{Event: app.Event{ID: named.ID}, Err: fromTheFuture}
	}
	var body struct {
		FarmID string `json:"farm_id"`
		entryBody
	}
	d := json.NewDecoder(bytes.NewReader(e.RawMessage))
	d.DisallowUnknownFields()
	if err := d.Decode(&body); err != nil {
		return app.Sent{Event: app.Event{ID: named.ID}, Err: unreadable}
	}
	for _, id := range []string{body.ID, body.FarmID, body.UnitID, body.CycleID, body.Replaces} {
		if len(id) > longestID {
			return app.Sent{Event: app.Event{ID: named.ID}, Err: unreadable}
		}
	}
	return app.Sent{Event: body.event(body.FarmID)}
}

// entrySchema is the newest way of writing an entry that this server reads.
const entrySchema = 2

// fromTheFuture keeps an entry on its phone: the firm went back to an older
// release, and will come forward again.
var fromTheFuture = &domain.Error{
	Kind: domain.KindInternal, Code: "entry-schema",
	Text: "This entry was written by a newer release than the server's. It stays on the phone until the server is as new.",
}

// unreadable names no value: an entry is private, and a log is not.
var unreadable = &domain.Error{
	Kind: domain.KindMalformed, Code: "entry-unreadable",
	Text: "This entry cannot be read: a field is unknown, of the wrong kind, or an id is longer than 64 characters.",
}
