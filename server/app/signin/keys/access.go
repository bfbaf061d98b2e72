package keys

import (
	"crypto/ed25519"
	"errors"
	"fmt"
	"time"

	"github.com/golang-jwt/jwt/v5"
)

// AccessLife is how long an access token is good.
const AccessLife = 10 * time.Minute

// clockDrift is by how much the clocks of two servers may differ before one
// finds the other's tokens not yet good.
const clockDrift = time.Minute

// What the tokens say about themselves (RFC 8725 sections 3.8, 3.9, 3.11;
// the type is RFC 9068's).
const (
	issuer     = "tendfold"
	audience   = "tendfold-api"
	accessType = "at+jwt"
)

// maxAccess bounds what is parsed; ours have about 420 bytes.
const maxAccess = 2048

// Access is what an access token says. It carries no rights: those are read
// with the session at each request, so that a change of them is at once.
type Access struct {
	PersonID  string
	SessionID string
	DeviceID  string // "" in a browser without an enrolled key
}

type claims struct {
	jwt.RegisteredClaims
	SessionID string `json:"sid"`
	DeviceID  string `json:"did,omitempty"`
}

// MintAccess signs an access token (EdDSA with Ed25519, RFC 8037) that is
// good from now for AccessLife.
func (r *Ring) MintAccess(a Access, now time.Time) (string, error) {
	t := jwt.NewWithClaims(jwt.SigningMethodEdDSA, claims{
		RegisteredClaims: jwt.RegisteredClaims{
			Issuer: issuer, Subject: a.PersonID, Audience: jwt.ClaimStrings{audience},
			IssuedAt: jwt.NewNumericDate(now), NotBefore: jwt.NewNumericDate(now.Add(-clockDrift)),
			ExpiresAt: jwt.NewNumericDate(now.Add(AccessLife)),
		},
		SessionID: a.SessionID, DeviceID: a.DeviceID,
	})
	t.Header["kid"] = r.first.kid
	t.Header["typ"] = accessType
	return t.SignedString(r.first.access)
}

// ReadAccess checks an access token: one algorithm, a key that we hold, our
// type, issuer and audience, and its time. Headers that name keys elsewhere
// (jku, x5u, jwk, x5c) or must be understood (crit) are refused, not ignored.
func (r *Ring) ReadAccess(token string, now time.Time) (Access, error) {
	if len(token) > maxAccess {
		return Access{}, errors.New("access token too long")
	}
	if a, ok := r.seen.good(token, now); ok {
		return a, nil
	}
	parser := jwt.NewParser(
		jwt.WithValidMethods([]string{jwt.SigningMethodEdDSA.Alg()}),
		jwt.WithIssuer(issuer), jwt.WithAudience(audience),
		jwt.WithExpirationRequired(),
		jwt.WithTimeFunc(func() time.Time { return now }),
		jwt.WithStrictDecoding(),
	)
	var c claims
	if _, err := parser.ParseWithClaims(token, &c, r.accessKey); err != nil {
		return Access{}, fmt.Errorf("access token: %w", err)
	}
	if c.Subject == "" || c.SessionID == "" {
		return Access{}, errors.New("access token: no person or no session")
	}
	a := Access{PersonID: c.Subject, SessionID: c.SessionID, DeviceID: c.DeviceID}
	if c.NotBefore != nil {
		r.seen.add(token, seenAccess{Access: a, from: c.NotBefore.Time, until: c.ExpiresAt.Time})
	}
	return a, nil
}

func (r *Ring) accessKey(t *jwt.Token) (any, error) {
	for name := range t.Header {
		if name != "alg" && name != "kid" && name != "typ" {
			return nil, fmt.Errorf("header %q is not one that we sign", name)
		}
	}
	if t.Header["typ"] != accessType {
		return nil, errors.New("not an access token")
	}
	id, ok := t.Header["kid"].(string)
	if !ok || r.byKID[id] == nil {
		return nil, errors.New("signed with a key that we do not hold")
	}
	return r.byKID[id].access.Public().(ed25519.PublicKey), nil
}
