package signin

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"errors"
	"math/big"
)

// maxJWK bounds what is parsed; one of WebCrypto's has 220 bytes.
const maxJWK = 1024

// jwk is the public half of a phone's key (RFC 7517, RFC 7518 section 6.2).
type jwk struct {
	Crv string `json:"crv"`
	Kty string `json:"kty"`
	X   string `json:"x"`
	Y   string `json:"y"`
}

// text is the form in which a key is kept: the members that RFC 7638 names, in
// its order, so that one key has one form.
func (k jwk) text() string {
	raw, err := json.Marshal(k)
	if err != nil {
		panic(err) // four texts can be written
	}
	return string(raw)
}

// thumbprint names a key (RFC 7638).
func (k jwk) thumbprint() string {
	sum := sha256.Sum256([]byte(k.text()))
	return base64.RawURLEncoding.EncodeToString(sum[:])
}

// parseKey reads a public EC P-256 key in JWK form. A private key is refused:
// it should never have left the phone.
func parseKey(text string) (*ecdsa.PublicKey, jwk, error) {
	if len(text) > maxJWK {
		return nil, jwk{}, errors.New("the key is too long")
	}
	var members struct {
		jwk
		D json.RawMessage `json:"d"`
	}
	if err := json.Unmarshal([]byte(text), &members); err != nil {
		return nil, jwk{}, errors.New("the key is not a JWK")
	}
	if members.D != nil {
		return nil, jwk{}, errors.New("the key is a private one")
	}
	if members.Kty != "EC" || members.Crv != "P-256" {
		return nil, jwk{}, errors.New("the key is not of EC P-256")
	}
	point := []byte{4} // an uncompressed point, SEC 1 section 2.3.4
	for _, text := range []string{members.X, members.Y} {
		part, err := base64.RawURLEncoding.Strict().DecodeString(text)
		if err != nil || len(part) != 32 {
			return nil, jwk{}, errors.New("x and y of the key must be 32 bytes in base64url")
		}
		point = append(point, part...)
	}
	key, err := ecdsa.ParseUncompressedPublicKey(elliptic.P256(), point)
	if err != nil {
		return nil, jwk{}, errors.New("the key is not a point of the curve")
	}
	return key, members.jwk, nil
}

// verify says whether the signature over the text is the key's: ECDSA with
// SHA-256, r and s of 32 bytes each one after the other in base64url, which
// is what WebCrypto makes and ES256 (RFC 7518 section 3.4) says.
func verify(key *ecdsa.PublicKey, text, signature string) bool {
	raw, err := base64.RawURLEncoding.Strict().DecodeString(signature)
	if err != nil || len(raw) != 64 {
		return false
	}
	sum := sha256.Sum256([]byte(text))
	return ecdsa.Verify(key, sum[:], new(big.Int).SetBytes(raw[:32]), new(big.Int).SetBytes(raw[32:]))
}
