// Package housetest opens a whole house on a real database, so that tests
// speak to it as browsers do: through the real router, with real access
// tokens, and a clock that the test moves.
package housetest

import (
	"context"
	"encoding/base64"
	"net/http"
	"sync"
	"testing"
	"time"

	"tendfold/server"
	"tendfold/server/app/signin"
	"tendfold/server/app/signin/keys"
	"tendfold/server/store/storetest"

	"github.com/stretchr/testify/require"
)

// Begins is the instant at which the clock of every house stands: a Thursday
// morning, half past nine in Douala.
var Begins = time.Date(2026, 3, 12, 8, 30, 0, 0, time.UTC)

// House is a wired house without listener and workers: what a request queues
// stays queued, and Sweep does what the workers would.
type House struct {
	*server.House
	T testing.TB

	ring    *keys.Ring
	handler http.Handler

	mu       sync.Mutex
	at       time.Time
	sessions map[string]string // by person
	ids      int
}

// Each runs the test once on each database, in a house of its own with the
// small register of world.go.
func Each(t *testing.T, test func(t *testing.T, h *House)) {
	t.Helper()
	EachEmpty(t, func(t *testing.T, h *House) {
		h.settle()
		test(t, h)
	})
}

// EachWith is Each with other settings than the usual.
func EachWith(t *testing.T, set func(*server.Config), test func(t *testing.T, h *House)) {
	t.Helper()
	storetest.EachDB(t, func(t *testing.T, db string) {
		h := OpenWith(t, db, set)
		h.settle()
		test(t, h)
	})
}

// EachEmpty is Each for a house in which nothing is registered yet.
func EachEmpty(t *testing.T, test func(t *testing.T, h *House)) {
	t.Helper()
	storetest.EachDB(t, func(t *testing.T, db string) { test(t, Open(t, db)) })
}

// Lite is a house on SQLite alone with the small register, for tests and
// benchmarks of what no database changes.
func Lite(t testing.TB) *House {
	t.Helper()
	h := Open(t, storetest.Folder(t))
	h.settle()
	return h
}

// OpenSettled is Open with the small register.
func OpenSettled(t testing.TB, db string) *House {
	t.Helper()
	h := Open(t, db)
	h.settle()
	return h
}

// Open opens a house that the test closes at its end. db is the text for
// server.Config.DB.
func Open(t testing.TB, db string) *House { return OpenWith(t, db, nil) }

// OpenWith is Open with other settings than the usual.
func OpenWith(t testing.TB, db string, set func(*server.Config)) *House {
	t.Helper()
	secret := keys.Secret{7}
	ring, err := keys.NewRing(secret)
	require.NoError(t, err)
	h := &House{T: t, ring: ring, at: Begins, sessions: map[string]string{}}
	cfg := server.Config{
		DB: db, Media: t.TempDir(), SigningKey: base64.StdEncoding.EncodeToString(secret[:]), Version: "test", Now: h.Now,
	}
	if set != nil {
		set(&cfg)
	}
	h.House, err = server.Open(context.Background(), cfg)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, h.Close()) })
	h.handler = h.Handler()
	return h
}

// Now is the house's clock.
func (h *House) Now() time.Time {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.at
}

// Pass lets time go by.
func (h *House) Pass(d time.Duration) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.at = h.at.Add(d)
}

// Sweep sweeps all farms, as the workers do every hour.
func (h *House) Sweep() {
	h.T.Helper()
	_, err := h.Sweeps.All(context.Background(), 0, nil)
	require.NoError(h.T, err)
}

// token is a fresh access token of a person, in a session that never ends.
func (h *House) token(personID string) string {
	h.T.Helper()
	h.mu.Lock()
	session, ok := h.sessions[personID]
	h.mu.Unlock()
	if !ok {
		session = "session-of-" + personID
		require.NoError(h.T, h.Store.AddSession(context.Background(), signin.Session{
			ID: session, PersonID: personID, Generation: 1, RotatedAt: Begins, StartedAt: Begins, ExpiresAt: Begins.AddDate(50, 0, 0),
		}))
		h.mu.Lock()
		h.sessions[personID] = session
		h.mu.Unlock()
	}
	token, err := h.ring.MintAccess(keys.Access{PersonID: personID, SessionID: session}, h.Now())
	require.NoError(h.T, err)
	return token
}
