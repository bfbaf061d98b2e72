package keys

import (
	"crypto/hpke"
	"encoding/base64"
	"errors"
)

// OutboxInfo is the info of HPKE for the phones' outbox.
const OutboxInfo = "tendfold outbox v1"

// maxSealed bounds one sealed entry, photo not included: 1 MiB.
const maxSealed = 1 << 20

// OutboxKey is the public half of the server's sealing key, as a phone needs
// it for ECDH in WebCrypto.
type OutboxKey struct {
	KID string `json:"kid"`
	Kty string `json:"kty" example:"EC"`
	Crv string `json:"crv" example:"P-256"`
	X   string `json:"x"`
	Y   string `json:"y"`
}

// Sealed is an entry of a phone's outbox that only the server can open, so
// that any phone of the same person can deliver it. All but the key id are
// base64url without padding.
type Sealed struct {
	KID        string `json:"kid"`
	Enc        string `json:"enc"` // the phone's one-time public key, 65 bytes
	Ciphertext string `json:"ciphertext"`
}

// Outbox is the key that phones seal to now.
func (r *Ring) Outbox() OutboxKey {
	point := r.first.outbox.PublicKey().Bytes() // 4, x, y
	b64 := base64.RawURLEncoding.EncodeToString
	return OutboxKey{KID: r.first.kid, Kty: "EC", Crv: "P-256", X: b64(point[1:33]), Y: b64(point[33:65])}
}

// OpenOutbox opens a sealed entry: HPKE (RFC 9180) base mode with DHKEM(P-256,
// HKDF-SHA256), HKDF-SHA256 and AES-256-GCM, which is ECDH, HKDF and AES-GCM
// in the one published arrangement that has test vectors. aad is what the
// entry is bound to (person and entry id), so that nobody can deliver it as
// another's.
func (r *Ring) OpenOutbox(s Sealed, aad []byte) ([]byte, error) {
	k := r.byKID[s.KID]
	if k == nil {
		return nil, errors.New("sealed to a key that is not among the signing keys given")
	}
	if len(s.Ciphertext) > maxSealed {
		return nil, errors.New("sealed entry too large")
	}
	enc, err := base64.RawURLEncoding.Strict().DecodeString(s.Enc)
	if err != nil {
		return nil, errors.New("enc is not base64url")
	}
	ciphertext, err := base64.RawURLEncoding.Strict().DecodeString(s.Ciphertext)
	if err != nil {
		return nil, errors.New("ciphertext is not base64url")
	}
	return openHPKE(k.outbox, hpke.AES256GCM(), enc, ciphertext, []byte(OutboxInfo), aad)
}

func openHPKE(k hpke.PrivateKey, aead hpke.AEAD, enc, ciphertext, info, aad []byte) ([]byte, error) {
	recipient, err := hpke.NewRecipient(enc, k, hpke.HKDFSHA256(), aead, info)
	if err != nil {
		return nil, errors.New("enc is not a point of P-256")
	}
	plain, err := recipient.Open(aad, ciphertext)
	if err != nil {
		return nil, errors.New("the entry was changed, or is another person's")
	}
	return plain, nil
}
