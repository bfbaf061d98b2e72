package notify

import (
	"bytes"
	"context"
	"crypto/ecdh"
	"crypto/rand"
	"encoding/base64"
	"encoding/json"
	"errors"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/server/app"

	"github.com/emersion/go-smtp"
	"github.com/stretchr/testify/require"
)

var msg = app.Message{ID: "m1", Channel: app.ByText, Address: "+999670000008", Subject: "1/26 Hillside", Body: `Keep "the" pump off & wait`, Language: "en"}

func TestATextGoesThroughTheGateway(t *testing.T) {
	var got *http.Request
	var body []byte
	status := http.StatusOK
	srv := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		got, body = r, nil
		body, _ = io.ReadAll(r.Body)
		w.WriteHeader(status)
		_, _ = w.Write([]byte(`{"data": {"ref": 90071992547409931}}`))
	}))
	defer srv.Close()
	for _, c := range []struct{ body, kind, want string }{
		{"", "", `{"to": "+999670000008", "text": "Keep \"the\" pump off & wait", "id": "m1"}`},
		{"dest={to}&msg={text}", formType, `dest=%2B999670000008&msg=Keep+%22the%22+pump+off+%26+wait`},
	} {
		courier, err := New(Config{Text: TextConfig{URL: srv.URL, Headers: []string{"Authorization: Bearer s3cret"}, Body: c.body, Type: c.kind, IDField: "data.ref"}})
		require.NoError(t, err)
		id, _, err := courier.Send(t.Context(), msg, nil)
		require.NoError(t, err)
		require.Equal(t, "90071992547409931", id, "no figure is lost")
		if c.kind == "" {
			require.JSONEq(t, c.want, strings.ReplaceAll(string(body), `\u0026`, "&"))
		} else {
			require.Equal(t, c.want, string(body))
		}
		require.Equal(t, "Bearer s3cret", got.Header.Get("Authorization"))
		require.Equal(t, "m1", got.Header.Get("Idempotency-Key"))
		for status, kind := range map[int]domain.Kind{500: domain.KindBusy, 429: domain.KindBusy, 401: domain.KindBusy, 400: domain.KindInvalid, 302: domain.KindInvalid} {
			_, err = courier.text.send(t.Context(), msg)
			require.NoError(t, err)
			require.Equal(t, kind, domain.KindOf(judge(status)), status)
		}
	}
}

// Whatever goes wrong, no error names the address, the number, the words or
// the key.
func TestErrorsTellNoSecrets(t *testing.T) {
	courier, err := New(Config{
		Text: TextConfig{URL: "http://127.0.0.1:1/send?key=s3cret", Headers: []string{"X-Key: s3cret"}},
		Mail: MailConfig{Host: "127.0.0.1", Port: 1, User: "s3cret", Password: "s3cret", From: "desk@example.org"},
	})
	require.NoError(t, err)
	for _, ch := range []app.Channel{app.ByText, app.ByEmail} {
		m := msg
		if m.Channel = ch; ch == app.ByEmail {
			m.Address = "ana@example.org"
		}
		_, _, err := courier.Send(t.Context(), m, nil)
		require.Equal(t, domain.KindBusy, domain.KindOf(err))
		for _, secret := range []string{"s3cret", "127.0.0.1", "99967", "ana@", "pump"} {
			require.NotContains(t, err.Error(), secret)
		}
	}
}

func TestNothingIsSentThatIsNotSetUp(t *testing.T) {
	courier, err := New(Config{})
	require.NoError(t, err)
	for _, ch := range []app.Channel{app.ByText, app.ByEmail, app.ByPush} {
		require.False(t, courier.Has(ch))
		_, _, err := courier.Send(t.Context(), app.Message{Channel: ch}, nil)
		require.Equal(t, domain.KindInvalid, domain.KindOf(err))
	}
}

