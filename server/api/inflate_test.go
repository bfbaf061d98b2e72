package api_test

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"strings"
	"testing"

	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

// zipped is a body as a phone compresses it.
func zipped(t testing.TB, plain []byte) []byte {
	t.Helper()
	var out bytes.Buffer
	w := gzip.NewWriter(&out)
	_, err := w.Write(plain)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	return out.Bytes()
}

// packedSync sends bytes to sync under a Content-Encoding.
func packedSync(h *housetest.House, who, coding string, raw []byte) *housetest.Answer {
	h.T.Helper()
	return h.As(who).Post("/api/sync", raw, header("Content-Type", "application/json"), header("Content-Encoding", coding))
}

func TestEntriesComeCompressed(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		one := entryOf(h, "note", body{"note": "Quiet night."})
		plain, err := json.Marshal(body{"sent_at": h.Now(), "entries": []any{one}})
		require.NoError(t, err)
		require.Equal(t, string(app.Kept), states(housetest.Read[synced](packedSync(h, "care", "gzip", zipped(t, plain)).OK()).Receipts))
		// The same entry in the other form is the same entry.
		require.Equal(t, string(app.KeptBefore), states(receipts(h, "care", one)))
	})
}

// A body that cannot be inflated, or that becomes too large, is a problem in
// words; nothing of it is taken.
func TestWhatCannotBeInflatedSaysWhatToDo(t *testing.T) {
	h := housetest.Lite(t)
	plain, err := json.Marshal(body{"sent_at": h.Now(), "entries": []any{entryOf(h, "note", body{"note": "x"})}})
	require.NoError(t, err)
	good := zipped(t, plain)
	bomb := zipped(t, []byte(`{"entries":["`+strings.Repeat("a", 64<<20)+`"]}`))
	require.Less(t, len(bomb), 100_000, "a small body that becomes a large one")
	changed := bytes.Clone(good)
	changed[len(changed)-6] ^= 1 // the checksum
	for name, c := range map[string]struct {
		coding string
		raw    []byte
		status int
		code   string
	}{
		"not compressed at all":       {"gzip", plain, 400, "content-encoding"},
		"cut off":                     {"gzip", good[:len(good)/2], 400, "content-encoding"},
		"changed on the way":          {"gzip", changed, 400, "content-encoding"},
		"64 MB inside":                {"gzip", bomb, 413, "request-entity-too-large"},
		"a coding that is not spoken": {"br", good, 415, "content-encoding"},
		"two codings":                 {"gzip, gzip", good, 415, "content-encoding"},
	} {
		t.Run(name, func(t *testing.T) { packedSync(h, "care", c.coding, c.raw).Is(c.status, c.code) })
	}
	t.Run("an address that takes none", func(t *testing.T) {
		a := h.As("mo").Post("/api/calls", zipped(t, []byte(`{}`)), header("Content-Encoding", "gzip"))
		a.Is(415, "content-encoding")
		require.Equal(t, "identity", a.Header.Get("Accept-Encoding"))
	})
	t.Run("nobody signed in", func(t *testing.T) {
		h.As("").Post("/api/sync", bomb, header("Content-Encoding", "gzip")).Is(401, "not-signed-in")
	})
}
