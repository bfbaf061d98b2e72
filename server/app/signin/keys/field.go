package keys

import (
	"encoding/base64"
	"errors"
	"strings"
)

var errField = errors.New("a sealed field cannot be opened: its key is not among the signing keys given, or the row was changed")

// SealField encrypts a small secret for the database (AES-256-GCM, random
// nonce). owner is bound in: the field opens in that person's row only.
func (r *Ring) SealField(owner, plain string) string {
	sealed := r.first.field.Seal(nil, nil, []byte(plain), []byte(owner))
	return r.first.kid + "." + base64.RawURLEncoding.EncodeToString(sealed)
}

// OpenField is the opposite of SealField.
func (r *Ring) OpenField(owner, sealed string) (string, error) {
	kid, text, _ := strings.Cut(sealed, ".")
	k := r.byKID[kid]
	raw, err := base64.RawURLEncoding.Strict().DecodeString(text)
	if k == nil || err != nil {
		return "", errField
	}
	plain, err := k.field.Open(nil, nil, raw, []byte(owner))
	if err != nil {
		return "", errField
	}
	return string(plain), nil
}
