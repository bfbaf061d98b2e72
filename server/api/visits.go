package api

import (
	"context"
	"net/http"

	"tendfold/domain/calendar"
	"tendfold/server/app"

	"github.com/danielgtaylor/huma/v2"
)

type (
	needList struct {
		Branch string `query:"branch" maxLength:"64"`
		Farm   string `query:"farm" maxLength:"64" doc:"That farm alone, whether it needs a visit or not."`
		Limit  int    `query:"limit" minimum:"1" maximum:"500" default:"50"`
	}
	needAnswer struct {
		Body app.VisitNeedList
	}
	visitList struct {
		Listed
		From    string `query:"from" maxLength:"10" example:"2026-03-09" doc:"First day; without days, the four weeks from today."`
		To      string `query:"to" maxLength:"10" example:"2026-03-15"`
		Officer string `query:"officer" maxLength:"64"`
		Mine    bool   `query:"mine"`
		Farm    string `query:"farm" maxLength:"64" doc:"With a farm and without days, all of its visits."`
		Branch  string `query:"branch" maxLength:"64"`
		State   string `query:"state" enum:"planned,done,missed"`
	}
	visitPage struct {
		Body app.Page[app.VisitLine]
	}
	// VisitPath names a visit in an address; huma reads embedded structs only
	// where they are exported.
	VisitPath struct {
		ID string `path:"id" maxLength:"64"`
	}
	visitAnswer struct {
		ETag string `header:"ETag"`
		Body app.VisitLine
	}
	newVisit struct {
		Once
		Body struct {
			ID        string        `json:"id,omitempty" maxLength:"64" doc:"Your own id for it (UUIDv7), or leave it to us."`
			FarmID    string        `json:"farm_id" minLength:"1" maxLength:"64"`
			OfficerID string        `json:"officer_id" minLength:"1" maxLength:"64" doc:"One of the firm's people in the farm's branch."`
			On        calendar.Date `json:"on" format:"date" example:"2026-03-17"`
		}
	}
	visitChange struct {
		VisitPath
		Versioned
		Body struct {
			OfficerID string        `json:"officer_id" minLength:"1" maxLength:"64"`
			On        calendar.Date `json:"on" format:"date" example:"2026-03-18"`
		}
	}
	visitDone struct {
		VisitPath
		Versioned
		Body struct {
			DoneOn   calendar.Date `json:"done_on,omitempty" format:"date" doc:"Today when left out."`
			Findings string        `json:"findings" minLength:"1" maxLength:"4000" example:"Plants are up on half of the beds; the door closes again."`
			Dealt    []string      `json:"dealt,omitempty" maxItems:"50" example:"[\"schedule\"]" doc:"Keys of the reasons that it dealt with; they lose their points until they grow."`
		}
	}
	visitMissed struct {
		VisitPath
		Versioned
		Body struct {
			Why string `json:"why" minLength:"1" maxLength:"2000" example:"The road was under water"`
		}
	}
	newVisitRequest struct {
		FarmPath
		Once
		Body struct {
			ID   string `json:"id,omitempty" maxLength:"64" doc:"Your own id for it (UUIDv7), or leave it to us."`
			Text string `json:"text" minLength:"1" maxLength:"2000" example:"Please look at the water before Easter"`
		}
	}
	visitRequestAnswer struct {
		Body app.VisitRequest
	}
	visitRequests struct {
		Body struct {
			Items []app.VisitRequest `json:"items"`
		}
	}
)

