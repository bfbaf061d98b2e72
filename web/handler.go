package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"strings"
	"time"
)

const (
	year    = "public, max-age=31536000, immutable"
	noCache = "no-cache"
)

// policy allows what the app is made of and nothing else: no inline script,
// no inline style, no other host.
const policy = "default-src 'self'; img-src 'self' blob: data:; media-src 'self' blob:; " +
	"object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"

// Not every machine's mime table knows these.
var types = map[string]string{
	".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8", ".html": "text/html; charset=utf-8",
	".svg": "image/svg+xml", ".webmanifest": "application/manifest+json", ".json": "application/json",
}

// Handler serves the app on every path that the API leaves over. Files under
// /assets carry a hash in their name and may be kept for a year; all else is
// asked for again each time. A path that names no file is a page of the app,
// so it gets index.html, unless it looks like a file (under /assets or with a
// dot): then it is 404, for a page in place of a script helps nobody.
func Handler() http.Handler { return handler(Files()) }

func handler(files fs.FS) http.Handler {
	serve := notBuilt
	if built(files) {
		serve = app(files)
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		secure(w.Header())
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			w.Header().Set("Allow", "GET, HEAD")
			http.Error(w, "This address only answers GET and HEAD.", http.StatusMethodNotAllowed)
			return
		}
		serve(w, r)
	})
}

func secure(h http.Header) {
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Permissions-Policy", "camera=(self), microphone=(self), geolocation=(self)")
}

func app(files fs.FS) http.HandlerFunc {
	tags := tagsOf(files)
	return func(w http.ResponseWriter, r *http.Request) {
		name := strings.TrimPrefix(path.Clean("/"+r.URL.Path), "/")
		_, known := tags[name]
		if !known || strings.HasSuffix(name, ".br") {
			if looksLikeFile(name) {
				http.NotFound(w, r)
				return
			}
			name = "index.html"
		}
		sendFile(w, r, files, tags, name)
	}
}

func looksLikeFile(name string) bool {
	return name == "assets" || strings.HasPrefix(name, "assets/") || strings.Contains(name, ".")
}

func sendFile(w http.ResponseWriter, r *http.Request, files fs.FS, tags map[string]string, name string) {
	h := w.Header()
	h.Set("Content-Type", typeOf(name))
	h.Set("Cache-Control", noCache)
	if strings.HasPrefix(name, "assets/") {
		h.Set("Cache-Control", year)
	}
	stored := name
	if _, ok := tags[name+".br"]; ok {
		h.Set("Vary", "Accept-Encoding")
		if acceptsBrotli(r.Header.Values("Accept-Encoding")) {
			stored = name + ".br"
			h.Set("Content-Encoding", "br")
		}
	}
	h.Set("ETag", tags[stored])
	body, err := fs.ReadFile(files, stored)
	if err != nil {
		http.Error(w, "This file cannot be read.", http.StatusInternalServerError)
		return
	}
	http.ServeContent(w, r, name, time.Time{}, bytes.NewReader(body))
}

func typeOf(name string) string {
	if t, ok := types[path.Ext(name)]; ok {
		return t
	}
	if t := mime.TypeByExtension(path.Ext(name)); t != "" {
		return t
	}
	return "application/octet-stream"
}

// acceptsBrotli reads Accept-Encoding (RFC 9110, 12.5.3) as far as needed:
// br is named and not refused by q=0.
func acceptsBrotli(headers []string) bool {
	for coding := range strings.SplitSeq(strings.Join(headers, ","), ",") {
		name, q, _ := strings.Cut(strings.ToLower(strings.TrimSpace(coding)), ";")
		if strings.TrimSpace(name) != "br" {
			continue
		}
		q = strings.ReplaceAll(q, " ", "")
		return q == "" || strings.Trim(strings.TrimPrefix(q, "q="), "0.") != ""
	}
	return false
}

// tagsOf gives every file its ETag, worked out once: a phone that asks for
// index.html again gets 304 and no bytes.
func tagsOf(files fs.FS) map[string]string {
	tags := map[string]string{}
	_ = fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || path.Base(name) == ".gitkeep" {
			return err
		}
		body, err := fs.ReadFile(files, name)
		sum := sha256.Sum256(body)
		tags[name] = `"` + hex.EncodeToString(sum[:12]) + `"`
		return err
	})
	return tags
}

const notBuiltPage = `<!doctype html>
<html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>Tendfold: the screens are not built</title>
<h1>The screens are not built into this program</h1>
<p>The server runs and its API answers. To have the screens too, run <code>make web</code> and then build the program again.</p>
<p lang="fr">Le serveur fonctionne et son API répond. Pour avoir aussi les écrans, lancez <code>make web</code>, puis reconstruisez le programme.</p>
</html>
`

func notBuilt(w http.ResponseWriter, _ *http.Request) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Cache-Control", noCache)
	w.WriteHeader(http.StatusServiceUnavailable)
	_, _ = w.Write([]byte(notBuiltPage))
}
