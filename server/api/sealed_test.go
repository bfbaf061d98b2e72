package api_test

import (
	"crypto/ecdh"
	"crypto/hpke"
	"encoding/base64"
	"encoding/json"
	"net/http"
	"testing"

	"tendfold/server/api"
	"tendfold/server/app"
	"tendfold/server/app/signin/keys"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

// seal does what a phone does when an entry is made: to the server's key,
// bound to person and id.
func seal(h *housetest.House, who, id, path string, inside any) body {
	h.T.Helper()
	k := housetest.Read[keys.OutboxKey](h.As(who).Get("/api/outbox-key").OK())
	x, err := base64.RawURLEncoding.DecodeString(k.X)
	require.NoError(h.T, err)
	y, err := base64.RawURLEncoding.DecodeString(k.Y)
	require.NoError(h.T, err)
	point, err := ecdh.P256().NewPublicKey(append(append([]byte{4}, x...), y...))
	require.NoError(h.T, err)
	key, err := hpke.NewDHKEMPublicKey(point)
	require.NoError(h.T, err)
	enc, sender, err := hpke.NewSender(key, hpke.HKDFSHA256(), hpke.AES256GCM(), []byte(keys.OutboxInfo))
	require.NoError(h.T, err)
	plain, err := json.Marshal(body{"path": path, "body": inside})
	require.NoError(h.T, err)
	ciphertext, err := sender.Seal([]byte(who+"\n"+id), plain)
	require.NoError(h.T, err)
	b64 := base64.RawURLEncoding.EncodeToString
	return body{"id": id, "kid": k.KID, "enc": b64(enc), "ciphertext": b64(ciphertext)}
}

func sealedEntry(h *housetest.House, who string, entry body) body {
	h.T.Helper()
	return seal(h, who, entry["id"].(string), "/api/sync", entry)
}

func bringSealed(h *housetest.House, who string, sealed ...any) []api.SyncReceipt {
	h.T.Helper()
	return housetest.Read[synced](h.As(who).Post("/api/sync/sealed", body{"entries": sealed}).OK()).Receipts
}

func TestSealedEntriesComeToTheSame(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		cover, day := entryOf(h, "cover", body{"percent": 30}), entryOf(h, "day", body{"deaths": 2})
		open := entryOf(h, "note", body{"note": "came in the open, its answer was lost"})
		require.Equal(t, "kept", states(receipts(h, "care", open)))
		sealed := []any{sealedEntry(h, "care", cover), sealedEntry(h, "care", day), sealedEntry(h, "care", open)}

		require.Equal(t, "kept kept kept-before", states(bringSealed(h, "care", sealed...)))
		require.Equal(t, "kept-before kept-before kept-before", states(bringSealed(h, "care", sealed...)))
		require.Equal(t, "kept-before kept-before", states(receipts(h, "care", cover, day)), "and in the open after that")
		events := housetest.Read[app.Page[app.Event]](h.As("ana").Get("/api/farms/f1/events").OK())
		require.Len(t, events.Items, 3)
	})
}

func TestASealedEntryIsItsPersonsAlone(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		mine := sealedEntry(h, "care", entryOf(h, "day", body{"deaths": 0}))
		foreign := bringSealed(h, "far", mine)
		require.Equal(t, "refused", states(foreign))
		require.Equal(t, "entry-sealed", foreign[0].Problem.Code)

		moved := body{"id": "another-id", "kid": mine["kid"], "enc": mine["enc"], "ciphertext": mine["ciphertext"]}
		unlike := entryOf(h, "day", body{"deaths": 0})
		misnamed := seal(h, "care", "not-the-id-inside", "/api/sync", unlike)
		elsewhere := seal(h, "care", "e-elsewhere", "/api/farms/f1", body{"name": "Stolen"})
		odd := seal(h, "care", "e-odd", "/api/sync", "no entry at all")
		rs := bringSealed(h, "care", moved, misnamed, elsewhere, odd, mine)
		require.Equal(t, "refused refused refused refused kept", states(rs))
		require.Equal(t, "not-the-id-inside", rs[1].ID)
		for _, r := range rs[1:4] {
			require.Equal(t, "entry-unreadable", r.Problem.Code)
		}
		h.Stranger().Post("/api/sync/sealed", body{"entries": []any{mine}}).Is(http.StatusUnauthorized, "not-signed-in")
		h.As("care").Post("/api/sync/sealed", body{"entries": []any{}}).Is(http.StatusUnprocessableEntity, "invalid")
	})
}

func TestASealedWordOnAReportIsSaidOnce(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		receipts(h, "care", entryOf(h, "trouble", body{"sign": "rats-overnight"}))
		report := todayOf(h, "care", "").Farms[0].Reports[0]
		path := "/api/tickets/" + report.ID + "/say"
		word := body{"text": "The gap is closed."}
		sealed := seal(h, "care", "say-1", path, word)
		h.As("care").Post(path, word, housetest.Key("say-1")).OK()
		require.Equal(t, "kept kept", states(bringSealed(h, "care", sealed, sealed)))
		require.Len(t, todayOf(h, "care", "").Farms[0].Reports[0].Messages, 1)

		require.Equal(t, "kept", states(bringSealed(h, "care", seal(h, "care", "say-2", path, body{"text": "Rats again."}))))
		require.Len(t, todayOf(h, "care", "").Farms[0].Reports[0].Messages, 2)
		rs := bringSealed(h, "care",
			seal(h, "care", "say-3", "/api/tickets/none/say", word), seal(h, "care", "say-4", path, body{"text": ""}),
			seal(h, "care", "say-5", path, body{"text": "x", "mood": 1}), seal(h, "care", "say-6", path, body{"text": "x", "inside": true}))
		require.Equal(t, "refused refused refused refused", states(rs))
	})
}
