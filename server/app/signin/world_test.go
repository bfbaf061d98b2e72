package signin_test

import (
	"bytes"
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"log/slog"
	"sync"
	"testing"
	"time"

	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/app/signin"
	"tendfold/server/app/signin/keys"
	"tendfold/server/store"
	"tendfold/server/store/storetest"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"
)

const (
	password = "copper spoon under the maize"
	other    = "thunder basket on a tall ladder"
	here     = "203.0.113.7"
	there    = "198.51.100.9"
)

// quick is far below what a server may use, so that tests can guess a lot.
var quick = signin.Cost{Memory: 64, Iterations: 1, Parallelism: 1, SaltLength: 16, KeyLength: 32}

// world is a service on a real database, with a clock that the test moves.
type world struct {
	t     testing.TB
	s     *signin.Service
	store *store.Store
	log   *bytes.Buffer
	mu    sync.Mutex
	at    time.Time
}

var ctx = context.Background()

// each runs the test on both databases, in a world of its own.
func each(t *testing.T, test func(t *testing.T, w *world)) {
	t.Helper()
	storetest.Each(t, func(t *testing.T, s *store.Store) { test(t, newWorld(t, s, secretOf(1))) })
}

func secretOf(b byte) keys.Secret { return keys.Secret(bytes.Repeat([]byte{b}, 32)) }

func newWorld(t testing.TB, st *store.Store, secrets ...keys.Secret) *world {
	t.Helper()
	w := &world{t: t, store: st, log: &bytes.Buffer{}, at: time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)}
	w.s = w.service(quick, secrets...)
	return w
}

// service is another server on the same database and clock.
func (w *world) service(cost signin.Cost, secrets ...keys.Secret) *signin.Service {
	ring, err := keys.NewRing(secrets...)
	require.NoError(w.t, err)
	return signin.New(signin.Needs{
		Store: w.store, Keys: ring, Hash: signin.NewHasher(cost, 2),
		Now:   w.now,
		NewID: func() string { return uuid.Must(uuid.NewV7()).String() },
		Log:   slog.New(slog.NewJSONHandler(&locked{w: w}, &slog.HandlerOptions{Level: slog.LevelDebug})),
	})
}

func (w *world) now() time.Time {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.at
}

func (w *world) pass(d time.Duration) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.at = w.at.Add(d)
}

type locked struct{ w *world }

func (l *locked) Write(p []byte) (int, error) {
	l.w.mu.Lock()
	defer l.w.mu.Unlock()
	return l.w.log.Write(p)
}

// person makes a person with these grants and no way in.
func (w *world) person(name string, grants ...farm.Grant) farm.Person {
	w.t.Helper()
	p := farm.Person{ID: uuid.NewString(), Name: name, Email: name + "@palmwalk.example", Phone: "+237600" + name, Language: "fr", Active: true, Grants: grants}
	require.NoError(w.t, w.store.AddPeople(ctx, w.now(), p))
	return p
}

// advisor is a member of staff with a password.
func (w *world) advisor(name string) farm.Person {
	w.t.Helper()
	p := w.person(name, farm.Grant{Role: farm.Advisor})
	_, err := w.s.GivePassword(ctx, app.System, p.ID, password)
	require.NoError(w.t, err)
	return p
}

func (w *world) caretaker(name string) farm.Person {
	w.t.Helper()
	return w.person(name, farm.Grant{Role: farm.Caretaker})
}

// change disables a person, or gives them other grants.
func (w *world) change(id string, change func(*farm.Person)) {
	w.t.Helper()
	p, err := w.store.Person(ctx, app.Everything, id)
	require.NoError(w.t, err)
	change(&p)
	require.NoError(w.t, w.store.ChangePerson(ctx, p))
}

func (w *world) signIn(p farm.Person) signin.Signed {
	w.t.Helper()
	out, err := w.try(p, password, here, "")
	require.NoError(w.t, err)
	return out
}

func (w *world) try(p farm.Person, password, network, browser string) (signin.Signed, error) {
	return w.s.SignIn(ctx, signin.SignIn{Login: p.Email, Password: password, Network: network, Browser: browser, Agent: "a browser"})
}

func (w *world) actor(in signin.Signed) app.Actor {
	w.t.Helper()
	who, err := w.s.Authenticate(ctx, in.Access)
	require.NoError(w.t, err)
	return who
}

// handset is a phone with its key.
type handset struct {
	w      *world
	key    *ecdsa.PrivateKey
	jwk    string
	print  string // of the key, RFC 7638
	device string
}

func (w *world) handset() *handset {
	w.t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	require.NoError(w.t, err)
	point, err := key.PublicKey.Bytes()
	require.NoError(w.t, err)
	h := &handset{w: w, key: key}
	x, y := b64(point[1:33]), b64(point[33:])
	h.jwk = fmt.Sprintf(`{"crv":"P-256","ext":true,"key_ops":["verify"],"kty":"EC","x":%q,"y":%q}`, x, y)
	sum := sha256.Sum256(fmt.Appendf(nil, `{"crv":"P-256","kty":"EC","x":%q,"y":%q}`, x, y))
	h.print = b64(sum[:])
	return h
}

func b64(raw []byte) string { return base64.RawURLEncoding.EncodeToString(raw) }

// sign signs what WebCrypto would: three lines, ECDSA, r and s.
func (h *handset) sign(verb, nonce, thing string) signin.Proof {
	sum := sha256.Sum256([]byte("tendfold " + verb + "\n" + nonce + "\n" + thing))
	r, s, err := ecdsa.Sign(rand.Reader, h.key, sum[:])
	require.NoError(h.w.t, err)
	raw := make([]byte, 64)
	r.FillBytes(raw[:32])
	s.FillBytes(raw[32:])
	return signin.Proof{Nonce: nonce, Signature: b64(raw)}
}

func (h *handset) prove(verb, thing string) signin.Proof {
	return h.sign(verb, h.w.s.Nonce().Text, thing)
}

func (h *handset) enrol(ticket signin.Ticket) (signin.Signed, error) {
	out, err := h.w.s.EnrolPhone(ctx, signin.EnrolPhone{
		Ticket: ticket, Key: h.jwk, Proof: h.prove("enrol", h.print), Name: "a phone", Network: there,
	})
	if err == nil {
		h.device = out.DeviceID
	}
	return out, err
}

func (h *handset) signIn() (signin.Signed, error) {
	return h.w.s.SignInPhone(ctx, h.device, h.prove("sign-in", h.device), "a phone")
}

func (h *handset) refresh(in signin.Signed) (signin.Signed, error) {
	return h.w.s.Refresh(ctx, signin.Refresh{Cookie: in.Refresh, Proof: h.prove("refresh", in.SessionID)})
}

// make makes a way in for a person, as the server's own command does.
func (w *world) make(p farm.Person, purpose signin.Purpose, kind signin.Kind) signin.Made {
	w.t.Helper()
	made, err := w.s.MakeEnrolment(ctx, app.System, signin.MakeEnrolment{PersonID: p.ID, Purpose: purpose, Kind: kind})
	require.NoError(w.t, err)
	return made
}

// enrolled is a phone of the person, signed in.
func (w *world) enrolled(p farm.Person) (*handset, signin.Signed) {
	w.t.Helper()
	h := w.handset()
	out, err := h.enrol(signin.Ticket{Secret: w.make(p, signin.ForPhone, signin.ByLink).Secret})
	require.NoError(w.t, err)
	return h, out
}
