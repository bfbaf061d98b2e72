package api_test

import (
	"fmt"
	"net/http"
	"testing"
	"time"

	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

type counted struct {
	Watched int `json:"watched"`
}

func TestFarmsToConfirmAreWatched(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		h.Pass(40 * 24 * time.Hour)
		h.Sweep()
		list := housetest.Read[app.Page[app.ToConfirmRow]](h.As("bm").Get("/api/to-confirm").OK())
		require.Len(t, list.Items, 1)
		row := list.Items[0]
		require.Equal(t, []any{"f4", "to-confirm", "no-news"}, []any{row.ID, string(row.Standing), string(row.AsIf)})
		rules := map[string]bool{}
		for _, f := range row.Findings {
			rules[f.Rule] = true
			require.NotEmpty(t, f.Reasons)
		}
		require.Contains(t, rules, "no-news")
		tickets := "/api/tickets?farm=f4"
		require.Empty(t, housetest.Read[app.Page[app.TicketLine]](h.As("bm").Get(tickets).OK()).Items, "nobody watches it, so no ticket opens")
		require.Empty(t, housetest.Read[app.Page[app.ToConfirmRow]](h.As("dou").Get("/api/to-confirm").OK()).Items)

		watch := func(who string, b body, opts ...housetest.Option) *housetest.Answer {
			return h.As(who).Post("/api/farms/watch", b, opts...)
		}
		ids := body{"ids": []string{"f4", "f1"}}
		watch("ana", ids).Is(http.StatusForbidden, "forbidden")
		watch("bm", body{"ids": []string{"f3"}}).Is(http.StatusNotFound, "farm-not-found")
		watch("bm", body{}).Is(http.StatusUnprocessableEntity, "watch-which")
		watch("bm", body{"ids": []string{"f4"}, "branch_id": "buea"}).Is(http.StatusUnprocessableEntity, "watch-which")
		require.Equal(t, 1, housetest.Read[counted](watch("bm", ids, housetest.Key("k")).OK()).Watched, "f1 was watched already")
		require.Equal(t, 1, housetest.Read[counted](watch("bm", ids, housetest.Key("k")).OK()).Watched, "the same answer")
		require.Equal(t, 0, housetest.Read[counted](watch("bm", ids).OK()).Watched)
		require.Equal(t, []string{"watch"}, audits(h, "farm", "f4"))
		require.NoError(t, h.Sweeps.Farm(t.Context(), "f4"))
		require.NotEmpty(t, housetest.Read[app.Page[app.TicketLine]](h.As("bm").Get(tickets).OK()).Items)
		require.Empty(t, housetest.Read[app.Page[app.ToConfirmRow]](h.As("bm").Get("/api/to-confirm").OK()).Items)
	})
}

func TestAWholeBranchIsWatched(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		for i := range 60 {
			h.AddFarm(housetest.Farm{ID: fmt.Sprintf("f9%02d", i), Client: "c2", Branch: "douala", Name: fmt.Sprintf("Bank %d", i), Began: -1})
		}
		closed, err := h.Store.Farm(t.Context(), app.Everything, "f900")
		require.NoError(t, err)
		closed.Status = farm.Closed
		require.NoError(t, h.Store.ChangeFarm(t.Context(), closed.Farm))
		watch := func(who, branch string) *housetest.Answer {
			return h.As(who).Post("/api/farms/watch", body{"branch_id": branch})
		}
		require.Equal(t, 0, housetest.Read[counted](watch("bm", "douala").OK()).Watched, "not her branch, so none of hers")
		watch("mo", "nowhere").Is(http.StatusNotFound, "branch-not-found")
		require.Equal(t, 59, housetest.Read[counted](watch("mo", "douala").OK()).Watched)
		h.As("mo").Post("/api/farms/watch", body{"ids": []string{"f900"}}).Is(http.StatusConflict, "farm-closed")
		require.Equal(t, []string{"watch"}, audits(h, "farm", "f930"))
	})
}

func TestFindingsOfAFarm(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		h.Sweep()
		got := housetest.Read[struct{ Items []app.FindingRow }](h.As("ana").Get("/api/farms/f1/findings").OK())
		require.NotEmpty(t, got.Items)
		for _, f := range got.Items {
			require.Equal(t, "f1", f.FarmID)
			require.False(t, f.Since.IsZero())
		}
		h.As("dou").Get("/api/farms/f1/findings").Is(http.StatusNotFound, "farm-not-found")
		h.As("own").Get("/api/farms/f1/findings").Is(http.StatusForbidden, "forbidden")
	})
}
