package signin

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"encoding/base64"
	"net/netip"
	"strings"
	"testing"
	"time"

	"tendfold/domain/farm"
	"tendfold/server/app"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var noon = time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)

// RFC 6238 appendix B, SHA-1, the last six of its eight digits.
func TestCodesMatchRFC6238(t *testing.T) {
	const secret = "GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ" // "12345678901234567890"
	for at, code := range map[int64]string{
		59: "287082", 1111111109: "081804", 1111111111: "050471", 1234567890: "005924", 2000000000: "279037", 20000000000: "353130",
	} {
		now := time.Unix(at, 0)
		require.Equal(t, at/30, stepOf(secret, code, now, 0))
		require.Equal(t, at/30, stepOf(secret, code, now.Add(30*time.Second), 0), "the step before is taken")
		require.Equal(t, at/30, stepOf(secret, code, now.Add(-30*time.Second), 0), "and the one after")
		require.Zero(t, stepOf(secret, code, now.Add(61*time.Second), 0))
		require.Zero(t, stepOf(secret, code, now, at/30), "a code works once")
		require.Zero(t, stepOf(secret, "", now, 0))
		require.Zero(t, stepOf(secret, code+"0", now, 0))
	}
}

// RFC 7515 appendix A.3: ES256.
func TestVerifyMatchesRFC7515(t *testing.T) {
	key, _, err := parseKey(`{"kty":"EC","crv":"P-256","x":"f83OJ3D2xF1Bg8vub9tLe1gHMzV76e8Tus9uPHvRVEU","y":"x_FEzRu9m36HLN_tue659LNpXW6pCyStikYjKIWI5a0"}`)
	require.NoError(t, err)
	const (
		signed    = "eyJhbGciOiJFUzI1NiJ9.eyJpc3MiOiJqb2UiLA0KICJleHAiOjEzMDA4MTkzODAsDQogImh0dHA6Ly9leGFtcGxlLmNvbS9pc19yb290Ijp0cnVlfQ"
		signature = "DtEhU3ljbEg8L38VWAfUAqOyKAM6-Xx-F4GawxaepmXFCgfTjDxw5djxLa8ISlSApmWQxfKTUJqPP3-Kg6NU1Q"
	)
	require.True(t, verify(key, signed, signature))
	require.False(t, verify(key, signed+" ", signature))
	require.False(t, verify(key, signed, strings.Repeat("A", 86)), "r and s are not zero")
	require.False(t, verify(key, signed, signature[:80]))
	require.False(t, verify(key, signed, ""))
}

func TestParseKey(t *testing.T) {
	const (
		// RFC 7517 appendix A.1.
		x = "MKBCTNIcKUSDii11ySs3526iDZ8AiTo7Tu6KPAqv7D4"
		y = "4Etl6SRW2YiLUrN5vfvVHuhp7x8PxltmWWlbbM4IFyM"
	)
	_, k, err := parseKey(`{"key_ops":["verify"],"ext":true,"kty":"EC","x":"` + x + `","y":"` + y + `","crv":"P-256"}`)
	require.NoError(t, err)
	require.Equal(t, `{"crv":"P-256","kty":"EC","x":"`+x+`","y":"`+y+`"}`, k.text())
	for name, text := range map[string]string{
		"private":        `{"kty":"EC","crv":"P-256","x":"` + x + `","y":"` + y + `","d":"870MB6gfuTJ4HtUnUvYMyJpr5eUZNP4Bk43bVdj3eAE"}`,
		"off the curve":  `{"kty":"EC","crv":"P-256","x":"` + y + `","y":"` + x + `"}`,
		"at infinity":    `{"kty":"EC","crv":"P-256","x":"` + strings.Repeat("A", 43) + `","y":"` + strings.Repeat("A", 43) + `"}`,
		"another curve":  `{"kty":"EC","crv":"P-384","x":"` + x + `","y":"` + y + `"}`,
		"another kind":   `{"kty":"RSA","n":"AQAB","e":"AQAB"}`,
		"short":          `{"kty":"EC","crv":"P-256","x":"AQ","y":"` + y + `"}`,
		"padded":         `{"kty":"EC","crv":"P-256","x":"` + x + `=","y":"` + y + `"}`,
		"no JSON":        `-----BEGIN PUBLIC KEY-----`,
		"numbers":        `{"kty":"EC","crv":"P-256","x":1,"y":2}`,
		"far too long":   `{"kty":"` + strings.Repeat("E", 2000) + `"}`,
		"empty":          ``,
		"null":           `null`,
		"stray low bits": `{"kty":"EC","crv":"P-256","x":"` + x[:42] + `5","y":"` + y + `"}`,
	} {
		_, _, err := parseKey(text)
		require.Error(t, err, name)
	}
}

