package api_test

import (
	"net/http"
	"testing"

	"tendfold/checklists"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

func TestTriageCardsAreGivenWithWordsAndGraph(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		answer := h.As("ana").Get("/api/triage/catfish").OK()
		cards := housetest.Read[struct{ Cards []checklists.TriageCard }](answer).Cards
		require.NotEmpty(t, cards)
		for _, c := range cards {
			require.Positive(t, c.Version, c.Sign)
			require.True(t, c.Questions[0].Danger || c.Danger, c.Sign)
			require.NotEmpty(t, c.Questions[0].Say.FR, c.Sign)
			require.NotEmpty(t, c.Endings[0].Advice.EN, c.Sign)
			require.NotEmpty(t, c.Endings[0].Grade, c.Sign)
		}
		again := h.As("ana").Get("/api/triage/catfish", header("If-None-Match", answer.Header.Get("ETag")))
		require.Equal(t, http.StatusNotModified, again.Status)
		h.As("ana").Get("/api/triage/duck").Is(http.StatusNotFound, "pack-not-found")
	})
}
