package api_test

import (
	"fmt"
	"net/http"
	"slices"
	"testing"
	"time"

	"tendfold/domain/ticket"
	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

func TestTheLoadIsCounted(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		h.Pass(24 * time.Hour)
		h.Sweep()
		say(h, "care", "trouble", body{"note": "the door hangs"}).OK()
		opened := housetest.Read[app.Page[app.TicketLine]](h.As("mo").Get("/api/tickets").OK()).Items
		var swept, douala int
		for _, l := range opened {
			if l.Origin == ticket.FromSweep {
				swept++
			}
			if l.BranchID == "douala" {
				douala++
			}
		}
		load := func(who, query string) app.Load {
			return housetest.Read[app.Load](h.As(who).Get("/api/load" + query).OK())
		}
		all := load("mo", "")
		require.Equal(t, []any{h.Today().Add(-27), h.Today(), false, len(opened), len(opened), 0, 0}, []any{all.From, all.To, all.Mine, all.Opened, all.Open, all.Overdue, all.Settled})
		require.Equal(t, app.OriginShare{Origin: ticket.FromSweep, Tickets: swept}, all.Origins[0])
		share := 0.0
		for _, r := range all.Rules {
			share += r.Share
		}
		require.InDelta(t, 1, share, 1e-9)
		byBranch := map[string]app.BranchLoad{}
		for _, b := range all.Branches {
			byBranch[b.BranchID] = b
		}
		require.Equal(t, app.BranchLoad{BranchID: "douala", Branch: "Douala", Advisors: 1, Raised: douala, Mean: float64(douala) / 28, Worst: float64(douala), WorstOn: h.Today(), Line: 6}, byBranch["douala"])
		require.Equal(t, douala, load("mo", "?branch=douala").Opened)
		require.Len(t, load("bm", "").Branches, 1)
		require.Empty(t, all.Lying)

		mine := load("ana", "")
		require.True(t, mine.Mine)
		require.Zero(t, mine.Opened, "none is in her hands")
		last := opened[slices.IndexFunc(opened, func(l app.TicketLine) bool { return l.BranchID == "buea" })]
		th := h.As("ana").Post("/api/tickets/"+last.ID+"/move", body{"to": "in-hand"}, housetest.IfMatch(`"1"`))
		require.Equal(t, []int{1, 1}, []int{load("ana", "").Opened, load("ana", "").Open})
		h.As("ana").Post("/api/tickets/"+last.ID+"/move", body{"to": "settled", "outcome": "done"}, housetest.IfMatch(th.ETag())).OK()
		require.Equal(t, []int{1, 0}, []int{load("ana", "").Settled, load("ana", "").Open})

		for _, who := range append([]string{"out", "fie"}, housetest.Farmers...) {
			h.As(who).Get("/api/load").Is(http.StatusForbidden, "forbidden")
		}
		h.As("mo").Get("/api/load?from=2026-01-01&to=2025-01-01").Is(http.StatusUnprocessableEntity, "load-days")
		h.As("mo").Get("/api/load?from=2020-01-01").Is(http.StatusUnprocessableEntity, "load-days")
		h.As("mo").Get("/api/load?from=20200101").Is(http.StatusUnprocessableEntity, "date-none")
	})
}

func TestManyAtOnceAreOneGroup(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		for i := range 12 {
			h.AddFarm(housetest.Farm{ID: fmt.Sprintf("f9%02d", i), Client: "c2", Branch: "douala", Name: fmt.Sprintf("Bank %d", i), Watched: true})
		}
		h.Sweep()
		got := housetest.Read[app.Load](h.As("mo").Get("/api/load").OK())
		require.Len(t, got.Bursts, 1)
		require.Equal(t, "douala", got.Bursts[0].BranchID)
		require.Greater(t, got.Bursts[0].Tickets, 10)
		require.Positive(t, got.Branches[1].OverDays)
	})
}

func TestWhatWasLeftLyingIsToldOnce(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		say(h, "care", "trouble", body{"note": "the door hangs"}).OK()
		line := housetest.Read[app.Page[app.TicketLine]](h.As("ana").Get("/api/tickets").OK()).Items[0]
		told := func() (n int) {
			for _, e := range housetest.Read[app.Thread](h.As("ana").Get("/api/tickets/" + line.ID).OK()).Events {
				if e.Kind == ticket.Untouched {
					n++
				}
			}
			return n
		}
		lying := func() int { return len(housetest.Read[app.Load](h.As("mo").Get("/api/load").OK()).Lying) }
		h.Sweep()
		require.Zero(t, told(), "it has a working day")
		h.Pass(5 * 24 * time.Hour)
		h.Sweep()
		h.Sweep()
		require.Equal(t, 1, told())
		require.Positive(t, lying())
		h.Pass(24 * time.Hour)
		h.Sweep()
		require.Equal(t, 1, told())
		before := lying()
		h.As("ana").Post("/api/tickets/"+line.ID+"/say", body{"text": "we come"}).OK()
		require.Equal(t, before-1, lying(), "somebody has touched it")
	})
}
