package api_test

import (
	"net/http"
	"testing"

	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

// What an absent advisor promised stands on the list of whoever covers, and
// on no other; when the absence is taken back it goes again.
func TestAColleagueCoversWhoIsAway(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		today := h.Today()
		h.As("ana").Post("/api/calls", body{"farm_id": "f1", "channel": "phone", "said": "x", "promises": []body{{"kind": "call-back", "text": "Ring again", "due_on": today.String()}}}).OK()
		mine := func(who string) int {
			return len(housetest.Read[app.Page[app.PromiseLine]](h.As(who).Get("/api/promises?mine=true&kept=no").OK()).Items)
		}
		require.Equal(t, []int{1, 0}, []int{mine("ana"), mine("fie")})
		away := body{"person_id": "ana", "cover_id": "fie", "from": today.String(), "until": today.Add(7).String()}
		h.As("fie").Post("/api/absences", away).Is(http.StatusForbidden, "forbidden")
		bent := body{"person_id": "ana", "cover_id": "ana", "from": today.String(), "until": today.Add(7).String()}
		h.As("ana").Post("/api/absences", bent).Is(http.StatusUnprocessableEntity, "absence-refused")
		bent["cover_id"] = "care"
		h.As("ana").Post("/api/absences", bent).Is(http.StatusUnprocessableEntity, "absence-refused")
		a := housetest.Read[app.Absence](h.As("ana").Post("/api/absences", away).OK())
		require.NotEmpty(t, a.Cover)
		require.Equal(t, []int{1, 1}, []int{mine("ana"), mine("fie")})
		list := housetest.Read[struct{ Items []app.Absence }](h.As("mo").Get("/api/absences").OK()).Items
		require.Len(t, list, 1)
		h.As("fie").Delete("/api/absences/"+a.ID).Is(http.StatusForbidden, "forbidden")
		h.As("mo").Delete("/api/absences/" + a.ID).OK()
		require.Equal(t, 0, mine("fie"))
		for _, who := range housetest.Farmers {
			h.As(who).Get("/api/absences").Is(http.StatusForbidden, "forbidden")
		}
	})
}
