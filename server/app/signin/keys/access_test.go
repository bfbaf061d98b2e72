package keys

import (
	"crypto/ed25519"
	"crypto/rand"
	"crypto/rsa"
	"encoding/base64"
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/golang-jwt/jwt/v5"
	"github.com/stretchr/testify/require"
)

// RFC 8037 appendix A.4: Ed25519 signing of a JWS.
func TestSigningMatchesRFC8037(t *testing.T) {
	seed, err := base64.RawURLEncoding.DecodeString("nWGxne_9WmC6hEr0kuwsxERJxWl7MmkZcDusAxyuf2A")
	require.NoError(t, err)
	signed := "eyJhbGciOiJFZERTQSJ9.RXhhbXBsZSBvZiBFZDI1NTE5IHNpZ25pbmc"
	mac, err := jwt.SigningMethodEdDSA.Sign(signed, ed25519.NewKeyFromSeed(seed))
	require.NoError(t, err)
	require.Equal(t,
		"hgyY0il_MGCjP0JzlnLWG1PPOt7-09PGcvMg3AIbQR6dWbhijcNR4ki4iylGjg5BhVsPt9g7sVvpAr_MuM0KAg",
		base64.RawURLEncoding.EncodeToString(mac))
}

func TestAccessSaysWhatWasMinted(t *testing.T) {
	r := ring(t, 1)
	want := Access{PersonID: "p", SessionID: "s", DeviceID: "d"}
	token, err := r.MintAccess(want, noon)
	require.NoError(t, err)
	for _, at := range []time.Time{noon, noon.Add(-clockDrift), noon.Add(AccessLife - time.Second)} {
		got, err := r.ReadAccess(token, at)
		require.NoError(t, err)
		require.Equal(t, want, got)
	}
	require.Less(t, len(token), 600)
}

// The negative set of RFC 8725 and ASVS 9.1 and 9.2.
func TestAccessRefuses(t *testing.T) {
	r := ring(t, 1)
	good := func() (map[string]any, jwt.MapClaims) {
		return map[string]any{"alg": "EdDSA", "kid": r.KIDs()[0], "typ": "at+jwt"},
			jwt.MapClaims{
				"iss": issuer, "aud": audience, "sub": "p", "sid": "s",
				"exp": noon.Add(AccessLife).Unix(), "nbf": noon.Unix(), "iat": noon.Unix(),
			}
	}
	sign := func(h map[string]any, c jwt.MapClaims) string { return signWith(t, h, c, r.first.access) }
	head, body := good()
	_, err := r.ReadAccess(sign(head, body), noon)
	require.NoError(t, err, "the template itself is good")

	cases := map[string]func(h map[string]any, c jwt.MapClaims){
		"no kid":             func(h map[string]any, _ jwt.MapClaims) { delete(h, "kid") },
		"unknown kid":        func(h map[string]any, _ jwt.MapClaims) { h["kid"] = "other" },
		"path as kid":        func(h map[string]any, _ jwt.MapClaims) { h["kid"] = "../../../dev/null" },
		"SQL as kid":         func(h map[string]any, _ jwt.MapClaims) { h["kid"] = "x' UNION SELECT 'key'--" },
		"number as kid":      func(h map[string]any, _ jwt.MapClaims) { h["kid"] = 1 },
		"list as kid":        func(h map[string]any, _ jwt.MapClaims) { h["kid"] = []string{r.KIDs()[0]} },
		"jku":                func(h map[string]any, _ jwt.MapClaims) { h["jku"] = "https://keys.example/jwks" },
		"x5u":                func(h map[string]any, _ jwt.MapClaims) { h["x5u"] = "https://keys.example/cert" },
		"x5c":                func(h map[string]any, _ jwt.MapClaims) { h["x5c"] = []string{"MII"} },
		"jwk":                func(h map[string]any, _ jwt.MapClaims) { h["jwk"] = map[string]string{"kty": "OKP"} },
		"crit":               func(h map[string]any, _ jwt.MapClaims) { h["crit"] = []string{"exp"} },
		"no type":            func(h map[string]any, _ jwt.MapClaims) { delete(h, "typ") },
		"plain JWT type":     func(h map[string]any, _ jwt.MapClaims) { h["typ"] = "JWT" },
		"another type":       func(h map[string]any, _ jwt.MapClaims) { h["typ"] = "rt+jwt" },
		"alg none":           func(h map[string]any, _ jwt.MapClaims) { h["alg"] = "none" },
		"alg None":           func(h map[string]any, _ jwt.MapClaims) { h["alg"] = "None" },
		"alg names another":  func(h map[string]any, _ jwt.MapClaims) { h["alg"] = "ES256" },
		"no alg":             func(h map[string]any, _ jwt.MapClaims) { delete(h, "alg") },
		"wrong issuer":       func(_ map[string]any, c jwt.MapClaims) { c["iss"] = "other" },
		"no issuer":          func(_ map[string]any, c jwt.MapClaims) { delete(c, "iss") },
		"wrong audience":     func(_ map[string]any, c jwt.MapClaims) { c["aud"] = "other" },
		"no audience":        func(_ map[string]any, c jwt.MapClaims) { delete(c, "aud") },
		"expired":            func(_ map[string]any, c jwt.MapClaims) { c["exp"] = noon.Unix() },
		"no expiry":          func(_ map[string]any, c jwt.MapClaims) { delete(c, "exp") },
		"expiry as text":     func(_ map[string]any, c jwt.MapClaims) { c["exp"] = "tomorrow" },
		"not yet good":       func(_ map[string]any, c jwt.MapClaims) { c["nbf"] = noon.Add(time.Second).Unix() },
		"no person":          func(_ map[string]any, c jwt.MapClaims) { delete(c, "sub") },
		"no session":         func(_ map[string]any, c jwt.MapClaims) { delete(c, "sid") },
		"person is a number": func(_ map[string]any, c jwt.MapClaims) { c["sub"] = 1 },
	}
	for name, spoil := range cases {
		t.Run(name, func(t *testing.T) {
			h, c := good()
			spoil(h, c)
			_, err := r.ReadAccess(sign(h, c), noon)
			require.Error(t, err)
		})
	}
}

