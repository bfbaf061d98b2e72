package web

import (
	"net/http"
	"net/http/httptest"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"
)

var sample = fstest.MapFS{
	".gitkeep":              {Data: nil},
	"index.html":            {Data: []byte("<html>page</html>")},
	"index.html.br":         {Data: []byte("page in brotli")},
	"sw.js":                 {Data: []byte("worker")},
	"manifest.webmanifest":  {Data: []byte("{}")},
	"icon.svg":              {Data: []byte("<svg/>")},
	"assets/app-1a2b.js":    {Data: []byte("script")},
	"assets/app-1a2b.js.br": {Data: []byte("script in brotli")},
}

func get(t *testing.T, h http.Handler, path string, headers ...string) *httptest.ResponseRecorder {
	t.Helper()
	r := httptest.NewRequestWithContext(t.Context(), http.MethodGet, path, nil)
	for i := 0; i < len(headers); i += 2 {
		r.Header.Add(headers[i], headers[i+1])
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func TestWhatEachPathGets(t *testing.T) {
	const page = "<html>page</html>"
	h := handler(sample)
	for _, c := range []struct {
		path, body, kind, cache string
		status                  int
	}{
		{"/", page, "text/html; charset=utf-8", noCache, 200},
		{"/index.html", page, "text/html; charset=utf-8", noCache, 200},
		{"/farms/0192", page, "text/html; charset=utf-8", noCache, 200},
		{"/today/", page, "text/html; charset=utf-8", noCache, 200},
		{"/sw.js", "worker", "text/javascript; charset=utf-8", noCache, 200},
		{"/manifest.webmanifest", "{}", "application/manifest+json", noCache, 200},
		{"/icon.svg", "<svg/>", "image/svg+xml", noCache, 200},
		{"/assets/app-1a2b.js", "script", "text/javascript; charset=utf-8", year, 200},
		{"/assets/app-old.js", "", "", "", 404},
		{"/assets/", "", "", "", 404},
		{"/assets", "", "", "", 404},
		{"/missing.png", "", "", "", 404},
		{"/.gitkeep", "", "", "", 404},
		{"/index.html.br", "", "", "", 404},
		{"/../../etc/passwd.txt", "", "", "", 404},
		{"/assets/../farms/1", page, "text/html; charset=utf-8", noCache, 200},
	} {
		t.Run(c.path, func(t *testing.T) {
			w := get(t, h, c.path)
			require.Equal(t, c.status, w.Code)
			if c.status == http.StatusOK {
				require.Equal(t, c.body, w.Body.String())
				require.Equal(t, c.kind, w.Header().Get("Content-Type"))
				require.Equal(t, c.cache, w.Header().Get("Cache-Control"))
			}
		})
	}
}

func TestBrotliOnlyWhereAccepted(t *testing.T) {
	h := handler(sample)
	for accept, want := range map[string]bool{
		"": false, "gzip": false, "gzip, deflate, br": true, "br;q=0": false, "br; q=0.0": false, "BR;q=0.5": true, "brotli": false,
	} {
		w := get(t, h, "/assets/app-1a2b.js", "Accept-Encoding", accept)
		require.Equal(t, want, w.Header().Get("Content-Encoding") == "br", accept)
		require.Equal(t, want, w.Body.String() == "script in brotli", accept)
		require.Equal(t, "Accept-Encoding", w.Header().Get("Vary"), "a cache must not mix the two")
		require.Equal(t, "text/javascript; charset=utf-8", w.Header().Get("Content-Type"))
	}
}

func TestUnchangedPageCostsNoBytes(t *testing.T) {
	h := handler(sample)
	plain := get(t, h, "/").Header().Get("ETag")
	packed := get(t, h, "/", "Accept-Encoding", "br").Header().Get("ETag")
	require.NotEqual(t, plain, packed)
	w := get(t, h, "/", "Accept-Encoding", "br", "If-None-Match", packed)
	require.Equal(t, http.StatusNotModified, w.Code)
	require.Zero(t, w.Body.Len())
}

func TestEveryAnswerIsSecured(t *testing.T) {
	for _, h := range []http.Handler{handler(sample), handler(fstest.MapFS{})} {
		w := get(t, h, "/")
		require.Contains(t, w.Header().Get("Content-Security-Policy"), "default-src 'self'")
		require.NotContains(t, w.Header().Get("Content-Security-Policy"), "unsafe")
		require.Equal(t, "nosniff", w.Header().Get("X-Content-Type-Options"))
		require.Equal(t, "no-referrer", w.Header().Get("Referrer-Policy"))
	}
}

func TestOtherMethodsAreRefused(t *testing.T) {
	w := httptest.NewRecorder()
	handler(sample).ServeHTTP(w, httptest.NewRequestWithContext(t.Context(), http.MethodPost, "/", nil))
	require.Equal(t, http.StatusMethodNotAllowed, w.Code)
	require.Equal(t, "GET, HEAD", w.Header().Get("Allow"))
}

func TestNotBuiltSaysHowToBuild(t *testing.T) {
	w := get(t, handler(fstest.MapFS{".gitkeep": {}}), "/farms/1")
	require.Equal(t, http.StatusServiceUnavailable, w.Code)
	require.Contains(t, w.Body.String(), "make web")
}

func TestHandlerServesWhatIsEmbedded(t *testing.T) {
	w := get(t, Handler(), "/")
	require.Equal(t, Built(), w.Code == http.StatusOK)
}
