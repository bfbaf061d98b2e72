// Package keys owns every key of the server and what is made with them:
// access tokens, refresh tokens, nonces, the marks of known browsers, sealed
// fields, and the key to which phones seal their outbox. All of them are
// derived from one secret, so that an operator keeps and rotates one thing.
//
// Rotation: a new secret is put in front of the old ones. From then on it
// signs; what the old ones signed stays good until it is over or the old
// secret is taken away. A key is found by its id (kid), which is derived
// from the secret and looked up in memory, never in a file or a database.
package keys

import (
	"crypto/aes"
	"crypto/cipher"
	"crypto/ecdh"
	"crypto/ed25519"
	"crypto/hkdf"
	"crypto/hpke"
	"crypto/sha256"
	"encoding/base64"
	"errors"
	"fmt"
)

// Ring holds the keys, the first of which signs.
type Ring struct {
	first *key
	byKID map[string]*key
	order []string
	seen  seen
}

// key is what one secret gives. Each use has its own sub-key, so that no
// value made for one can be presented as another.
type key struct {
	kid     string
	access  ed25519.PrivateKey
	refresh []byte
	nonce   []byte
	browser []byte
	stamp   []byte
	field   cipher.AEAD
	outbox  hpke.PrivateKey
}

// NewRing derives the keys of the secrets, the first of which signs.
func NewRing(secrets ...Secret) (*Ring, error) {
	if len(secrets) == 0 {
		return nil, errors.New("no signing key given")
	}
	r := &Ring{byKID: map[string]*key{}}
	for _, s := range secrets {
		k, err := derive(s)
		if err != nil {
			return nil, fmt.Errorf("deriving keys: %w", err)
		}
		if r.byKID[k.kid] != nil {
			continue
		}
		r.byKID[k.kid] = k
		r.order = append(r.order, k.kid)
	}
	r.first = r.byKID[kid(secrets[0])]
	return r, nil
}

// KIDs are the ids of the keys, the signing one first.
func (r *Ring) KIDs() []string { return append([]string(nil), r.order...) }

// kid names a secret without telling anything of it.
func kid(s Secret) string {
	return base64.RawURLEncoding.EncodeToString(subkey(s, "kid")[:9])
}

func derive(s Secret) (*key, error) {
	block, err := aes.NewCipher(subkey(s, "field"))
	if err != nil {
		return nil, err
	}
	field, err := cipher.NewGCMWithRandomNonce(block)
	if err != nil {
		return nil, err
	}
	outbox, err := hpke.DHKEM(ecdh.P256()).DeriveKeyPair(subkey(s, "outbox"))
	if err != nil {
		return nil, err
	}
	return &key{
		kid:     kid(s),
		access:  ed25519.NewKeyFromSeed(subkey(s, "access")),
		refresh: subkey(s, "refresh"),
		nonce:   subkey(s, "nonce"),
		browser: subkey(s, "browser"),
		stamp:   subkey(s, "stamp"),
		field:   field,
		outbox:  outbox,
	}, nil
}

// subkey is HKDF-SHA256 (RFC 5869) with the use as info. It cannot fail for
// 32 bytes out of 32.
func subkey(s Secret, use string) []byte {
	out, err := hkdf.Key(sha256.New, s[:], nil, "tendfold/v1/"+use, 32)
	if err != nil {
		panic(err)
	}
	return out
}