// The public key used as the secret of a symmetric algorithm, an RSA key of
// the attacker's, and another Ed25519 key under our kid.
func TestAccessRefusesOtherAlgorithmsAndKeys(t *testing.T) {
	r := ring(t, 1)
	claims := jwt.MapClaims{"iss": issuer, "aud": audience, "sub": "p", "sid": "s", "exp": noon.Add(time.Minute).Unix()}
	rsaKey, err := rsa.GenerateKey(rand.Reader, 2048)
	require.NoError(t, err)
	_, stranger, err := ed25519.GenerateKey(rand.Reader)
	require.NoError(t, err)
	public := []byte(r.first.access.Public().(ed25519.PublicKey))
	for name, c := range map[string]struct {
		method jwt.SigningMethod
		key    any
	}{
		"HS256 with the public key": {jwt.SigningMethodHS256, public},
		"HS512 with the public key": {jwt.SigningMethodHS512, public},
		"HS256 with nothing":        {jwt.SigningMethodHS256, []byte{}},
		"RS256":                     {jwt.SigningMethodRS256, rsaKey},
		"PS256":                     {jwt.SigningMethodPS256, rsaKey},
		"none":                      {jwt.SigningMethodNone, jwt.UnsafeAllowNoneSignatureType},
		"another Ed25519 key":       {jwt.SigningMethodEdDSA, stranger},
	} {
		t.Run(name, func(t *testing.T) {
			token := jwt.NewWithClaims(c.method, claims)
			token.Header["kid"], token.Header["typ"] = r.KIDs()[0], accessType
			text, err := token.SignedString(c.key)
			require.NoError(t, err)
			_, err = r.ReadAccess(text, noon)
			require.Error(t, err)
		})
	}
}

func TestEveryChangedBitOfATokenIsRefused(t *testing.T) {
	r := ring(t, 1)
	token, err := r.MintAccess(Access{PersonID: "p", SessionID: "s"}, noon)
	require.NoError(t, err)
	for i := range len(token) * 8 {
		changed := []byte(token)
		changed[i/8] ^= 1 << (i % 8)
		_, err := r.ReadAccess(string(changed), noon)
		require.Error(t, err, "bit %d", i)
	}
}

func FuzzReadAccess(f *testing.F) {
	r := ring(f, 1)
	token, err := r.MintAccess(Access{PersonID: "p", SessionID: "s"}, noon)
	require.NoError(f, err)
	for _, s := range []string{"", "..", token, token + ".", strings.Repeat("a.", 40), "e30.e30.", "eyJhbGciOiJub25lIn0.e30."} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if _, err := r.ReadAccess(s, noon); err == nil {
			require.Equal(t, token, s)
		}
	})
}

func signWith(t *testing.T, head map[string]any, body jwt.MapClaims, key ed25519.PrivateKey) string {
	t.Helper()
	part := func(v any) string {
		raw, err := json.Marshal(v)
		require.NoError(t, err)
		return base64.RawURLEncoding.EncodeToString(raw)
	}
	signed := part(head) + "." + part(body)
	return signed + "." + base64.RawURLEncoding.EncodeToString(ed25519.Sign(key, []byte(signed)))
}
