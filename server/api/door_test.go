package api

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"testing"
	"time"

	"github.com/gin-gonic/gin"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var noon = time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)

func TestThrottle(t *testing.T) {
	th := newThrottle()
	for range doorBurst {
		require.True(t, th.take("a", noon))
	}
	require.False(t, th.take("a", noon))
	require.True(t, th.take("b", noon), "each network for itself")
	require.False(t, th.take("a", noon.Add(400*time.Millisecond)))
	require.True(t, th.take("a", noon.Add(time.Second)), "two a second come back")
	require.True(t, th.take("a", noon.Add(time.Second)))
	require.False(t, th.take("a", noon.Add(-time.Hour)), "a clock that jumps back gives nothing")
}

// Whatever the times, a network gets no more than burst + rate x time, and
// memory is bounded.
func TestThrottleIsBounded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		th := newThrottle()
		th.most = 8
		at, taken := noon, 0
		for range rapid.IntRange(1, 300).Draw(t, "requests") {
			at = at.Add(time.Duration(rapid.IntRange(0, 2000).Draw(t, "ms")) * time.Millisecond)
			if th.take("a", at) {
				taken++
			}
		}
		require.LessOrEqual(t, float64(taken), doorBurst+doorRate*at.Sub(noon).Seconds())
		for i := range 50 {
			th.take(fmt.Sprint("n", i), at)
			require.LessOrEqual(t, len(th.seen), th.most)
		}
	})
}

// ASVS 5.0.0 3.3.1 to 3.3.4.
func TestCookies(t *testing.T) {
	safe, plain := door{secure: true}, door{}
	c := safe.cookie(sessionCookie, "x", time.Hour)
	require.Equal(t, "__Host-tendfold=x; Path=/; Max-Age=3600; HttpOnly; Secure; SameSite=Strict", c.String())
	c = plain.cookie(sessionCookie, "x", time.Hour)
	require.Equal(t, "tendfold=x; Path=/; Max-Age=3600; HttpOnly; SameSite=Strict", c.String())
	c = safe.cookie(sessionCookie, "", time.Hour)
	require.Equal(t, "__Host-tendfold=; Path=/; Max-Age=0; HttpOnly; Secure; SameSite=Strict", c.String())

	r := httptest.NewRequest(http.MethodPost, "/api/refresh", nil)
	r.Header.Set("Cookie", "tendfold=planted; __Host-tendfold=ours")
	require.Equal(t, "ours", safe.read(r, sessionCookie), "over https only the name that nobody else can set")
	require.Equal(t, "planted", plain.read(r, sessionCookie))
}

func TestSameOrigin(t *testing.T) {
	gin.SetMode(gin.ReleaseMode)
	for name, c := range map[string]struct {
		method  string
		headers map[string]string
		status  int
	}{
		"our own page":               {"POST", map[string]string{"Sec-Fetch-Site": "same-origin"}, 200},
		"typed by hand":              {"POST", map[string]string{"Sec-Fetch-Site": "none"}, 200},
		"another site":               {"POST", map[string]string{"Sec-Fetch-Site": "cross-site"}, 403},
		"another host of our domain": {"POST", map[string]string{"Sec-Fetch-Site": "same-site"}, 403},
		"an older browser":           {"POST", map[string]string{"Origin": "http://farm.example"}, 200},
		"an older one, elsewhere":    {"POST", map[string]string{"Origin": "https://evil.example"}, 403},
		"a sandboxed page":           {"POST", map[string]string{"Origin": "null"}, 403},
		"through a proxy":            {"DELETE", map[string]string{"Origin": "https://public.example"}, 200},
		"a program":                  {"PUT", nil, 200},
		"reading":                    {"GET", map[string]string{"Sec-Fetch-Site": "cross-site"}, 200},
	} {
		t.Run(name, func(t *testing.T) {
			router := gin.New()
			router.Use(Face{PublicURL: "https://public.example/app"}.sameOrigin())
			router.Any("/api/x", func(c *gin.Context) { c.Status(http.StatusOK) })
			r := httptest.NewRequest(c.method, "http://farm.example/api/x", nil)
			for k, v := range c.headers {
				r.Header.Set(k, v)
			}
			w := httptest.NewRecorder()
			router.ServeHTTP(w, r)
			require.Equal(t, c.status, w.Code)
		})
	}
}

func TestIsDoor(t *testing.T) {
	for path, want := range map[string]bool{
		"/api/sign-in": true, "/api/sign-in/phone": true, "/api/way-in/look": true, "/api/nonce": true, "/api/first-run": true,
		"/api/refresh": false, "/api/sign-out": false, "/api/farms": false, "/": false,
	} {
		require.Equal(t, want, isDoor(path), path)
	}
}

func FuzzCookieHeader(f *testing.F) {
	f.Add("tendfold=a.1.k.m")
	f.Add("tendfold=; tendfold=\"x\"; ;=;")
	f.Fuzz(func(t *testing.T, header string) {
		r := httptest.NewRequest(http.MethodPost, "/api/refresh", nil)
		r.Header.Set("Cookie", header)
		_ = door{}.read(r, sessionCookie)
	})
}
