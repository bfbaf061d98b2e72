package api

import (
	"context"
	"net/http"

	"tendfold/domain/husbandry/stock"
	"tendfold/server/app"

	"github.com/danielgtaylor/huma/v2"
)

type (
	projectionQuery struct {
		ID      string  `path:"id" maxLength:"64"`
		MarketG float64 `query:"market_g" minimum:"0" maximum:"100000" doc:"What if animals were sold from this weight on; 0 leaves it as it is."`
		Every   int     `query:"every_days" minimum:"-1" maximum:"3650" default:"-1" doc:"What if animals were sold every so many days; 0 sells nothing, -1 leaves it as it is."`
		Parents float64 `query:"parents" minimum:"-1" maximum:"10000000" default:"-1" doc:"What if so many adults stayed as parents; -1 leaves it as it is."`
		Thin    bool    `query:"thin" doc:"What if animals were moved out whenever the unit is full."`
		Count   string  `query:"count" enum:"stands,miscount" doc:"What if a count that does not fit is right, or is not."`

		PerAnimal int64 `query:"price_animal" minimum:"0" maximum:"1000000000000" doc:"Money, in minor units of the firm's currency; nothing is reckoned where all are 0."`
		PerKg     int64 `query:"price_kg" minimum:"0" maximum:"1000000000000"`
		DryFeedKg int64 `query:"cost_feed_kg" minimum:"0" maximum:"1000000000000"`
		Once      int64 `query:"cost_once" minimum:"0" maximum:"1000000000000"`
		AMonth    int64 `query:"cost_month" minimum:"0" maximum:"1000000000000"`
	}
	projectionAnswer struct{ Body app.ProjectionPage }
)

func (f Face) projections(api huma.API) {
	register(api, op("get-projection", http.MethodGet, "/api/units/{id}/projection", "husbandry",
		"What a unit will hold, eat and have for sale, with bands; what-ifs are not kept"), f.getProjection)
}

func (q projectionQuery) whatIf() app.WhatIf {
	w := app.WhatIf{Thin: q.Thin, Count: stock.Answer(q.Count)}
	if q.MarketG > 0 {
		w.MarketG = &q.MarketG
	}
	if q.Every >= 0 {
		w.Every = &q.Every
	}
	if q.Parents >= 0 {
		w.Parents = &q.Parents
	}
	if p := (stock.Prices{PerAnimal: q.PerAnimal, PerKg: q.PerKg, DryFeedKg: q.DryFeedKg, Once: q.Once, AMonth: q.AMonth}); p != (stock.Prices{}) {
		w.Prices = &p
	}
	return w
}

func (f Face) getProjection(ctx context.Context, in *projectionQuery) (*projectionAnswer, error) {
	page, err := f.Projections.Page(ctx, actor(ctx), in.ID, in.whatIf())
	return &projectionAnswer{page}, err
}