// RFC 8037 appendix A.3 has a thumbprint of another kind of key; RFC 7638
// section 3.1 of an RSA one. The form is the same: the members that the kind
// requires, in order, without spaces. This value was made by WebCrypto in
// Node 20 for the key of RFC 7517 appendix A.1.
func TestThumbprint(t *testing.T) {
	k := jwk{Crv: "P-256", Kty: "EC", X: "MKBCTNIcKUSDii11ySs3526iDZ8AiTo7Tu6KPAqv7D4", Y: "4Etl6SRW2YiLUrN5vfvVHuhp7x8PxltmWWlbbM4IFyM"}
	require.Equal(t, "cn-I_WNMClehiVp51i_0VpOENW1upEerA8sEam5hn-s", k.thumbprint())
}

func FuzzParseKey(f *testing.F) {
	f.Add(`{"kty":"EC","crv":"P-256","x":"f83OJ3D2xF1Bg8vub9tLe1gHMzV76e8Tus9uPHvRVEU","y":"x_FEzRu9m36HLN_tue659LNpXW6pCyStikYjKIWI5a0"}`)
	f.Add(`{}`)
	f.Fuzz(func(t *testing.T, text string) {
		key, k, err := parseKey(text)
		if err != nil {
			return
		}
		again, kk, err := parseKey(k.text())
		require.NoError(t, err)
		require.Equal(t, k, kk)
		require.True(t, key.Equal(again))
	})
}

func TestAProofIsForOneThing(t *testing.T) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	require.NoError(t, err)
	text := signingIn("d1").statement("n1")
	for _, other := range []string{signingIn("d2").statement("n1"), signingIn("d1").statement("n2"), refreshing("d1").statement("n1"), enrolling(jwk{X: "d1"}).statement("n1")} {
		require.NotEqual(t, text, other)
	}
	require.Equal(t, "tendfold sign-in\nn1\nd1", text)
	require.False(t, verify(&key.PublicKey, text, base64.RawURLEncoding.EncodeToString(make([]byte, 64))))
}

func TestCodes(t *testing.T) {
	require.Len(t, codeAlphabet, 24)
	for _, r := range "01IOBZSGJUVY" {
		require.NotContains(t, codeAlphabet, string(r))
	}
	seen := map[string]bool{}
	for range 1000 {
		code, err := newCode()
		require.NoError(t, err)
		require.Equal(t, code, parseCode(code))
		require.False(t, seen[code])
		seen[code] = true
	}
	for typed, want := range map[string]string{
		"acde-fhkl":           "ACDEFHKL",
		" AC DE\u00a0FH KL\n": "ACDEFHKL",
		"2345.6789":           "23456789",
		"ACDEFHK":             "",
		"ACDEFHKLM":           "",
		"ACDEFHK0":            "",
		"ACDEFHKO":            "",
		"ACDEFHKé":            "",
		"":                    "",
	} {
		require.Equal(t, want, parseCode(typed), typed)
	}
}

func FuzzParseCode(f *testing.F) {
	f.Add("acde-fhkl")
	f.Add(strings.Repeat(" ", 100))
	f.Fuzz(func(t *testing.T, typed string) {
		if code := parseCode(typed); code != "" {
			require.Len(t, code, codeLength)
			require.Equal(t, code, parseCode(code))
		}
	})
}

func TestFoldLogin(t *testing.T) {
	for typed, want := range map[string]string{
		" Ana@Palmwalk.Example ": "ana@palmwalk.example",
		"+237 600 00 00 01":      "+237600000001",
		"00237-600-000-001":      "+237600000001",
		"+237600000001":          "+237600000001",
		"":                       "",
	} {
		require.Equal(t, want, foldLogin(typed), typed)
	}
	require.Equal(t, "a@b", loginOf(farm.Person{Email: "A@B", Phone: "+1"}))
	require.Equal(t, "+1", loginOf(farm.Person{Phone: "+1"}))
}

func TestNetwork(t *testing.T) {
	for addr, want := range map[string]string{
		"203.0.113.7":              "203.0.113.7",
		"::ffff:203.0.113.7":       "203.0.113.7",
		"2001:db8:1:2:3:4:5:6":     "2001:db8:1:2::/64",
		"2001:db8:1:2:ffff::1%en0": "2001:db8:1:2::/64",
	} {
		require.Equal(t, want, Network(netip.MustParseAddr(addr)))
	}
	require.Equal(t, "invalid IP", Network(netip.Addr{}))
}

func TestWrongTriesSlowTheNextOne(t *testing.T) {
	count := Tries{Scope: "x"}
	var waits []time.Duration
	for range 18 {
		count = atDoor.failed(count, noon)
		wait, closed := atDoor.wait(count, noon)
		require.False(t, closed)
		waits = append(waits, wait)
	}
	s := time.Second
	require.Equal(t, []time.Duration{0, 0, 0, 0, s, 2 * s, 4 * s, 8 * s, 16 * s, 32 * s, 64 * s, 128 * s, 256 * s, 512 * s, 900 * s, 900 * s, 900 * s, 900 * s}, waits)

	require.Zero(t, atDoor.fresh(count, noon.Add(24*time.Hour)).Failures)
	require.Equal(t, 18, atDoor.fresh(count, noon.Add(23*time.Hour)).Failures)
}

