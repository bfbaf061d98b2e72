package keys

import (
	"crypto/ecdh"
	"crypto/hpke"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

// RFC 9180 appendix A.3.1: DHKEM(P-256, HKDF-SHA256), HKDF-SHA256,
// AES-128-GCM, base mode, sequence number 0. Ours differs in the length of
// the AES key only, which the vector made by WebCrypto below covers.
func TestOpenMatchesRFC9180(t *testing.T) {
	k, err := hpke.DHKEM(ecdh.P256()).DeriveKeyPair(unhex(t, "668b37171f1072f3cf12ea8a236a45df23fc13b82af3609ad1e354f6ef817550"))
	require.NoError(t, err)
	private, err := k.Bytes()
	require.NoError(t, err)
	require.Equal(t, unhex(t, "f3ce7fdae57e1a310d87f1ebbde6f328be0a99cdbcadf4d6589cf29de4b8ffd2"), private)

	plain, err := openHPKE(k, hpke.AES128GCM(),
		unhex(t, "04a92719c6195d5085104f469a8b9814d5838ff72b60501e2c4466e5e67b325ac98536d7b61a1af4b78e5b7f951c0900be863c403ce65c9bfcb9382657222d18c4"),
		unhex(t, "5ad590bb8baa577f8619db35a36311226a896e7342a6d836d8b7bcd2f20b6c7f9076ac232e3ab2523f39513434"),
		unhex(t, "4f6465206f6e2061204772656369616e2055726e"), unhex(t, "436f756e742d30"))
	require.NoError(t, err)
	require.Equal(t, "Beauty is truth, truth beauty", string(plain))
}

// testdata/outbox.json was sealed by testdata/seal.mjs with WebCrypto, as a
// phone does it, to the key that is derived from 32 bytes of 1.
func TestOpensWhatWebCryptoSealed(t *testing.T) {
	var v struct{ Aad, Plain, Enc, Ciphertext string }
	raw, err := os.ReadFile("testdata/outbox.json")
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(raw, &v))
	r := ring(t, 1)
	sealed := Sealed{KID: r.KIDs()[0], Enc: v.Enc, Ciphertext: v.Ciphertext}
	plain, err := r.OpenOutbox(sealed, []byte(v.Aad))
	require.NoError(t, err)
	require.Equal(t, v.Plain, string(plain))

	plain, err = ring(t, 2, 1).OpenOutbox(sealed, []byte(v.Aad))
	require.NoError(t, err, "after a rotation")
	require.Equal(t, v.Plain, string(plain))

	_, err = ring(t, 2).OpenOutbox(sealed, []byte(v.Aad))
	require.ErrorContains(t, err, "signing keys given")
	_, err = r.OpenOutbox(sealed, []byte("person-2\nentry-1"))
	require.ErrorContains(t, err, "another person's")
}

func TestOutboxKeyIsAPointOfTheCurve(t *testing.T) {
	r := ring(t, 1)
	k := r.Outbox()
	x, err := base64.RawURLEncoding.DecodeString(k.X)
	require.NoError(t, err)
	y, err := base64.RawURLEncoding.DecodeString(k.Y)
	require.NoError(t, err)
	_, err = ecdh.P256().NewPublicKey(append(append([]byte{4}, x...), y...))
	require.NoError(t, err)
	require.Equal(t, r.KIDs()[0], k.KID)
	require.NotEqual(t, k.X, ring(t, 2).Outbox().X)
}

func FuzzOpenOutbox(f *testing.F) {
	r := ring(f, 1)
	f.Add("", "", []byte{})
	f.Add("BA", "AAAA", []byte("x"))
	f.Fuzz(func(t *testing.T, enc, ciphertext string, aad []byte) {
		_, err := r.OpenOutbox(Sealed{KID: r.KIDs()[0], Enc: enc, Ciphertext: ciphertext}, aad)
		require.Error(t, err)
	})
}

func unhex(t *testing.T, s string) []byte {
	t.Helper()
	raw, err := hex.DecodeString(s)
	require.NoError(t, err)
	return raw
}
