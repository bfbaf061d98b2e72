package api

import (
	"compress/gzip"
	"net/http"
	"slices"
	"strings"

	"github.com/gin-gonic/gin"
)

// phonesOwn are the answers that a phone asks for again and again.
var phonesOwn = []string{"/api/today", "/api/book", "/api/first-steps", "/api/sync"}

// packed compresses the triage cards and what a phone pays for: the lessons,
// the caretaker's day and the receipts of its entries. They hold no key, and of
// the request only ids that its sender made, so their length helps nobody to a
// secret.
func packed(c *gin.Context) {
	path := c.Request.URL.Path
	paid := strings.HasPrefix(path, "/api/lessons/") || strings.HasPrefix(path, "/api/triage/") || slices.Contains(phonesOwn, path)
	if !paid || !takesGzip(c.GetHeader("Accept-Encoding")) {
		c.Next()
		return
	}
	w := &packedWriter{ResponseWriter: c.Writer}
	c.Writer.Header().Add("Vary", "Accept-Encoding")
	c.Writer = w
	c.Next()
	w.close()
}

// takesGzip reads an Accept-Encoding header (RFC 9110 section 12.5.3).
func takesGzip(header string) bool {
	return slices.ContainsFunc(strings.Split(header, ","), func(each string) bool {
		name, weight, _ := strings.Cut(strings.TrimSpace(each), ";")
		none := strings.HasPrefix(strings.ReplaceAll(weight, " ", ""), "q=0") && strings.Trim(weight, " q=0.") == ""
		return strings.EqualFold(strings.TrimSpace(name), "gzip") && !none
	})
}

// packedWriter compresses from the first byte of a whole answer on; one
// without a body stays without.
type packedWriter struct {
	gin.ResponseWriter
	zip *gzip.Writer
}

func (w *packedWriter) Write(b []byte) (int, error) {
	if w.Status() != http.StatusOK {
		return w.ResponseWriter.Write(b)
	}
	if w.zip == nil {
		w.Header().Set("Content-Encoding", "gzip")
		w.Header().Del("Content-Length")
		w.zip, _ = gzip.NewWriterLevel(w.ResponseWriter, gzip.BestCompression) // the level is one of gzip's own
	}
	return w.zip.Write(b)
}

func (w *packedWriter) WriteString(s string) (int, error) { return w.Write([]byte(s)) }

func (w *packedWriter) close() {
	if w.zip != nil {
		_ = w.zip.Close() // the connection is gone when this fails
	}
}
