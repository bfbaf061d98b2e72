package signin

import (
	"context"
	"crypto/rand"
	"time"

	"tendfold/domain"
)

// nonceLife is how long a phone has to sign a nonce: long enough to renew a
// session with the one that came with the answer before.
const nonceLife = 15 * time.Minute

// deviceIdle is after how long without a sign of life a phone must be
// enrolled again.
const deviceIdle = 90 * 24 * time.Hour

// Nonce is a text of ours for a phone to sign, once.
type Nonce struct {
	Text  string
	Until time.Time
}

// Nonce makes a nonce. It stores nothing, so anybody may ask.
func (s *Service) Nonce() Nonce {
	until := s.now().Add(nonceLife).Truncate(time.Second)
	return Nonce{Text: s.keys.MintNonce(rand.Text(), until), Until: until}
}

// Proof shows that a phone holds its private key: it signed a nonce together
// with what it is for. See statement.
type Proof struct {
	Nonce     string
	Signature string // base64url of r and s
}

// act is what a proof is for, so that one made for one thing is no good for
// another.
type act struct{ verb, thing string }

func enrolling(k jwk) act             { return act{"enrol", k.thumbprint()} }
func signingIn(deviceID string) act   { return act{"sign-in", deviceID} }
func refreshing(sessionID string) act { return act{"refresh", sessionID} }

// statement is the text that is signed: three lines, the last without an end.
func (a act) statement(nonce string) string {
	return "tendfold " + a.verb + "\n" + nonce + "\n" + a.thing
}

// proved checks a phone's proof, spends its nonce, and notes that the phone
// was there. Signing needs the PIN, so wrong PINs before it are forgotten.
func (s *Service) proved(ctx context.Context, now time.Time, deviceID string, p Proof, a act) error {
	until, err := s.freshNonce(p.Nonce, now)
	if err != nil {
		return err
	}
	return s.store.InTx(ctx, func(ctx context.Context) error {
		d, err := s.store.LockDevice(ctx, deviceID)
		if domain.KindOf(err) == domain.KindNotFound {
			return notSignedIn()
		}
		if err != nil {
			return err
		}
		key, _, err := parseKey(d.PublicKey)
		if err != nil || !verify(key, a.statement(p.Nonce), p.Signature) {
			s.log.WarnContext(ctx, "a phone's proof was refused", "device", d.ID, "person", d.PersonID, "for", a.verb)
			return notSignedIn()
		}
		if !d.RevokedAt.IsZero() {
			return deviceRevoked() // whoever signs so holds the phone's key
		}
		if now.Sub(d.SeenAt) > deviceIdle {
			return notSignedIn()
		}
		if err := s.spend(ctx, p.Nonce, until); err != nil {
			return err
		}
		d.SeenAt, d.Failures = now, 0
		return s.store.PutDevice(ctx, d)
	})
}

func (s *Service) freshNonce(nonce string, now time.Time) (time.Time, error) {
	until, err := s.keys.ReadNonce(nonce)
	if err != nil || !now.Before(until) {
		return time.Time{}, proofNeeded()
	}
	return until, nil
}

func (s *Service) spend(ctx context.Context, nonce string, until time.Time) error {
	first, err := s.store.SpendNonce(ctx, nonce, until)
	if err == nil && !first {
		return proofNeeded()
	}
	return err
}

// proofNeeded asks a phone for a signature over a fresh nonce.
func proofNeeded() error {
	return &domain.Error{Kind: domain.KindUnauthenticated, Code: "proof-needed", Text: "This phone has to prove its key: ask for a nonce, sign it and try again."}
}