func TestSettingsThatCannotWork(t *testing.T) {
	for name, c := range map[string]Config{
		"no address":       {Text: TextConfig{URL: "gateway"}},
		"no header":        {Text: TextConfig{URL: "https://g.example", Headers: []string{"key"}}},
		"two lines":        {Text: TextConfig{URL: "https://g.example", Headers: []string{"A: b\r\nC: d"}}},
		"no JSON":          {Text: TextConfig{URL: "https://g.example", Body: "{to}"}},
		"odd type":         {Text: TextConfig{URL: "https://g.example", Type: "text/xml"}},
		"nobody's e-mail":  {Mail: MailConfig{Host: "mail.example"}},
		"password in open": {Mail: MailConfig{Host: "mail.example", From: "a@example.org", User: "u", Password: "p", Plain: true}},
		"half a key":       {Push: PushConfig{PrivateKey: "x"}},
	} {
		_, err := New(c)
		require.Equal(t, domain.KindInvalid, domain.KindOf(err), name)
	}
}

// inbox is a real SMTP server in this process.
type inbox struct {
	mu     sync.Mutex
	got    []string
	refuse error
}

func (b *inbox) NewSession(*smtp.Conn) (smtp.Session, error) { return &session{b: b}, nil }

type session struct {
	b    *inbox
	head string
}

func (s *session) Mail(from string, _ *smtp.MailOptions) error { s.head = from; return s.b.refuse }
func (s *session) Rcpt(to string, _ *smtp.RcptOptions) error   { s.head += " " + to; return nil }
func (s *session) Data(r io.Reader) error {
	raw, err := io.ReadAll(r)
	s.b.mu.Lock()
	defer s.b.mu.Unlock()
	s.b.got = append(s.b.got, s.head+"\n"+string(raw))
	return err
}
func (s *session) Reset()        {}
func (s *session) Logout() error { return nil }

func TestAnEmailArrives(t *testing.T) {
	box := &inbox{}
	srv := smtp.NewServer(box)
	srv.Domain = "test"
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	done := make(chan error, 1)
	go func() { done <- srv.Serve(l) }()
	defer func() { require.NoError(t, srv.Close()); require.NoError(t, <-done) }()
	courier, err := New(Config{Mail: MailConfig{Host: "127.0.0.1", Port: l.Addr().(*net.TCPAddr).Port, From: "desk@example.org", Plain: true}})
	require.NoError(t, err)
	m := app.Message{ID: "m1", Channel: app.ByEmail, Address: "ana@example.org", Subject: "Dossier 1/26 : pompe arrêtée", Body: "La pompe est arrêtée."}
	_, _, err = courier.Send(t.Context(), m, nil)
	require.NoError(t, err)
	require.Len(t, box.got, 1)
	require.True(t, strings.HasPrefix(box.got[0], "desk@example.org ana@example.org\n"))
	require.Contains(t, box.got[0], "Message-ID: <m1@tendfold>")
	require.Contains(t, box.got[0], "arr=C3=AAt=C3=A9e")

	box.refuse = &smtp.SMTPError{Code: 550, Message: "no such person"}
	_, _, err = courier.Send(t.Context(), m, nil)
	require.Equal(t, domain.KindInvalid, domain.KindOf(err), "no use in another try")
	box.refuse = &smtp.SMTPError{Code: 451, Message: "later"}
	_, _, err = courier.Send(t.Context(), m, nil)
	require.Equal(t, domain.KindBusy, domain.KindOf(err))
	m.Address = "ana@example.org\r\nBcc: all@example.org"
	_, _, err = courier.Send(t.Context(), m, nil)
	require.Equal(t, domain.KindInvalid, domain.KindOf(err), "an address brings no header in")

	strict, err := New(Config{Mail: MailConfig{Host: "127.0.0.1", Port: l.Addr().(*net.TCPAddr).Port, From: "desk@example.org"}})
	require.NoError(t, err)
	m.Address, box.refuse = "ana@example.org", nil
	_, _, err = strict.Send(t.Context(), m, nil)
	require.Error(t, err, "never without TLS unless that was asked for")
	require.Len(t, box.got, 1)
}