func (f Face) visits(api huma.API) {
	const tag = "visits"
	register(api, op("list-visit-needs", http.MethodGet, "/api/visit-needs", tag, "Which farms need a visit, and why"), f.listVisitNeeds)
	register(api, op("list-visits", http.MethodGet, "/api/visits", tag, "Visits, by day"), f.listVisits)
	register(api, op("plan-visit", http.MethodPost, "/api/visits", tag, "Plan a visit for an officer and a day; its reasons and agenda are kept"), f.planVisit)
	register(api, op("get-visit", http.MethodGet, "/api/visits/{id}", tag, "A visit"), f.getVisit)
	register(api, op("change-visit", http.MethodPut, "/api/visits/{id}", tag, "Give a planned visit another officer or day"), f.changeVisit)
	register(api, op("finish-visit", http.MethodPost, "/api/visits/{id}/done", tag, "Say what a visit found and dealt with"), f.finishVisit)
	register(api, op("miss-visit", http.MethodPost, "/api/visits/{id}/missed", tag, "Say why nobody went"), f.missVisit)
	register(api, op("ask-for-visit", http.MethodPost, "/api/farms/{id}/visit-requests", tag, "Ask for a visit"), f.askForVisit)
	register(api, op("list-visit-requests", http.MethodGet, "/api/farms/{id}/visit-requests", tag, "Wishes for a visit, answered ones too"), f.listVisitRequests)
}

func (f Face) listVisitNeeds(ctx context.Context, in *needList) (*needAnswer, error) {
	list, err := f.VisitNeeds.List(ctx, actor(ctx), in.Farm, in.Branch, in.Limit)
	return &needAnswer{list}, err
}

// days reads the first and the last day of a question.
func days(from, to string) (first, last calendar.Date, err error) {
	if first, err = day("from", from); err != nil {
		return 0, 0, err
	}
	last, err = day("to", to)
	return first, last, err
}

func (f Face) listVisits(ctx context.Context, in *visitList) (*visitPage, error) {
	who := actor(ctx)
	from, to, err := days(in.From, in.To)
	if err != nil {
		return nil, err
	}
	q := app.VisitQuery{From: from, To: to, OfficerID: in.Officer, FarmID: in.Farm, Branch: in.Branch, State: in.State, Cursor: in.Cursor, Limit: in.Limit}
	if in.Mine {
		q.OfficerID = who.PersonID
	}
	page, err := f.Visits.List(ctx, who, q)
	return &visitPage{page}, err
}

func visitOf(v app.VisitLine, err error) (*visitAnswer, error) {
	return &visitAnswer{etag(v.Version), v}, err
}

func (f Face) planVisit(ctx context.Context, in *newVisit) (*visitAnswer, error) {
	return once(f, ctx, in.Key, "plan-visit", in, func(ctx context.Context) (*visitAnswer, error) {
		return visitOf(f.Visits.Plan(ctx, actor(ctx), app.PlanVisit(in.Body)))
	})
}

func (f Face) getVisit(ctx context.Context, in *VisitPath) (*visitAnswer, error) {
	return visitOf(f.Visits.One(ctx, actor(ctx), in.ID))
}

func (f Face) changeVisit(ctx context.Context, in *visitChange) (*visitAnswer, error) {
	v, err := in.version()
	if err != nil {
		return nil, err
	}
	return visitOf(f.Visits.Change(ctx, actor(ctx), in.ID, v, in.Body.OfficerID, in.Body.On))
}

func (f Face) finishVisit(ctx context.Context, in *visitDone) (*visitAnswer, error) {
	v, err := in.version()
	if err != nil {
		return nil, err
	}
	return visitOf(f.Visits.Done(ctx, actor(ctx), in.ID, v, app.VisitReport(in.Body)))
}

func (f Face) missVisit(ctx context.Context, in *visitMissed) (*visitAnswer, error) {
	v, err := in.version()
	if err != nil {
		return nil, err
	}
	return visitOf(f.Visits.Missed(ctx, actor(ctx), in.ID, v, in.Body.Why))
}

func (f Face) askForVisit(ctx context.Context, in *newVisitRequest) (*visitRequestAnswer, error) {
	return once(f, ctx, in.Key, "ask-for-visit "+in.FarmPath.ID, in, func(ctx context.Context) (*visitRequestAnswer, error) {
		r, err := f.Visits.Ask(ctx, actor(ctx), in.Body.ID, in.FarmPath.ID, in.Body.Text)
		return &visitRequestAnswer{r}, err
	})
}

func (f Face) listVisitRequests(ctx context.Context, in *FarmPath) (*visitRequests, error) {
	items, err := f.Visits.Requests(ctx, actor(ctx), in.ID)
	out := &visitRequests{}
	out.Body.Items = items
	return out, err
}
