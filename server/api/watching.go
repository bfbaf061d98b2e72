package api

import (
	"context"
	"net/http"

	"tendfold/server/app"

	"github.com/danielgtaylor/huma/v2"
)

type (
	findingsAnswer struct {
		Body struct {
			Items []app.FindingRow `json:"items"`
		}
	}
	toConfirmList struct {
		Listed
		Branch     string `query:"branch" maxLength:"64"`
		Enterprise string `query:"enterprise" maxLength:"64"`
		Q          string `query:"q" maxLength:"200"`
	}
	toConfirmPage struct {
		Body app.Page[app.ToConfirmRow]
	}
	watchFarms struct {
		Once
		Body struct {
			IDs      []string `json:"ids,omitempty" maxItems:"500" example:"[\"0195f0a1-0000-7000-8000-000000000001\"]" doc:"The farms to watch."`
			BranchID string   `json:"branch_id,omitempty" maxLength:"64" doc:"Or all of this branch."`
		}
	}
	watchAnswer struct {
		Body struct {
			Watched int `json:"watched" doc:"How many began to be watched."`
		}
	}
	loadQuestion struct {
		From   string `query:"from" maxLength:"10" example:"2026-02-16" doc:"First day; the four weeks up to today when left out."`
		To     string `query:"to" maxLength:"10" example:"2026-03-15"`
		Branch string `query:"branch" maxLength:"64"`
	}
	loadAnswer struct {
		Body app.Load
	}
)

func (f Face) watching(api huma.API) {
	const tag = "farms"
	register(api, op("list-findings", http.MethodGet, "/api/farms/{id}/findings", tag, "What the last sweep found on a farm"), f.listFindings)
	register(api, op("list-to-confirm", http.MethodGet, "/api/to-confirm", tag, "Farms that nobody watches yet, with what they would say"), f.listToConfirm)
	register(api, op("watch-farms", http.MethodPost, "/api/farms/watch", tag, "Start watching farms; from then on their findings open tickets"), f.watchFarms)
	register(api, op("get-load", http.MethodGet, "/api/load", "tickets", "Can the advisors cope, and which rule is noisy"), f.getLoad)
}

func (f Face) listFindings(ctx context.Context, in *FarmPath) (*findingsAnswer, error) {
	items, err := f.Watching.Findings(ctx, actor(ctx), in.ID)
	out := &findingsAnswer{}
	out.Body.Items = items
	return out, err
}

func (f Face) listToConfirm(ctx context.Context, in *toConfirmList) (*toConfirmPage, error) {
	page, err := f.Watching.ToConfirm(ctx, actor(ctx), app.FarmQuery{Branch: in.Branch, Enterprise: in.Enterprise, Q: in.Q, Cursor: in.Cursor, Limit: in.Limit})
	return &toConfirmPage{page}, err
}

func (f Face) watchFarms(ctx context.Context, in *watchFarms) (*watchAnswer, error) {
	return once(f, ctx, in.Key, "watch-farms", in, func(ctx context.Context) (*watchAnswer, error) {
		n, err := f.Watching.Watch(ctx, actor(ctx), app.WatchFarms(in.Body))
		out := &watchAnswer{}
		out.Body.Watched = n
		return out, err
	})
}

func (f Face) getLoad(ctx context.Context, in *loadQuestion) (*loadAnswer, error) {
	from, to, err := days(in.From, in.To)
	if err != nil {
		return nil, err
	}
	load, err := f.Loads.Of(ctx, actor(ctx), app.LoadQuery{From: from, To: to, Branch: in.Branch})
	return &loadAnswer{load}, err
}
