package api_test

import (
	"fmt"
	"net/http"
	"testing"

	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

func projectionOf(h *housetest.House, who, query string) app.ProjectionPage {
	h.T.Helper()
	return housetest.Read[app.ProjectionPage](h.As(who).Get("/api/units/u1/projection" + query).OK())
}

func TestAUnitIsProjectedFromItsBatchAndItsDaybook(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		require.Equal(t, "no-animals", projectionOf(h, "ana", "").Why, "nothing has been put in")
		stock(h, 200, 30)
		page := projectionOf(h, "ana", "")
		require.Empty(t, page.Why)
		require.Equal(t, 200, page.PutIn)
		require.NotNil(t, page.Breeding)
		require.GreaterOrEqual(t, len(page.Breeding.Points), 23, "two years by months")
		require.False(t, page.Breeding.Learned.Used, "nothing has been written yet")
		require.NotEmpty(t, page.Advice)
		require.Len(t, page.Inputs, 18)
		for _, in := range page.Inputs {
			require.NotEmpty(t, in.Grade, in.Key)
		}
		require.Equal(t, 200.0*3*250, page.Bare.Animals)
		require.Equal(t, "floor", page.Bare.Reason)
		require.Nil(t, page.Money, "no money unless prices are entered")

		var sent []any
		for i := range app.PageDays {
			e := fromPaper(h, h.Today().Add(i-13), body{"deaths": 3})
			e["id"] = fmt.Sprintf("019cdf44-9c6a-7b0e-8f0a-%012d", i)
			sent = append(sent, e)
		}
		require.NotContains(t, states(receipts(h, "ana", sent...)), "refused")
		learned := projectionOf(h, "ana", "")
		require.True(t, learned.Breeding.Learned.Used)
		require.GreaterOrEqual(t, learned.Breeding.Learned.Effective, 99.0)
	})
}

func TestAWhatIfStandsBesideThePlan(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		stock(h, 200, 30)
		plan := projectionOf(h, "ana", "")
		what := projectionOf(h, "ana", "?market_g=80&price_animal=150&cost_once=1000")
		require.False(t, plan.Assumed.Changed)
		require.True(t, what.Assumed.Changed)
		require.Equal(t, 80.0, what.Assumed.MarketG)
		require.NotNil(t, what.Money)
		require.Less(t, what.Money.Low.Net, what.Money.High.Net)
		require.Equal(t, plan, projectionOf(h, "ana", ""), "and is not kept")
		none := projectionOf(h, "ana", "?every_days=0")
		for _, p := range none.Breeding.Points {
			require.Zero(t, p.Sold.High)
		}
		require.Equal(t, http.StatusUnprocessableEntity, h.As("ana").Get("/api/units/u1/projection?market_g=-5").Status)
		require.Equal(t, http.StatusUnprocessableEntity, h.As("ana").Get("/api/units/u1/projection?every_days=x").Status)
	})
}

func TestACaretakerSeesWhatToDoAndNoSums(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		stock(h, 200, 30)
		page := projectionOf(h, "care", "?price_animal=150")
		require.Positive(t, page.Breeding.Points[0].FreshKg.Likely)
		require.Nil(t, page.Bare)
		require.Nil(t, page.Money)
		require.Empty(t, page.Inputs)
		for _, p := range page.Breeding.Points {
			require.Zero(t, p.Sold.High)
		}
	})
}
