package api

import (
	"compress/flate"
	"compress/gzip"
	"errors"
	"io"
	"net/http"
	"slices"
	"strings"

	"tendfold/domain"

	"github.com/gin-gonic/gin"
)

// packedBodies are the requests that a phone may send compressed: what it
// pays for most often.
var packedBodies = []string{"/api/sync", "/api/sync/sealed"}

// inflated reads bodies that come compressed (RFC 9110 section 8.4). They
// are inflated while the operation reads them, after it is known who sends
// them, and its bound holds for what comes out: a small body that would become
// a large one is refused once it has become too large.
func inflated(c *gin.Context) {
	coding := strings.ToLower(strings.TrimSpace(c.GetHeader("Content-Encoding")))
	takes := slices.Contains(packedBodies, c.Request.URL.Path)
	switch {
	case coding == "" || coding == "identity":
	case coding == "gzip" && takes:
		c.Request.Body = &inflating{from: c.Request.Body}
		c.Request.ContentLength = -1
		c.Request.Header.Del("Content-Encoding")
	default:
		refuseCoding(c, takes)
		return
	}
	c.Next()
}

// refuseCoding says which coding is taken, as RFC 9110 section 15.5.16 asks.
func refuseCoding(c *gin.Context, takesGzip bool) {
	taken, todo := "identity", "Nothing was changed: send the body as it is, without Content-Encoding."
	if takesGzip {
		taken, todo = "gzip", "Nothing was changed: send the body as it is, or compressed with Content-Encoding: gzip."
	}
	c.Header("Accept-Encoding", taken)
	status := http.StatusUnsupportedMediaType
	writeProblem(c.Writer, &Problem{
		Type: "/problems/content-encoding", Title: http.StatusText(status), Status: status, Code: "content-encoding", Detail: todo,
	})
	c.Abort()
}

// inflating is a compressed body that is read inflated. What cannot be
// inflated is the sender's fault, and said so.
type inflating struct {
	from io.ReadCloser
	zip  *gzip.Reader
}

func (b *inflating) Read(p []byte) (int, error) {
	if b.zip == nil {
		zip, err := gzip.NewReader(b.from)
		if err != nil {
			return 0, spoilt(err)
		}
		b.zip = zip
	}
	n, err := b.zip.Read(p)
	return n, spoilt(err)
}

func (b *inflating) Close() error { return b.from.Close() }

// spoilt puts what gzip finds wrong with the bytes into words; a line that
// breaks stays what it is.
func spoilt(err error) error {
	var corrupt flate.CorruptInputError
	bad := errors.Is(err, gzip.ErrHeader) || errors.Is(err, gzip.ErrChecksum) || errors.As(err, &corrupt) ||
		errors.Is(err, io.ErrUnexpectedEOF)
	if !bad {
		return err
	}
	return &domain.Error{
		Kind: domain.KindMalformed, Code: "content-encoding", Err: err,
		Text: "Nothing was changed: the body says that it is compressed by gzip and cannot be inflated. Send it again, or send it as it is.",
	}
}
