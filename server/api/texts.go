package api

import (
	"context"
	"net/http"

	"tendfold/server/app"
	"tendfold/server/notify"

	"github.com/danielgtaylor/huma/v2"
)

// maxHook bounds what a gateway hands in, in bytes: a text of ten parts, and
// the names around it.
const maxHook = 16 << 10

type (
	signedBody struct {
		Timestamp string `header:"X-Tendfold-Timestamp" maxLength:"20" doc:"Seconds since 1970, at most five minutes from our clock."`
		Signature string `header:"X-Tendfold-Signature" maxLength:"800" doc:"v1= and the HMAC-SHA256 of timestamp, a dot and the body, in hexadecimal digits."`
		Type      string `header:"Content-Type" maxLength:"200"`
		RawBody   []byte `contentType:"application/json"`
	}
	textTaken struct {
		Body struct {
			ID    string        `json:"id"`
			State app.TextState `json:"state" enum:"placed,waiting,dealt"`
		}
	}
	textList struct {
		Body struct {
			Items []app.TextIn `json:"items"`
		}
	}
	textDealt struct {
		Versioned
		ID   string `path:"id" maxLength:"64"`
		Body struct {
			FarmID   string `json:"farm_id,omitempty" maxLength:"64" doc:"About which farm it was, if any."`
			TicketID string `json:"ticket_id,omitempty" maxLength:"64" doc:"The ticket that it led to, if any."`
		}
	}
	textAnswer struct {
		ETag string `header:"ETag"`
		Body app.TextIn
	}
)

func (f Face) texts(api huma.API) {
	const tag = "texts"
	in := op("receive-text", http.MethodPost, "/api/texts/in", tag, "A gateway hands in a text message, signed; the same one again changes nothing")
	in.Security, in.MaxBodyBytes, in.SkipValidateBody = nil, maxHook, true // the signature says who
	register(api, in, f.receiveText)
	delivery := op("note-delivery", http.MethodPost, "/api/texts/delivery", tag, "A gateway says whether a message arrived, signed")
	delivery.Security, delivery.MaxBodyBytes, delivery.SkipValidateBody = nil, maxHook, true
	register(api, delivery, f.noteDelivery)
	register(api, op("list-texts", http.MethodGet, "/api/texts", tag, "Texts that somebody must call back about: from unknown numbers, or about no certain farm"), f.listTexts)
	register(api, op("deal-with-text", http.MethodPost, "/api/texts/{id}/dealt", tag, "Say that somebody called back"), f.dealWithText)
}

func (in *signedBody) signed() notify.Signed {
	return notify.Signed{Timestamp: in.Timestamp, Signature: in.Signature, Type: in.Type, Body: in.RawBody}
}

func (f Face) receiveText(ctx context.Context, in *signedBody) (*textTaken, error) {
	raw, err := f.Hook.Text(in.signed(), f.Texts.Now())
	if err != nil {
		return nil, err
	}
	t, err := f.Texts.Receive(ctx, raw)
	out := &textTaken{}
	out.Body.ID, out.Body.State = t.ID, t.State
	return out, err
}

func (f Face) noteDelivery(ctx context.Context, in *signedBody) (*struct{}, error) {
	id, arrived, known, err := f.Hook.Delivery(in.signed(), f.Texts.Now())
	if err != nil || !known {
		return nil, err
	}
	return nil, f.Reach.Delivered(ctx, id, arrived)
}

func (f Face) listTexts(ctx context.Context, _ *struct{}) (*textList, error) {
	items, err := f.Texts.Waiting(ctx, actor(ctx))
	out := &textList{}
	out.Body.Items = items
	return out, err
}

func (f Face) dealWithText(ctx context.Context, in *textDealt) (*textAnswer, error) {
	v, err := in.version()
	if err != nil {
		return nil, err
	}
	t, err := f.Texts.Dealt(ctx, actor(ctx), in.ID, v, in.Body.FarmID, in.Body.TicketID)
	return &textAnswer{etag(t.Version), t}, err
}
