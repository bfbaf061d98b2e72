package api

import (
	"bytes"
	"context"
	"encoding/json"
	"net/http"
	"strings"
	"time"

	"tendfold/domain"
	"tendfold/server/app"
	"tendfold/server/app/signin/keys"

	"github.com/danielgtaylor/huma/v2"
)

type (
	// SealedEntry is an entry that a phone sealed when it was made. Any phone
	// of its person may bring it; what is in it, that phone cannot read.
	SealedEntry struct {
		ID string `json:"id" minLength:"1" maxLength:"64" doc:"The id of the entry inside."`
		keys.Sealed
	}
	sealedPage struct {
		Body struct {
			Entries []SealedEntry `json:"entries" minItems:"1" maxItems:"200"`
		}
	}
	// envelope is what stands inside: the request that the entry waited to be.
	envelope struct {
		Path string          `json:"path"`
		Body json.RawMessage `json:"body"`
	}
)

func (f Face) sealed(api huma.API) {
	o := op("sync-sealed", http.MethodPost, "/api/sync/sealed", "phone", "Bring entries that a phone of mine sealed to the server's key; the same entry again is the same entry")
	o.MaxBodyBytes = maxSync
	register(api, o, f.syncSealed)
}

// syncSealed opens entries and does with each what it would have come to in
// the open. One that does not open is refused and holds up no other.
func (f Face) syncSealed(ctx context.Context, in *sealedPage) (*syncAnswer, error) {
	out := &syncAnswer{}
	out.Body.ReceivedAt = f.Entries.Now()
	out.Body.Receipts = make([]SyncReceipt, len(in.Body.Entries))
	for i, e := range in.Body.Entries {
		r, err := f.unseal(ctx, e)
		if err != nil {
			return nil, err
		}
		out.Body.Receipts[i] = receipt(ctx, r)
	}
	return out, nil
}

// unseal is one entry's receipt; its error is one that ends the page.
func (f Face) unseal(ctx context.Context, e SealedEntry) (app.Receipt, error) {
	who := actor(ctx)
	plain, err := f.SignIn.OpenOutbox(e.Sealed, who.PersonID, e.ID)
	if err != nil {
		return app.Receipt{ID: e.ID, State: app.Refused, Err: err}, nil
	}
	var inside envelope
	if json.Unmarshal(plain, &inside) != nil {
		return app.Receipt{ID: e.ID, State: app.Refused, Err: unreadable}, nil
	}
	if inside.Path == "/api/sync" {
		return f.syncOne(ctx, who, e.ID, inside.Body)
	}
	if ticketID, ok := ticketSpokenOf(inside.Path); ok {
		return f.sayOne(ctx, e.ID, ticketID, inside.Body)
	}
	return app.Receipt{ID: e.ID, State: app.Refused, Err: unreadable}, nil
}

// syncOne applies an entry of a farm. The clock of the phone that brings it
// says nothing about that of the phone that made it, so nobody is accused.
func (f Face) syncOne(ctx context.Context, who app.Actor, id string, body json.RawMessage) (app.Receipt, error) {
	sent := PhoneEntry{body}.read()
	if sent.ID != id {
		sent = app.Sent{Event: app.Event{ID: id}, Err: unreadable}
	}
	receipts, err := f.Entries.Sync(ctx, who, time.Time{}, []app.Sent{sent})
	if err != nil {
		return app.Receipt{}, err
	}
	return receipts[0], nil
}

func ticketSpokenOf(path string) (id string, ok bool) {
	rest, ok := strings.CutPrefix(path, "/api/tickets/")
	if !ok {
		return "", false
	}
	id, ok = strings.CutSuffix(rest, "/say")
	return id, ok && id != "" && len(id) <= longestID && !strings.Contains(id, "/")
}

// sayOne says a word on a ticket under the key that the phone would have
// sent it with: whether it came in the open before, sealed, or both, it is
// said once.
func (f Face) sayOne(ctx context.Context, id, ticketID string, body json.RawMessage) (app.Receipt, error) {
	in := &ticketSay{TicketPath: TicketPath{ID: ticketID}, Once: Once{Key: id}}
	d := json.NewDecoder(bytes.NewReader(body))
	d.DisallowUnknownFields()
	if d.Decode(&in.Body) != nil || in.Body.Text == "" || len(in.Body.Text) > longestSaid {
		return app.Receipt{ID: id, State: app.Refused, Err: unreadable}, nil
	}
	_, err := f.sayOnTicket(ctx, in)
	switch {
	case err == nil:
		return app.Receipt{ID: id, State: app.Kept}, nil
	case ctx.Err() != nil, domain.KindOf(err) == domain.KindBusy:
		return app.Receipt{}, err
	case domain.KindOf(err) == domain.KindInternal:
		return app.Receipt{ID: id, State: app.Later, Err: err}, nil
	}
	return app.Receipt{ID: id, State: app.Refused, Err: err}, nil
}

// longestSaid bounds a word on a ticket in bytes: 2000 characters, as
// say-on-ticket has it, of at most four bytes.
const longestSaid = 8000
