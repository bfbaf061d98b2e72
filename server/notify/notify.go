// Package notify carries messages out of the house: texts through an HTTP
// gateway, e-mail by SMTP, notices to browsers by web push; and reads what a
// gateway hands in. Nothing is sent that is not set up, and no secret, number
// or address ever stands in an error or in the log.
package notify

import (
	"context"
	"fmt"
	"net/http"
	"time"

	"tendfold/domain"
	"tendfold/server/app"
)

// Config says what is set up. The zero value sends nothing.
type Config struct {
	Text TextConfig
	Mail MailConfig
	Push PushConfig
	Hook HookConfig
}

// Courier carries messages. It implements app.Courier.
type Courier struct {
	text *gateway
	mail *mailer
	push *pusher
}

// timeout bounds one try to hand a message over.
const timeout = 20 * time.Second

// New reads the settings and refuses those that cannot work.
func New(c Config) (*Courier, error) {
	var out Courier
	var err error
	if c.Text.URL != "" {
		if out.text, err = newGateway(c.Text); err != nil {
			return nil, err
		}
	}
	if c.Mail.Host != "" {
		if out.mail, err = newMailer(c.Mail); err != nil {
			return nil, err
		}
	}
	if c.Push.PrivateKey != "" {
		if out.push, err = newPusher(c.Push); err != nil {
			return nil, err
		}
	}
	return &out, nil
}

// Has says whether messages of a channel can leave.
func (c *Courier) Has(ch app.Channel) bool {
	switch ch {
	case app.ByText:
		return c.text != nil
	case app.ByEmail:
		return c.mail != nil
	case app.ByPush:
		return c.push != nil
	}
	return false
}

// PushKey is the public key that browsers subscribe with, "" = none.
func (c *Courier) PushKey() string {
	if c.push == nil {
		return ""
	}
	return c.push.cfg.PublicKey
}

// Send hands a message over; see app.Courier.
func (c *Courier) Send(ctx context.Context, m app.Message, to []app.Subscription) (string, []string, error) {
	if !c.Has(m.Channel) {
		return "", nil, never("carrier-missing", "Nothing is set up to send this.")
	}
	ctx, cancel := context.WithTimeout(ctx, timeout)
	defer cancel()
	switch m.Channel {
	case app.ByText:
		id, err := c.text.send(ctx, m)
		return id, nil, err
	case app.ByEmail:
		return m.ID, nil, c.mail.send(ctx, m)
	case app.ByPush:
		gone, err := c.push.send(ctx, m, to)
		return m.ID, gone, err
	}
	return "", nil, never("carrier-missing", "Nothing is set up to send this.")
}

// never says that no other try will help.
func never(code, text string) error { return domain.Invalid(code, text) }

// later says that another try may help.
func later(code, text string) error {
	return &domain.Error{Kind: domain.KindBusy, Code: code, Text: text}
}

// client follows no redirects: a header with a key goes to the address that
// was set up, and nowhere else.
func client(transport http.RoundTripper) *http.Client {
	return &http.Client{Timeout: timeout, Transport: transport, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
}

// judge says what a carrier's status means: accepted, never, or later.
func judge(status int) error {
	switch {
	case status >= 200 && status < 300:
		return nil
	case status == http.StatusRequestTimeout || status == http.StatusTooManyRequests || status == http.StatusUnauthorized || status == http.StatusForbidden || status >= 500:
		return later("carrier-busy", fmt.Sprintf("The carrier answered %d; it is tried again.", status)) // a wrong key can be mended meanwhile
	}
	return never("carrier-refused", fmt.Sprintf("The carrier refused it (%d).", status))
}
