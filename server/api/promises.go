package api

import (
	"context"
	"net/http"

	"tendfold/server/app"

	"github.com/danielgtaylor/huma/v2"
)

type (
	promiseList struct {
		Listed
		Mine   bool    `query:"mine" doc:"That I made."`
		Branch string  `query:"branch" maxLength:"64"`
		Farm   string  `query:"farm" maxLength:"64"`
		Kind   string  `query:"kind" enum:"call-back,visit,other"`
		Due    app.Due `query:"due" enum:"today,overdue" doc:"today holds the overdue ones too."`
		Kept   string  `query:"kept" enum:"no,yes,all" default:"no"`
	}
	promisePage struct {
		Body app.Page[app.PromiseLine]
	}
	promiseAnswer struct {
		ETag string `header:"ETag"`
		Body app.Promise
	}
	// PromisePath names a promise in an address; huma reads embedded structs only
	// where they are exported.
	PromisePath struct {
		ID string `path:"id" maxLength:"64"`
	}
	promiseChange struct {
		PromisePath
		Versioned
		Body promiseBody
	}
	promiseKept struct {
		PromisePath
		Versioned
		Body struct {
			Kept bool `json:"kept" doc:"false takes it back."`
		}
	}
	callBackList struct {
		Branch string `query:"branch" maxLength:"64"`
	}
	callBackAnswer struct {
		Body app.CallBackList
	}
)

func (f Face) promises(api huma.API) {
	const tag = "calls"
	register(api, op("list-promises", http.MethodGet, "/api/promises", tag, "What was promised, first due first"), f.listPromises)
	register(api, op("change-promise", http.MethodPut, "/api/promises/{id}", tag, "Say an open promise anew"), f.changePromise)
	register(api, op("keep-promise", http.MethodPost, "/api/promises/{id}/kept", tag, "Say that a promise was kept"), f.keepPromise)
	register(api, op("list-call-backs", http.MethodGet, "/api/call-backs", tag, "Farms to call: because it was promised, or because they have been silent for a week"), f.listCallBacks)
}

func (f Face) listPromises(ctx context.Context, in *promiseList) (*promisePage, error) {
	who := actor(ctx)
	q := app.PromiseQuery{Branch: in.Branch, FarmID: in.Farm, Kind: in.Kind, Cursor: in.Cursor, Limit: in.Limit}
	if in.Mine {
		q.MadeBy = who.PersonID
	}
	if in.Kept != "all" {
		kept := in.Kept == "yes"
		q.Kept = &kept
	}
	page, err := f.Promises.List(ctx, who, in.Due, q)
	return &promisePage{page}, err
}

func (f Face) changePromise(ctx context.Context, in *promiseChange) (*promiseAnswer, error) {
	v, err := in.version()
	if err != nil {
		return nil, err
	}
	p, err := f.Promises.Change(ctx, actor(ctx), in.ID, v, app.PromiseChange(in.Body))
	return &promiseAnswer{etag(p.Version), p}, err
}

func (f Face) keepPromise(ctx context.Context, in *promiseKept) (*promiseAnswer, error) {
	v, err := in.version()
	if err != nil {
		return nil, err
	}
	p, err := f.Promises.Keep(ctx, actor(ctx), in.ID, v, in.Body.Kept)
	return &promiseAnswer{etag(p.Version), p}, err
}

func (f Face) listCallBacks(ctx context.Context, in *callBackList) (*callBackAnswer, error) {
	list, err := f.Promises.CallBacks(ctx, actor(ctx), in.Branch)
	return &callBackAnswer{list}, err
}
