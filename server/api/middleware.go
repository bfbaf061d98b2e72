package api

import (
	"context"
	"log/slog"
	"runtime/debug"
	"strings"
	"time"

	"tendfold/domain"

	"github.com/gin-gonic/gin"
	"github.com/google/uuid"
)

type requestKey struct{}

// requestID gives every request an id, for the log and for whoever reports
// trouble.
func requestID(c *gin.Context) {
	id := uuid.NewString()
	c.Writer.Header().Set("X-Request-Id", id)
	c.Request = c.Request.WithContext(context.WithValue(c.Request.Context(), requestKey{}, id))
	c.Next()
}

func idOf(ctx context.Context) string {
	id, _ := ctx.Value(requestKey{}).(string)
	return id
}

// logged writes one line a request: never a query, a body or a header, where
// secrets and phone numbers may be.
func logged(c *gin.Context) {
	from := time.Now()
	c.Next()
	level := slog.LevelDebug
	if c.Writer.Status() >= 500 {
		level = slog.LevelWarn
	}
	slog.Log(c.Request.Context(), level, "request", "id", idOf(c.Request.Context()), "method", c.Request.Method,
		"path", c.FullPath(), "status", c.Writer.Status(), "ms", time.Since(from).Milliseconds())
}

// recovered turns a panic into a problem and a line in the log.
func recovered(c *gin.Context) {
	defer func() {
		if r := recover(); r != nil {
			slog.Error("panic", "id", idOf(c.Request.Context()), "what", r, "stack", string(debug.Stack()))
			writeProblem(c.Writer, problem(c.Request.Context(), &domain.Error{Kind: domain.KindInternal, Code: "panic"}))
			c.Abort()
		}
	}()
	c.Next()
}

// secured sets what every API answer carries. The web app sets its own.
func secured(c *gin.Context) {
	if isAPI(c.Request.URL.Path) {
		h := c.Writer.Header()
		h.Set("Cache-Control", "no-store")
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Content-Security-Policy", "default-src 'none'; frame-ancestors 'none'")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		if c.Request.TLS != nil || c.GetHeader("X-Forwarded-Proto") == "https" {
			h.Set("Strict-Transport-Security", "max-age=31536000; includeSubDomains")
		}
	}
	c.Next()
}

func isAPI(path string) bool { return path == "/api" || strings.HasPrefix(path, "/api/") }

// retryAfter is how long a caller waits when we are busy, in seconds.
const retryAfter = "2"
