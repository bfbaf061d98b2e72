package api

import (
	"context"
	"encoding/json"
	"errors"
	"log/slog"
	"maps"
	"net/http"
	"strings"

	"tendfold/domain"
	"tendfold/server/app/signin"

	"github.com/danielgtaylor/huma/v2"
)

// Problem is an RFC 9457 problem detail. Type is /problems/<code>; Fields
// name each wrong value without repeating it, so that a refused password
// never comes back.
type Problem struct {
	Type   string         `json:"type" example:"/problems/farm-not-found"`
	Title  string         `json:"title" example:"Not found"`
	Status int            `json:"status" example:"404"`
	Code   string         `json:"code" example:"farm-not-found"`
	Detail string         `json:"detail" doc:"What was wrong and what to do."`
	Fields []domain.Field `json:"fields,omitempty"`
}

// Error makes a Problem an error, as huma wants it.
func (p *Problem) Error() string { return p.Code + ": " + p.Detail }

// GetStatus is the HTTP status.
func (p *Problem) GetStatus() int { return p.Status }

// GetHeaders says when to come back, where waiting helps.
func (p *Problem) GetHeaders() http.Header {
	h := http.Header{}
	if p.Status == http.StatusServiceUnavailable || p.Status == http.StatusTooManyRequests {
		h.Set("Retry-After", p.retryAfter())
	}
	return h
}

// retryAfter is in seconds: what the problem says itself, else a little.
func (p *Problem) retryAfter() string {
	for _, f := range p.Fields {
		if f.Code == signin.WaitCode {
			return f.Text
		}
	}
	return retryAfter
}

// ContentType turns application/json into the problem's own media type.
func (p *Problem) ContentType(ct string) string {
	if ct == "application/json" {
		return "application/problem+json"
	}
	return ct
}

var statusOf = map[domain.Kind]int{
	domain.KindInvalid:         http.StatusUnprocessableEntity,
	domain.KindMalformed:       http.StatusBadRequest,
	domain.KindUnauthenticated: http.StatusUnauthorized,
	domain.KindForbidden:       http.StatusForbidden,
	domain.KindNotFound:        http.StatusNotFound,
	domain.KindConflict:        http.StatusConflict,
	domain.KindStale:           http.StatusPreconditionFailed,
	domain.KindTooLarge:        http.StatusRequestEntityTooLarge,
	domain.KindNoPrecondition:  http.StatusPreconditionRequired,
	domain.KindTooMany:         http.StatusTooManyRequests,
	domain.KindBusy:            http.StatusServiceUnavailable,
}

// problem turns any error into a Problem. What is not ours is logged here,
// once, and tells the caller nothing of our insides.
func problem(ctx context.Context, err error) *Problem {
	var e *domain.Error
	if !errors.As(err, &e) || e.Kind == domain.KindInternal {
		slog.ErrorContext(ctx, "unexpected failure", "id", idOf(ctx), "error", err)
		return &Problem{
			Type: "/problems/internal", Title: "Internal error", Status: http.StatusInternalServerError, Code: "internal",
			Detail: "Something went wrong on our side; nothing was changed. Try again, and tell us if it happens twice.",
		}
	}
	status := statusOf[e.Kind]
	return &Problem{
		Type: "/problems/" + e.Code, Title: http.StatusText(status), Status: status,
		Code: e.Code, Detail: e.Text, Fields: e.Fields,
	}
}

// humaError replaces huma's own error maker: same form, no rejected values.
func humaError(status int, msg string, errs ...error) huma.StatusError {
	for _, err := range errs {
		if p, ok := errors.AsType[*Problem](err); ok {
			return p
		}
		if d, ok := errors.AsType[*domain.Error](err); ok {
			return problem(context.Background(), d)
		}
	}
	code := codeOfStatus(status)
	p := &Problem{Type: "/problems/" + code, Title: http.StatusText(status), Status: status, Code: code, Detail: whatToDo(status, msg)}
	for _, err := range errs {
		if detail, ok := errors.AsType[*huma.ErrorDetail](err); ok {
			p.Fields = append(p.Fields, domain.Field{Path: strings.TrimPrefix(detail.Location, "body."), Code: "invalid", Text: detail.Message})
		}
	}
	return p
}

// whatToDo adds to huma's words what they leave out.
func whatToDo(status int, msg string) string {
	switch status {
	case http.StatusUnprocessableEntity:
		return "Nothing was changed: some of what was sent cannot be taken. The fields say which and why; put them right and send it again."
	case http.StatusBadRequest:
		return "Nothing was changed: what was sent cannot be read. The fields say where; write it as JSON as /openapi.json describes it."
	case http.StatusUnsupportedMediaType:
		return "Nothing was changed: send the body as JSON, with Content-Type: application/json (a register as multipart/form-data)."
	case http.StatusRequestEntityTooLarge:
		return "Nothing was changed: more was sent at once than is taken (" + msg + "). Send it in smaller parts."
	}
	return msg
}

func codeOfStatus(status int) string {
	switch status {
	case http.StatusBadRequest:
		return "malformed"
	case http.StatusUnprocessableEntity:
		return "invalid"
	}
	return strings.ReplaceAll(strings.ToLower(http.StatusText(status)), " ", "-")
}

// writeProblem answers outside huma: middleware, unknown addresses.
func writeProblem(w http.ResponseWriter, p *Problem) {
	w.Header().Set("Content-Type", "application/problem+json")
	maps.Copy(w.Header(), p.GetHeaders())
	w.WriteHeader(p.Status)
	if err := json.NewEncoder(w).Encode(p); err != nil {
		slog.Warn("could not write a problem", "error", err)
	}
}
