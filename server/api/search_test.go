package api_test

import (
	"net/http"
	"net/url"
	"testing"

	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

func TestTheDeskFindsWhateverItIsAskedAbout(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		find := func(who, q string) []app.Hit {
			return housetest.Read[struct{ Items []app.Hit }](h.As(who).Get("/api/search?q=" + url.QueryEscape(q)).OK()).Items
		}
		say(h, "care", "trouble", body{"note": "the door hangs"}).OK()
		for q, want := range map[string][3]string{
			"hillsi":            {"farm", "f1", "name"},
			"carine":            {"person", "care", "name"},
			"ngoh hillside":     {"farm", "f1", "name"},
			"+999 670 000 008":  {"person", "care", "phone"},
			"00999 67000 00 08": {"person", "care", "phone"},
			"0008":              {"person", "care", "phone"},
			"611111111":         {"client", "c1", "phone"},
			"1/26":              {"ticket", "", "number"},
		} {
			hits := find("ana", q)
			require.NotEmpty(t, hits, q)
			match := false
			for _, hit := range hits {
				match = match || hit.Kind == want[0] && hit.Why == want[2] && (want[1] == "" || hit.ID == want[1])
			}
			require.True(t, match, "%s: %+v", q, hits)
		}
		hit := find("ana", "0008")[0]
		require.Equal(t, []any{"f1", "Hillside", "Ngoh Ltd", "Town of Hillside", "buea", "+999670000008"}, []any{hit.FarmID, hit.Farm, hit.Client, hit.Town, hit.BranchID, hit.Phone})
		require.Empty(t, find("dou", "hillside"), "another branch's")
		require.Empty(t, find("dou", "1/26"))
		require.Empty(t, find("ana", "zzzz"))
		h.As("ana").Get("/api/search").Is(http.StatusUnprocessableEntity, "invalid")
		h.As("ana").Get("/api/search?q=%20").Is(http.StatusUnprocessableEntity, "search-empty")
		for _, who := range append([]string{"out"}, housetest.Farmers...) {
			h.As(who).Get("/api/search?q=hill").Is(http.StatusForbidden, "forbidden")
		}
	})
}
