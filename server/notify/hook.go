package notify

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"mime"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"tendfold/domain"
	"tendfold/server/app"
)

// HookConfig is what a gateway shares with us to hand texts in. Fields names
// what it calls id, from, text and state, as "from=msisdn".
type HookConfig struct {
	Secrets []string // any of them signs, so that one can be changed for another
	Fields  []string
}

// Hook reads what gateways hand in.
type Hook struct {
	secrets [][]byte
	names   map[string]string
}

// Window is how old or how new the timestamp of a request may be; within it the
// same request again changes nothing.
const Window = 5 * time.Minute

// shortestSecret is 128 bits in hexadecimal digits or more.
const shortestSecret = 32

// NewHook refuses secrets that can be guessed.
func NewHook(c HookConfig) (*Hook, error) {
	h := &Hook{names: map[string]string{"id": "id", "from": "from", "text": "text", "state": "state"}}
	for _, s := range c.Secrets {
		if len(s) < shortestSecret {
			return nil, domain.Invalid("text-secret", "The secret of the text gateway is too short: give at least 32 letters and figures.")
		}
		h.secrets = append(h.secrets, []byte(s))
	}
	for _, f := range c.Fields {
		ours, theirs, ok := strings.Cut(f, "=")
		if _, known := h.names[ours]; !ok || !known || theirs == "" {
			return nil, domain.Invalid("text-fields", "Fields of the text gateway are written id=, from=, text= or state= and the gateway's own name.")
		}
		h.names[ours] = theirs
	}
	return h, nil
}

// Signed is a request of a gateway.
type Signed struct {
	Timestamp string // seconds since 1970
	Signature string // "v1=" and the HMAC-SHA256 of timestamp, a dot and the body, in hexadecimal digits; several with commas
	Type      string // Content-Type
	Body      []byte
}

// Sign is the signature of a body at a time.
func Sign(secret []byte, timestamp string, body []byte) string {
	m := hmac.New(sha256.New, secret)
	m.Write([]byte(timestamp + "."))
	m.Write(body)
	return "v1=" + hex.EncodeToString(m.Sum(nil))
}

// check refuses what is not signed, or not now.
func (h *Hook) check(in Signed, now time.Time) error {
	if len(h.secrets) == 0 {
		return &domain.Error{Kind: domain.KindNotFound, Code: "texts-off", Text: "No gateway for text messages is set up here."}
	}
	refused := &domain.Error{Kind: domain.KindUnauthenticated, Code: "signature-refused", Text: "The signature does not fit, or its timestamp lies more than five minutes from our clock."}
	sec, err := strconv.ParseInt(in.Timestamp, 10, 64)
	if err != nil || sec < 0 || sec > 1<<40 {
		return refused
	}
	if d := now.Sub(time.Unix(sec, 0)); d > Window || d < -Window {
		return refused
	}
	given := strings.Split(in.Signature, ",")
	if len(given) > 8 {
		return refused
	}
	fits := false
	for _, secret := range h.secrets {
		want := []byte(Sign(secret, in.Timestamp, in.Body))
		for _, g := range given {
			if hmac.Equal([]byte(strings.TrimSpace(g)), want) { // in constant time
				fits = true
			}
		}
	}
	if !fits {
		return refused
	}
	return nil
}

// Text is a text message that was handed in.
func (h *Hook) Text(in Signed, now time.Time) (app.RawText, error) {
	if err := h.check(in, now); err != nil {
		return app.RawText{}, err
	}
	f, err := h.fields(in)
	return app.RawText{ID: f["id"], From: f["from"], Body: f["text"]}, err
}

// Delivery is what a gateway says of a message that it took: its id, and
// whether it arrived. known is false while it is still on its way.
func (h *Hook) Delivery(in Signed, now time.Time) (id string, arrived, known bool, err error) {
	if err := h.check(in, now); err != nil {
		return "", false, false, err
	}
	f, err := h.fields(in)
	switch strings.ToLower(f["state"]) {
	case "delivered", "delivrd", "received", "success":
		return f["id"], true, true, err
	case "failed", "undelivered", "undeliv", "rejected", "rejectd", "expired":
		return f["id"], false, true, err
	}
	return f["id"], false, false, err
}

// fields reads a body in JSON or as a form: texts and numbers by the gateway's
// own names.
func (h *Hook) fields(in Signed) (map[string]string, error) {
	malformed := &domain.Error{Kind: domain.KindMalformed, Code: "text-malformed", Text: "The body is neither a JSON object nor a form with id, from and text."}
	out := map[string]string{}
	kind, _, _ := mime.ParseMediaType(in.Type)
	if kind == formType {
		form, err := url.ParseQuery(string(in.Body))
		if err != nil {
			return nil, malformed
		}
		for ours, theirs := range h.names {
			out[ours] = form.Get(theirs)
		}
		return out, nil
	}
	var all map[string]json.RawMessage
	if json.Unmarshal(in.Body, &all) != nil {
		return nil, malformed
	}
	for ours, theirs := range h.names {
		raw := all[theirs]
		var s string
		if json.Unmarshal(raw, &s) != nil && len(raw) > 0 && slices.Contains([]byte("0123456789"), raw[0]) {
			s = string(raw) // a number, as some gateways write ids and phones
		}
		out[ours] = s
	}
	return out, nil
}
