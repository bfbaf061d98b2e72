// Package signin owns who somebody is: passwords of staff, enrolled phones,
// sessions and their tokens, and what slows guessing down. What a person may
// do is decided in the use cases of package app; here an Actor is made.
//
// Two ways in, equally strong where it counts. Staff type a long password (or
// a shorter one with a code app). A phone is enrolled once, with a link or a
// spoken code, and from then on signs with a key that never leaves it and
// that only its PIN unlocks. The design, its numbers and what remains at risk
// are on docs/decisions/007-sign-in.md.
package signin

import (
	"context"
	"log/slog"
	"time"

	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/app/signin/keys"
)

// Service is the use cases of signing in. All of them may be called at once.
type Service struct {
	store Store
	keys  *keys.Ring
	hash  *Hasher
	now   func() time.Time
	newID func() string
	log   *slog.Logger
}

// Needs is what a Service is made of.
type Needs struct {
	Store Store
	Keys  *keys.Ring
	Hash  *Hasher
	Now   func() time.Time
	NewID func() string // UUIDv7
	Log   *slog.Logger
}

// New makes a Service.
func New(n Needs) *Service {
	return &Service{store: n.Store, keys: n.Keys, hash: n.Hash, now: n.Now, newID: n.NewID, log: n.Log}
}

// Now is the service's clock.
func (s *Service) Now() time.Time { return s.now() }

// Store is what signing in needs of the database. A row that is not there is
// a not-found error. Methods named Lock hold the row for the transaction in
// ctx, which there must be.
type Store interface {
	app.Store

	Firm(ctx context.Context) (farm.Firm, error)
	Person(ctx context.Context, sc app.Scope, id string) (farm.Person, error)

	PasswordByLogin(ctx context.Context, login string) (Password, error)
	LockPassword(ctx context.Context, personID string) (Password, error)
	PutPassword(ctx context.Context, p Password) error

	AddEnrolment(ctx context.Context, e Enrolment) error
	LockEnrolment(ctx context.Context, by Way, key string) (Enrolment, error)
	PutEnrolment(ctx context.Context, e Enrolment) error
	VoidEnrolments(ctx context.Context, personID string, purpose Purpose, now time.Time) error

	AddDevice(ctx context.Context, d Device) error
	LockDevice(ctx context.Context, id string) (Device, error)
	PutDevice(ctx context.Context, d Device) error
	Devices(ctx context.Context, personID string) ([]Device, error)

	AddSession(ctx context.Context, x Session) error
	LockSession(ctx context.Context, id string) (Session, error)
	PutSession(ctx context.Context, x Session) error
	Sessions(ctx context.Context, personID string, now time.Time) ([]Session, error)
	EndSessions(ctx context.Context, f EndFilter, why string, now time.Time) (int, error)
	Bearer(ctx context.Context, sessionID string) (Bearer, error)

	SpendNonce(ctx context.Context, nonce string, until time.Time) (first bool, err error)
	LockTries(ctx context.Context, scope string, now time.Time) (Tries, error)
	PutTries(ctx context.Context, t Tries) error
	DropTries(ctx context.Context, scope string) error

	NoteKeys(ctx context.Context, kids []string, now time.Time) (known []string, err error)
	PurgeSignIn(ctx context.Context, before Purge) (rows int, err error)
}

// CheckKeys notes the signing keys in the database and warns when it was
// served with one that is not given now: what that one signed is refused, and
// outboxes sealed to it cannot be opened.
func (s *Service) CheckKeys(ctx context.Context) (missing []string, err error) {
	given := s.keys.KIDs()
	noted, err := s.store.NoteKeys(ctx, given, s.now())
	if err != nil {
		return nil, err
	}
	have := map[string]bool{}
	for _, kid := range given {
		have[kid] = true
	}
	for _, kid := range noted {
		if !have[kid] {
			missing = append(missing, kid)
			s.log.WarnContext(ctx, "a signing key that this database was served with is not given; what it signed is refused", "kid", kid)
		}
	}
	return missing, nil
}

// record writes the audit line in the transaction of ctx.
func (s *Service) record(ctx context.Context, now time.Time, byPerson string, c app.Change) error {
	return s.store.Record(ctx, s.newID(), now, byPerson, c)
}

// deviceRevoked is told to a phone alone that still holds its key or its
// session: it wipes what can be read on it. What it keeps sealed stays.
func deviceRevoked() error {
	return &domain.Error{Kind: domain.KindUnauthenticated, Code: "device-revoked", Text: "This phone is no longer let in. Ask the firm for a new link or code."}
}

// notSignedIn is the one answer to whatever is wrong with a token, a cookie
// or a session: it does not say what.
func notSignedIn() error {
	return &domain.Error{Kind: domain.KindUnauthenticated, Code: "not-signed-in", Text: "You are not signed in, or no longer. Sign in again."}
}
