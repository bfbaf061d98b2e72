package housetest_test

import (
	"net/http"
	"testing"
	"time"

	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

func TestPeopleAreKnownByTheirTokens(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		h.Stranger().Get("/api/tickets").Is(http.StatusUnauthorized, "not-signed-in")
		h.As("ana").Get("/api/tickets").OK()
		h.As("own").Get("/api/tickets").Is(http.StatusForbidden, "forbidden")
		h.Pass(100 * 24 * time.Hour)
		h.As("ana").Get("/api/tickets").OK()
	})
}

func TestTheSmallRegisterCanBeSwept(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		h.Pass(100 * 24 * time.Hour)
		h.Sweep()
		all := housetest.Read[app.Page[app.TicketLine]](h.As("mo").Get("/api/tickets").OK())
		require.NotEmpty(t, all.Items, "nothing was heard for a hundred days")
		for _, line := range all.Items {
			require.NotEqual(t, "f4", line.FarmID, "nobody watches it yet")
		}
	})
}
