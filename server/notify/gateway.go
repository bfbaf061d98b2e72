package notify

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"net/url"
	"strings"

	"tendfold/domain"
	"tendfold/server/app"
)

// TextConfig is an HTTP gateway for text messages. In Body, {to}, {text} and
// {id} stand for the number, the message and its id, written as Type asks:
// application/json or application/x-www-form-urlencoded.
type TextConfig struct {
	URL     string
	Headers []string // "Name: value", such as an Authorization
	Body    string
	Type    string
	IDField string // of the answer in JSON: the gateway's own id
}

// What a gateway gets that was given an address alone.
const (
	jsonType    = "application/json"
	formType    = "application/x-www-form-urlencoded"
	defaultBody = `{"to": "{to}", "text": "{text}", "id": "{id}"}`
)

type gateway struct {
	cfg     TextConfig
	headers http.Header
	client  *http.Client
}

func newGateway(c TextConfig) (*gateway, error) {
	u, err := url.Parse(c.URL)
	if err != nil || u.Host == "" || u.Scheme != "https" && u.Scheme != "http" {
		return nil, domain.Invalid("text-gateway", "The address of the text gateway is none: give one like https://gateway.example/send.")
	}
	g := &gateway{cfg: c, headers: http.Header{}, client: client(nil)}
	for _, h := range c.Headers {
		name, value, ok := strings.Cut(h, ":")
		if !ok || strings.TrimSpace(name) == "" || strings.ContainsAny(h, "\r\n") {
			return nil, domain.Invalid("text-gateway", "A header of the text gateway is written Name: value.")
		}
		g.headers.Add(strings.TrimSpace(name), strings.TrimSpace(value))
	}
	if g.cfg.Type == "" {
		g.cfg.Type = jsonType
	}
	if g.cfg.Body == "" {
		g.cfg.Body = defaultBody
	}
	if g.cfg.IDField == "" {
		g.cfg.IDField = "id"
	}
	if g.cfg.Type != jsonType && g.cfg.Type != formType {
		return nil, domain.Invalid("text-gateway", "The text gateway takes application/json or application/x-www-form-urlencoded.")
	}
	if g.cfg.Type == jsonType && !json.Valid([]byte(g.body(app.Message{Address: "+1", Body: "x", ID: "y"}))) {
		return nil, domain.Invalid("text-gateway", "The body for the text gateway is no JSON.")
	}
	return g, nil
}

// body fills the form in; what is filled in cannot break out of it.
func (g *gateway) body(m app.Message) string {
	escape := url.QueryEscape
	if g.cfg.Type == jsonType {
		escape = func(s string) string {
			b, _ := json.Marshal(s) // a text can be written
			return string(b[1 : len(b)-1])
		}
	}
	return strings.NewReplacer("{to}", escape(m.Address), "{text}", escape(m.Body), "{id}", escape(m.ID)).Replace(g.cfg.Body)
}

// longestAnswer bounds what is read of a gateway's answer.
const longestAnswer = 64 << 10

func (g *gateway) send(ctx context.Context, m app.Message) (string, error) {
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, g.cfg.URL, strings.NewReader(g.body(m)))
	if err != nil {
		return "", never("text-gateway", "The gateway's address is none.")
	}
	req.Header = g.headers.Clone()
	req.Header.Set("Content-Type", g.cfg.Type)
	req.Header.Set("Idempotency-Key", m.ID) // a gateway that knows it sends a repeated one once
	res, err := g.client.Do(req)
	if err != nil { // its text would name the address, which may hold a key
		return "", later("carrier-unreachable", "The gateway does not answer; it is tried again.")
	}
	defer res.Body.Close() // read as far as needed
	raw, _ := io.ReadAll(io.LimitReader(res.Body, longestAnswer))
	if err := judge(res.StatusCode); err != nil {
		return "", err
	}
	return idIn(raw, g.cfg.IDField), nil
}

// idIn is the gateway's own id in its answer, "" when it gives none.
func idIn(raw []byte, field string) string {
	d := json.NewDecoder(bytes.NewReader(raw))
	d.UseNumber()
	var answer map[string]any
	if d.Decode(&answer) != nil {
		return ""
	}
	var at any = answer
	for name := range strings.SplitSeq(field, ".") {
		m, ok := at.(map[string]any)
		if !ok {
			return ""
		}
		at = m[name]
	}
	id := ""
	switch v := at.(type) {
	case string:
		id = v
	case json.Number:
		id = v.String()
	}
	if len(id) > longestID {
		return ""
	}
	return id
}

// longestID bounds what a gateway may call a message.
const longestID = 200