func TestANoticeReachesTheBrowsersThatAreStillThere(t *testing.T) {
	private, public, err := PushKeys()
	require.NoError(t, err)
	paths := map[string]int{"/here": http.StatusCreated, "/gone": http.StatusGone, "/busy": http.StatusServiceUnavailable}
	var sent []*http.Request
	var body []byte
	srv := httptest.NewTLSServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		sent = append(sent, r)
		body, _ = io.ReadAll(r.Body)
		w.WriteHeader(paths[r.URL.Path])
	}))
	defer srv.Close()
	courier, err := New(Config{Push: PushConfig{PrivateKey: private, PublicKey: public, Contact: "mailto:desk@example.org", Loopback: true}})
	require.NoError(t, err)
	courier.push.client.Transport = srv.Client().Transport
	key, err := ecdh.P256().GenerateKey(rand.Reader)
	require.NoError(t, err)
	sub := func(path string) app.Subscription {
		return app.Subscription{
			Endpoint: srv.URL + path, P256dh: base64.RawURLEncoding.EncodeToString(key.PublicKey().Bytes()), Auth: base64.RawURLEncoding.EncodeToString(bytes.Repeat([]byte{7}, 16)),
		}
	}
	m := app.Message{ID: "m1", Channel: app.ByPush, Address: "ana", Subject: "1/26 Hillside", Body: strings.Repeat("ê", 9000), Urgent: true}
	_, gone, err := courier.Send(t.Context(), m, []app.Subscription{sub("/gone"), sub("/here"), sub("/busy")})
	require.NoError(t, err, "one browser is enough")
	require.Equal(t, []string{srv.URL + "/gone"}, gone)
	require.Len(t, sent, 3)
	require.Equal(t, "high", sent[1].Header.Get("Urgency"))
	require.Equal(t, "aes128gcm", sent[1].Header.Get("Content-Encoding"))
	require.LessOrEqual(t, len(body), 4096+86, "one record of RFC 8188 with its header")
	claims := strings.Split(sent[1].Header.Get("Authorization"), ".")[1]
	raw, err := base64.RawURLEncoding.DecodeString(claims)
	require.NoError(t, err)
	var c struct{ Aud, Sub string }
	require.NoError(t, json.Unmarshal(raw, &c))
	require.Equal(t, srv.URL, c.Aud)
	require.Equal(t, "mailto:desk@example.org", c.Sub, "the prefix stands once")

	_, _, err = courier.Send(t.Context(), m, []app.Subscription{sub("/busy")})
	require.Equal(t, domain.KindBusy, domain.KindOf(err))
	_, gone, err = courier.Send(t.Context(), m, []app.Subscription{sub("/gone")})
	require.Equal(t, domain.KindInvalid, domain.KindOf(err))
	require.Len(t, gone, 1)

	inside, err := New(Config{Push: PushConfig{PrivateKey: private, PublicKey: public, Contact: "desk@example.org"}})
	require.NoError(t, err)
	sent = nil
	_, _, err = inside.Send(context.Background(), m, []app.Subscription{sub("/here")})
	require.Error(t, err)
	require.Empty(t, sent, "no browser's address leads into our own network")
}

var secrets = []string{"an old secret of 32 letters and more", "a new secret of 32 letters and more."}

