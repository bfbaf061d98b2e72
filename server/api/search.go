package api

import (
	"context"
	"net/http"

	"tendfold/server/app"

	"github.com/danielgtaylor/huma/v2"
)

type (
	searchFor struct {
		Q     string `query:"q" required:"true" minLength:"1" maxLength:"200" example:"677 123 456" doc:"Words of a farm, town, landmark, client or person in any order; a phone number in any form, or its last digits; a ticket's number."`
		Limit int    `query:"limit" minimum:"0" maximum:"50" doc:"How many at most; 50 when left out."`
	}
	searchAnswer struct {
		Body struct {
			Items []app.Hit `json:"items"`
		}
	}
)

func (f Face) search(api huma.API) {
	register(api, op("search", http.MethodGet, "/api/search", "desk", "Find a farm, person, client or ticket"), f.find)
}

func (f Face) find(ctx context.Context, in *searchFor) (*searchAnswer, error) {
	items, err := f.Finder.Find(ctx, actor(ctx), in.Q, in.Limit)
	out := &searchAnswer{}
	out.Body.Items = items
	return out, err
}
