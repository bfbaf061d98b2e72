package api

import (
	"context"
	"net/http"
	"net/netip"
	"strings"
	"time"

	"tendfold/domain"
	"tendfold/server/app/signin"

	"github.com/gin-gonic/gin"
)

// The cookies of the door: the refresh token, and the mark of a browser in
// which somebody has signed in before. No script can read them. Over https
// their names begin with __Host-, which keeps other hosts and plain http from
// setting them; plain http is for localhost only.
const (
	sessionCookie = "tendfold"
	browserCookie = "tendfold-browser"
	hostPrefix    = "__Host-"
	browserLife   = 180 * 24 * time.Hour
)

type doorKey struct{}

// door is what a request says of where it comes from.
type door struct {
	network string // see signin.Network
	agent   string
	session string // refresh token, "" = none
	browser string // mark of a known browser, "" = none
	secure  bool   // the browser speaks https
}

func doorOf(ctx context.Context) door {
	d, _ := ctx.Value(doorKey{}).(door)
	return d
}

// atDoor reads the network and the cookies, for the few operations that go by
// them. The client's address is the one that gin tells by the trusted proxies.
func (f Face) atDoor(c *gin.Context) {
	d := door{agent: c.Request.UserAgent(), secure: f.Secure || c.Request.TLS != nil}
	if addr, err := netip.ParseAddr(c.ClientIP()); err == nil {
		d.network = signin.Network(addr)
	}
	d.session, d.browser = d.read(c.Request, sessionCookie), d.read(c.Request, browserCookie)
	c.Request = c.Request.WithContext(context.WithValue(c.Request.Context(), doorKey{}, d))
	c.Next()
}

func (d door) name(cookie string) string {
	if d.secure {
		return hostPrefix + cookie
	}
	return cookie
}

func (d door) read(r *http.Request, cookie string) string {
	c, err := r.Cookie(d.name(cookie))
	if err != nil {
		return ""
	}
	return c.Value
}

// cookie is one to set; an empty value takes it away.
func (d door) cookie(name, value string, life time.Duration) http.Cookie {
	age := int(life.Seconds())
	if value == "" {
		age = -1
	}
	return http.Cookie{
		Name: d.name(name), Value: value, Path: "/", MaxAge: age,
		HttpOnly: true, Secure: d.secure, SameSite: http.SameSiteStrictMode,
	}
}

// sameOrigin refuses what another site's page makes a browser send: changes
// whose Sec-Fetch-Site or Origin is not ours (ASVS 5.0.0 3.5.1). Programs
// that are no browsers send neither, and carry no cookies of others.
func (f Face) sameOrigin() gin.HandlerFunc {
	check := http.NewCrossOriginProtection()
	if f.PublicURL != "" {
		if err := check.AddTrustedOrigin(origin(f.PublicURL)); err != nil {
			panic(err) // checked when the settings were read
		}
	}
	return func(c *gin.Context) {
		if err := check.Check(c.Request); err != nil {
			writeProblem(c.Writer, problem(c.Request.Context(), &domain.Error{
				Kind: domain.KindForbidden, Code: "other-site", Text: "This request came from another site's page. Open Tendfold itself and try again.",
			}))
			c.Abort()
			return
		}
		c.Next()
	}
}

// origin is the scheme and host of a URL.
func origin(url string) string {
	scheme, rest, _ := strings.Cut(url, "://")
	host, _, _ := strings.Cut(rest, "/")
	return scheme + "://" + host
}

// isDoor says whether an address is one at which strangers knock.
func isDoor(path string) bool {
	return path == "/api/sign-in" || path == "/api/nonce" || path == "/api/first-run" ||
		strings.HasPrefix(path, "/api/sign-in/") || strings.HasPrefix(path, "/api/certificates/") || strings.HasPrefix(path, "/api/way-in/")
}

// throttled lets a network knock only so often. Renewing a session is not
// knocking: its token is checked before anything is looked up.
func throttled() gin.HandlerFunc {
	t := newThrottle()
	return func(c *gin.Context) {
		if isDoor(c.Request.URL.Path) && !t.take(doorOf(c.Request.Context()).network, time.Now()) {
			writeProblem(c.Writer, problem(c.Request.Context(), &domain.Error{
				Kind: domain.KindTooMany, Code: "too-many-requests", Text: "Too many requests from this network. Wait a few seconds, then try again.",
			}))
			c.Abort()
			return
		}
		c.Next()
	}
}
