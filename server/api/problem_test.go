package api_test

import (
	"strings"
	"testing"

	"tendfold/server/api"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

// What cannot be taken is a problem detail (RFC 9457) that says what to do,
// names the field, and does not repeat the value.
func TestWhatCannotBeTakenSaysWhatToDo(t *testing.T) {
	h := housetest.Lite(t)
	for name, c := range map[string]struct {
		do     func(*housetest.Client) *housetest.Answer
		status int
		code   string
		says   string
	}{
		"a list of -1 lines": {func(c *housetest.Client) *housetest.Answer { return c.Get("/api/farms?limit=-1") }, 422, "invalid", "put them right"},
		"half a body":        {func(c *housetest.Client) *housetest.Answer { return c.Post("/api/calls", []byte(`{"said":"secret`)) }, 400, "malformed", "cannot be read"},
		"a field left out":   {func(c *housetest.Client) *housetest.Answer { return c.Post("/api/calls", []byte(`{}`)) }, 422, "invalid", "put them right"},
		"two million letters": {func(c *housetest.Client) *housetest.Answer {
			return c.Post("/api/calls", []byte(`"`+strings.Repeat("a", 2<<20)+`"`))
		}, 413, "request-entity-too-large", "smaller parts"},
		"another's cursor": {func(c *housetest.Client) *housetest.Answer { return c.Get("/api/farms?cursor=zzz") }, 400, "cursor", "Leave it out"},
		"no such address":  {func(c *housetest.Client) *housetest.Answer { return c.Get("/api/nothing") }, 404, "no-such-address", "/openapi.json"},
		"a wrong method":   {func(c *housetest.Client) *housetest.Answer { return c.Delete("/api/farms") }, 405, "wrong-method", "DELETE"},
	} {
		t.Run(name, func(t *testing.T) {
			a := c.do(h.As("mo"))
			a.Is(c.status, c.code)
			require.Contains(t, housetest.Read[api.Problem](a).Detail, c.says)
			require.NotContains(t, string(a.Body), "secret")
		})
	}
}
