package housetest

import (
	"bytes"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"testing"

	"tendfold/server/api"

	"github.com/stretchr/testify/require"
)

// Client sends requests to a house as one person, or as nobody.
type Client struct {
	h      *House
	person string
}

// As is a client of a person who is signed in.
func (h *House) As(personID string) *Client { return &Client{h, personID} }

// Stranger is a client of nobody.
func (h *House) Stranger() *Client { return &Client{h: h} }

// Option sets a header of a request.
type Option func(http.Header)

// IfMatch names the version that a change is about.
func IfMatch(etag string) Option { return func(h http.Header) { h.Set("If-Match", etag) } }

// Key makes a create happen once.
func Key(key string) Option { return func(h http.Header) { h.Set("Idempotency-Key", key) } }

// Get asks.
func (c *Client) Get(path string, opts ...Option) *Answer {
	c.h.T.Helper()
	return c.Do(http.MethodGet, path, nil, opts...)
}

// Post sends a body as JSON; nil sends none.
func (c *Client) Post(path string, body any, opts ...Option) *Answer {
	c.h.T.Helper()
	return c.Do(http.MethodPost, path, body, opts...)
}

// Put sends a body as JSON.
func (c *Client) Put(path string, body any, opts ...Option) *Answer {
	c.h.T.Helper()
	return c.Do(http.MethodPut, path, body, opts...)
}

// Patch sends a body as JSON.
func (c *Client) Patch(path string, body any, opts ...Option) *Answer {
	c.h.T.Helper()
	return c.Do(http.MethodPatch, path, body, opts...)
}

// Delete takes away.
func (c *Client) Delete(path string, opts ...Option) *Answer {
	c.h.T.Helper()
	return c.Do(http.MethodDelete, path, nil, opts...)
}

// Do sends a request. A body of []byte goes as it is, any other as JSON.
func (c *Client) Do(method, path string, body any, opts ...Option) *Answer {
	c.h.T.Helper()
	raw, ok := body.([]byte)
	if !ok && body != nil {
		var err error
		raw, err = json.Marshal(body)
		require.NoError(c.h.T, err)
	}
	r := httptest.NewRequestWithContext(c.h.T.Context(), method, path, bytes.NewReader(raw))
	if body != nil {
		r.Header.Set("Content-Type", "application/json")
	}
	if c.person != "" {
		r.Header.Set("Authorization", "Bearer "+c.h.token(c.person))
	}
	for _, o := range opts {
		o(r.Header)
	}
	w := httptest.NewRecorder()
	c.h.handler.ServeHTTP(w, r)
	return &Answer{t: c.h.T, what: c.person + " " + method + " " + path, Status: w.Code, Header: w.Header(), Body: w.Body.Bytes()}
}

// Answer is what the house answered.
type Answer struct {
	t      testing.TB
	what   string
	Status int
	Header http.Header
	Body   []byte
}

// OK fails the test unless the request was done.
func (a *Answer) OK() *Answer {
	a.t.Helper()
	require.Less(a.t, a.Status, 300, "%s: %s", a.what, a.Body)
	return a
}

// Is fails the test unless the answer is a problem with this status and code.
func (a *Answer) Is(status int, code string) *Answer {
	a.t.Helper()
	require.Equal(a.t, status, a.Status, "%s: %s", a.what, a.Body)
	require.Equal(a.t, "application/problem+json", a.Header.Get("Content-Type"), a.what)
	p := Read[api.Problem](a)
	require.Equal(a.t, code, p.Code, "%s: %s", a.what, a.Body)
	return a
}

// ETag is the version that the answer carries.
func (a *Answer) ETag() string {
	a.t.Helper()
	tag := a.OK().Header.Get("ETag")
	require.NotEmpty(a.t, tag, a.what)
	return tag
}

// Read reads the body of an answer.
func Read[T any](a *Answer) T {
	a.t.Helper()
	var v T
	require.NoError(a.t, json.Unmarshal(a.Body, &v), "%s: %s", a.what, a.Body)
	return v
}

// Token is the client's access token, for requests that go another way.
func (c *Client) Token() string {
	c.h.T.Helper()
	return c.h.token(c.person)
}