func TestTheHookTakesWhatIsSignedNow(t *testing.T) {
	h, err := NewHook(HookConfig{Secrets: secrets, Fields: []string{"from=msisdn", "text=content"}})
	require.NoError(t, err)
	now := time.Unix(1773304200, 0)
	in := Signed{Timestamp: "1773304200", Type: "application/json; charset=utf-8", Body: []byte(`{"id": 7, "msisdn": "237677000008", "content": "DEAD 12"}`)}
	for _, s := range secrets {
		in.Signature = "v1=00, " + Sign([]byte(s), in.Timestamp, in.Body)
		got, err := h.Text(in, now.Add(Window))
		require.NoError(t, err)
		require.Equal(t, app.RawText{ID: "7", From: "237677000008", Body: "DEAD 12"}, got)
	}
	good := in
	for name, spoil := range map[string]func(*Signed){
		"another body":      func(s *Signed) { s.Body = []byte(`{"id": 7, "msisdn": "237677000008", "content": "DEAD 13"}`) },
		"another time":      func(s *Signed) { s.Timestamp = "1773304201" },
		"no signature":      func(s *Signed) { s.Signature = "" },
		"not hexadecimal":   func(s *Signed) { s.Signature = "v1=zz" },
		"another secret":    func(s *Signed) { s.Signature = Sign([]byte("x"), s.Timestamp, s.Body) },
		"no time":           func(s *Signed) { s.Timestamp = "" },
		"far time":          func(s *Signed) { s.Timestamp = "99999999999999999" },
		"many signatures":   func(s *Signed) { s.Signature = strings.Repeat("v1=00,", 20) + s.Signature },
		"a bit of it wrong": func(s *Signed) { s.Signature = s.Signature[:len(s.Signature)-1] },
	} {
		in := good
		spoil(&in)
		_, err := h.Text(in, now)
		require.Equal(t, "signature-refused", domain.CodeOf(err), name)
	}
	for _, at := range []time.Duration{Window + time.Second, -Window - time.Second} {
		_, err := h.Text(good, now.Add(at))
		require.Equal(t, "signature-refused", domain.CodeOf(err), "a replay")
	}
	form := Signed{Timestamp: "1773304200", Type: formType, Body: []byte("id=x1&msisdn=%2B237677000008&content=NO+WATER")}
	form.Signature = Sign([]byte(secrets[0]), form.Timestamp, form.Body)
	got, err := h.Text(form, now)
	require.NoError(t, err)
	require.Equal(t, app.RawText{ID: "x1", From: "+237677000008", Body: "NO WATER"}, got)

	off, err := NewHook(HookConfig{})
	require.NoError(t, err)
	_, err = off.Text(good, now)
	require.Equal(t, "texts-off", domain.CodeOf(err), "without a secret nothing is taken")
	_, err = NewHook(HookConfig{Secrets: []string{"short"}})
	require.Error(t, err)
	_, err = NewHook(HookConfig{Fields: []string{"colour=blue"}})
	require.Error(t, err)
}

// What openssl says of the same text: printf '1773304200.DEAD 12' | openssl
// dgst -sha256 -hmac Jefe.
func TestTheSignatureAgainstAnotherProgram(t *testing.T) {
	require.Equal(t, "v1=9b47580452e180a37ca159254cc00290a8078a8bc5393ba2f1636ce6c2fde5a9", Sign([]byte("Jefe"), "1773304200", []byte("DEAD 12")))
}

func FuzzHook(f *testing.F) {
	h, err := NewHook(HookConfig{Secrets: secrets})
	require.NoError(f, err)
	for _, s := range []string{`{"id":"1","from":"+1","text":"x"}`, `{"id":[1],"from":{},"text":null}`, "id=1&from=2&text=%zz", "[]", ""} {
		f.Add([]byte(s), "application/json")
		f.Add([]byte(s), formType)
	}
	f.Fuzz(func(t *testing.T, body []byte, kind string) {
		in := Signed{Timestamp: "1773304200", Type: kind, Body: body}
		in.Signature = Sign([]byte(secrets[0]), in.Timestamp, body)
		_, err := h.Text(in, time.Unix(1773304200, 0))
		var e *domain.Error
		if err != nil && !(errors.As(err, &e) && e.Kind == domain.KindMalformed) {
			t.Fatal(err)
		}
	})
}