func TestTheAccountClosesAtAHundred(t *testing.T) {
	count := Tries{}
	for n := 1; n <= 100; n++ {
		count = atAccount.failed(count, noon)
		wait, closed := atAccount.wait(count, noon)
		require.Equal(t, n == 100, closed)
		require.LessOrEqual(t, wait, time.Minute)
	}
	_, closed := atAccount.wait(atAccount.fresh(count, noon.AddDate(1, 0, 0)), noon.AddDate(1, 0, 0))
	require.True(t, closed, "time alone does not open it")
}

// Whatever the count, waiting is bounded, never shrinks with more failures,
// and is over when it is over.
func TestWaitsAreBounded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := limit{free: rapid.IntRange(0, 30).Draw(t, "free"), most: time.Duration(rapid.IntRange(1, 900).Draw(t, "most")) * time.Second}
		c := Tries{Failures: rapid.IntRange(0, 1<<30).Draw(t, "failures")}
		one := l.failed(c, noon)
		two := l.failed(one, noon)
		first, _ := l.wait(one, noon)
		second, _ := l.wait(two, noon)
		require.LessOrEqual(t, first, second)
		require.LessOrEqual(t, second, l.most)
		over, _ := l.wait(two, noon.Add(second))
		require.Zero(t, over)
	})
}

func TestJudge(t *testing.T) {
	desk := Session{Generation: 5, StartedAt: noon, RotatedAt: noon, ExpiresAt: noon.Add(staffLife)}
	phone := desk
	phone.DeviceID, phone.ExpiresAt = "d", noon.Add(phoneLife)
	ended := desk
	ended.EndedAt = noon
	for name, c := range map[string]struct {
		x          Session
		generation int64
		after      time.Duration
		want       verdict
	}{
		"the newest":                         {desk, 5, time.Minute, rotate},
		"the newest, just in time":           {desk, 5, 12 * time.Hour, rotate},
		"idle too long":                      {desk, 5, 12*time.Hour + 1, over},
		"after a month":                      {desk, 5, 30 * 24 * time.Hour, over},
		"a lost answer":                      {desk, 4, 2 * time.Minute, repeat},
		"a lost answer, too late":            {desk, 4, 2*time.Minute + 1, replay},
		"older":                              {desk, 3, time.Second, replay},
		"from before a restored backup":      {desk, 9, time.Minute, rotate},
		"ended":                              {ended, 5, time.Minute, over},
		"an old one of an ended":             {ended, 3, time.Minute, over},
		"phone: the newest, after 60 days":   {phone, 5, 60 * 24 * time.Hour, rotate},
		"phone: a lost answer after 60 days": {phone, 4, 60 * 24 * time.Hour, repeat},
		"phone: older":                       {phone, 3, time.Second, replay},
		"phone: after 90 days":               {phone, 5, 90 * 24 * time.Hour, over},
	} {
		require.Equal(t, c.want, c.x.judge(c.generation, noon.Add(c.after)), name)
	}
}

func TestMayManage(t *testing.T) {
	admin, branchAdmin := farm.Grant{Role: farm.Administrator}, farm.Grant{Role: farm.Administrator, BranchID: "b1"}
	advisor, elsewhere := farm.Grant{Role: farm.Advisor, BranchID: "b1"}, farm.Grant{Role: farm.Advisor, BranchID: "b2"}
	manager, caretaker := farm.Grant{Role: farm.Manager}, farm.Grant{Role: farm.Caretaker}
	for name, c := range map[string]struct {
		who, of []farm.Grant
		may     bool
	}{
		"advisor, caretaker":                       {[]farm.Grant{advisor}, []farm.Grant{caretaker}, true},
		"caretaker, caretaker":                     {[]farm.Grant{caretaker}, []farm.Grant{caretaker}, false},
		"owner, nobody":                            {[]farm.Grant{{Role: farm.Owner}}, nil, false},
		"manager, advisor":                         {[]farm.Grant{manager}, []farm.Grant{advisor}, false},
		"administrator, advisor":                   {[]farm.Grant{admin}, []farm.Grant{advisor}, true},
		"branch administrator, advisor":            {[]farm.Grant{branchAdmin}, []farm.Grant{advisor}, true},
		"branch administrator, advisor of another": {[]farm.Grant{branchAdmin}, []farm.Grant{elsewhere}, false},
		"branch administrator, of both":            {[]farm.Grant{branchAdmin}, []farm.Grant{advisor, elsewhere}, false},
		"branch administrator, the firm's":         {[]farm.Grant{branchAdmin}, []farm.Grant{admin}, false},
		"branch administrator, advisor as keeper":  {[]farm.Grant{branchAdmin}, []farm.Grant{advisor, caretaker}, true},
		"nobody, caretaker":                        {nil, []farm.Grant{caretaker}, false},
	} {
		err := mayManage(app.Actor{PersonID: "p", Grants: c.who}, farm.Person{Grants: c.of})
		require.Equal(t, c.may, err == nil, name)
	}
	require.NoError(t, mayManage(app.System, farm.Person{Grants: []farm.Grant{admin}}))
}

func TestShorten(t *testing.T) {
	require.Equal(t, "ab", shorten("abc", 2))
	require.Equal(t, "éà", shorten("éàü", 2))
	require.Equal(t, "ab", shorten("a\x00b\xff", 10))
}
