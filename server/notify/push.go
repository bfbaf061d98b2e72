package notify

import (
	"context"
	"encoding/json"
	"net"
	"net/http"
	"net/netip"
	"strings"
	"syscall"
	"time"

	"tendfold/domain"
	"tendfold/domain/text"
	"tendfold/server/app"

	webpush "github.com/SherClockHolmes/webpush-go"
)

// PushConfig is the key pair by which browsers' services know us (VAPID, RFC
// 8292), and whom they may write to when something is wrong.
type PushConfig struct {
	PrivateKey string
	PublicKey  string
	Contact    string // an e-mail address or https address
	Loopback   bool   // for tests: a service on this host may be sent to
}

// pushLife is how long a service keeps a notice for a browser that is off.
const pushLife = 24 * time.Hour

type pusher struct {
	cfg    PushConfig
	client *http.Client
}

func newPusher(c PushConfig) (*pusher, error) {
	if c.PublicKey == "" || c.Contact == "" {
		return nil, domain.Invalid("push-keys", "Web push needs both keys and a contact. Make keys with `tendfold push-keys`.")
	}
	c.Contact = strings.TrimPrefix(c.Contact, "mailto:") // the library puts it there
	dial := &net.Dialer{Timeout: timeout}
	if !c.Loopback {
		dial.Control = publicOnly
	}
	return &pusher{c, client(&http.Transport{DialContext: dial.DialContext, TLSHandshakeTimeout: timeout, MaxIdleConns: 20})}, nil
}

// publicOnly keeps the addresses that browsers give us from reaching into the
// network that we stand in.
func publicOnly(_, address string, _ syscall.RawConn) error {
	at, err := netip.ParseAddrPort(address)
	if err != nil {
		return err
	}
	if a := at.Addr().Unmap(); !a.IsGlobalUnicast() || a.IsPrivate() {
		return net.UnknownNetworkError("not a public address")
	}
	return nil
}

// notice is what our service worker shows.
type notice struct {
	Title  string `json:"title"`
	Body   string `json:"body"`
	Ticket string `json:"ticket,omitempty"`
	Tag    string `json:"tag"`
}

// longestNotice keeps a notice within one record (RFC 8188: 4,096 octets with
// its frame).
const longestNotice = 20 // parts

func (p *pusher) send(ctx context.Context, m app.Message, to []app.Subscription) (gone []string, err error) {
	body, err := json.Marshal(notice{Title: m.Subject, Body: text.Cut(text.Plain(m.Body), longestNotice), Ticket: m.TicketID, Tag: m.ID})
	if err != nil {
		return nil, err
	}
	if len(to) == 0 {
		return nil, never("push-nobody", "No browser of this person asks to be told any more.")
	}
	reached := false
	for _, v := range to {
		failed := p.one(ctx, body, v, m.Urgent)
		switch {
		case failed == nil:
			reached = true
		case domain.KindOf(failed) == domain.KindNotFound:
			gone = append(gone, v.Endpoint)
		default:
			err = failed
		}
	}
	switch {
	case reached:
		return gone, nil
	case err == nil:
		err = never("push-nobody", "No browser of this person asks to be told any more.")
	}
	return gone, err
}

func (p *pusher) one(ctx context.Context, body []byte, v app.Subscription, urgent bool) error {
	level := webpush.UrgencyNormal
	if urgent {
		level = webpush.UrgencyHigh
	}
	res, err := webpush.SendNotificationWithContext(ctx, body, &webpush.Subscription{
		Endpoint: v.Endpoint, Keys: webpush.Keys{Auth: v.Auth, P256dh: v.P256dh},
	}, &webpush.Options{
		HTTPClient: p.client, Subscriber: p.cfg.Contact, TTL: int(pushLife.Seconds()), Urgency: level,
		VAPIDPublicKey: p.cfg.PublicKey, VAPIDPrivateKey: p.cfg.PrivateKey,
	})
	if err != nil {
		return later("push-unreachable", "The browser's service does not answer; it is tried again.")
	}
	defer res.Body.Close() // nothing in it is needed
	if res.StatusCode == http.StatusNotFound || res.StatusCode == http.StatusGone {
		return domain.NotFound("subscription")
	}
	return judge(res.StatusCode)
}

// PushKeys makes a key pair.
func PushKeys() (private, public string, err error) { return webpush.GenerateVAPIDKeys() }
