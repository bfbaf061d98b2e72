package api

import (
	"context"
	"net/http"

	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/server/app"

	"github.com/danielgtaylor/huma/v2"
)

type (
	farmList struct {
		Listed
		Branch     string             `query:"branch" maxLength:"64"`
		Client     string             `query:"client" maxLength:"64"`
		Standing   programme.Standing `query:"standing" enum:"on-course,slipping,behind,no-news,paused,complete,to-confirm"`
		Enterprise string             `query:"enterprise" maxLength:"64"`
		Status     farm.Status        `query:"status" enum:"active,paused,closed"`
		Watched    string             `query:"watched" enum:"yes,no"`
		Q          string             `query:"q" maxLength:"200" doc:"Words of the name, client, town or landmark, or digits of a phone."`
	}
	farmPageOut struct {
		Body app.Page[app.FarmRow]
	}
	farmCounts struct {
		Body struct {
			Items []app.StandingCount `json:"items"`
		}
	}
	// FarmPath names a farm in an address. It is exported because huma reads
	// embedded structs only then.
	FarmPath struct {
		ID string `path:"id" maxLength:"64"`
	}
	farmAnswer struct {
		ETag string `header:"ETag"`
		Body app.FarmPage
	}
	farmEvents struct {
		FarmPath
		Listed
	}
	eventPage struct {
		Body app.Page[app.Event]
	}
)

func (f Face) farms(api huma.API) {
	const tag = "farms"
	register(api, op("list-farms", http.MethodGet, "/api/farms", tag, "Farms, worst standing first, with their strips"), f.listFarms)
	register(api, op("count-farms", http.MethodGet, "/api/farm-counts", tag, "How many farms of each branch have each standing"), f.countFarms)
	register(api, op("get-farm", http.MethodGet, "/api/farms/{id}", tag, "Everything about one farm"), f.getFarm)
	register(api, op("list-events", http.MethodGet, "/api/farms/{id}/events", tag, "What was reported about a farm, newest first"), f.listEvents)
}

func (f Face) listFarms(ctx context.Context, in *farmList) (*farmPageOut, error) {
	q := app.FarmQuery{
		Branch: in.Branch, ClientID: in.Client, Standing: in.Standing, Enterprise: in.Enterprise, Status: in.Status,
		Q: in.Q, Cursor: in.Cursor, Limit: in.Limit,
	}
	if in.Watched != "" {
		yes := in.Watched == "yes"
		q.Watched = &yes
	}
	page, err := f.Farms.List(ctx, actor(ctx), q)
	return &farmPageOut{page}, err
}

func (f Face) countFarms(ctx context.Context, _ *struct{}) (*farmCounts, error) {
	items, err := f.Farms.Counts(ctx, actor(ctx))
	out := &farmCounts{}
	out.Body.Items = items
	return out, err
}

func (f Face) getFarm(ctx context.Context, in *FarmPath) (*farmAnswer, error) {
	page, err := f.Farms.Page(ctx, actor(ctx), in.ID)
	return &farmAnswer{etag(max(page.Version, 1)), page}, err
}

func (f Face) listEvents(ctx context.Context, in *farmEvents) (*eventPage, error) {
	page, err := f.Farms.Timeline(ctx, actor(ctx), in.ID, in.Cursor, in.Limit)
	return &eventPage{page}, err
}
