// Package domain holds what the rooms below it share: the one error type of
// the house and the reason code that every decision carries. Its
// sub-packages decide; nothing in them reads a clock, a file or a network.
package domain

import (
	"errors"
	"fmt"
	"strings"
)

// Kind says what sort of trouble an Error is; server/api turns it into an
// HTTP status and nothing else does.
type Kind int

// The kinds of trouble.
const (
	KindInternal        Kind = iota // a fault of ours: 500, nothing internal told
	KindInvalid                     // understood, but a value cannot be: 422
	KindMalformed                   // not readable at all: 400
	KindUnauthenticated             // who are you: 401
	KindForbidden                   // not yours to do: 403
	KindNotFound                    // no such thing, or not one that you may know of: 404
	KindConflict                    // true at the time, but something else holds: 409
	KindStale                       // the thing has changed since you read it: 412
	KindTooLarge                    // more than we take in one piece: 413
	KindNoPrecondition              // say which version you mean (If-Match): 428
	KindTooMany                     // slow down: 429
	KindBusy                        // try again shortly: 503
)

// Field names one wrong value. Path is dotted (units.0.length), Code is a
// stable word that the screens translate, Text is plain English for people
// who read the API.
type Field struct {
	Path string `json:"path"`
	Code string `json:"code"`
	Text string `json:"text"`
}

// Error is the only error type that crosses rooms. Code is stable and short
// ("ticket-move-not-allowed"); it becomes /problems/<code>. Text says what
// was wrong and what to do, in plain English, without blame.
type Error struct {
	Kind   Kind
	Code   string
	Text   string
	Fields []Field
	Err    error
}

func (e *Error) Error() string {
	var b strings.Builder
	b.WriteString(e.Code)
	if e.Text != "" {
		b.WriteString(": " + e.Text)
	}
	for _, f := range e.Fields {
		fmt.Fprintf(&b, "; %s: %s", f.Path, f.Text)
	}
	if e.Err != nil {
		b.WriteString(": " + e.Err.Error())
	}
	return b.String()
}

// Unwrap gives the error underneath, which is logged and never sent.
func (e *Error) Unwrap() error { return e.Err }

// KindOf is the kind of err, KindInternal when it is not one of ours.
func KindOf(err error) Kind {
	if e, ok := errors.AsType[*Error](err); ok {
		return e.Kind
	}
	return KindInternal
}

// CodeOf is the code of err, "" when it is not one of ours.
func CodeOf(err error) string {
	if e, ok := errors.AsType[*Error](err); ok {
		return e.Code
	}
	return ""
}

// Invalid is an error of KindInvalid with its fields.
func Invalid(code, text string, fields ...Field) *Error {
	return &Error{Kind: KindInvalid, Code: code, Text: text, Fields: fields}
}

// NotFound is an error of KindNotFound: what is a word such as "farm".
func NotFound(what string) *Error {
	return &Error{Kind: KindNotFound, Code: what + "-not-found", Text: "There is no such " + what + " here. Check the address or go back to the list."}
}

// Forbidden is an error of KindForbidden.
func Forbidden(text string) *Error {
	return &Error{Kind: KindForbidden, Code: "forbidden", Text: text}
}

// Conflict is an error of KindConflict.
func Conflict(code, text string) *Error {
	return &Error{Kind: KindConflict, Code: code, Text: text}
}

// Stale is the error of a write that named an old version.
func Stale() *Error {
	return &Error{Kind: KindStale, Code: "stale", Text: "Someone has changed this since you opened it. Read it again, then make your change."}
}

// Reason is why something was decided: a stable code that each screen puts
// into words, and the values that the sentence needs (numbers keep the
// measure that their name ends in: days, percent, g). Values hold only
// strings, float64, int, bool and dates as strings, so that they survive
// JSON unchanged.
type Reason struct {
	Code   string         `json:"code"`
	Values map[string]any `json:"values,omitempty"`
}
