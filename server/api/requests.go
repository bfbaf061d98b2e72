package api

import (
	"context"
	"net/http"

	"tendfold/domain/calendar"
	"tendfold/server/app"

	"github.com/danielgtaylor/huma/v2"
)

type (
	requestBody struct {
		UnitID string        `json:"unit_id,omitempty" maxLength:"64" doc:"On a ticket, its own unit."`
		Text   string        `json:"text" minLength:"1" maxLength:"1000" example:"Close the gap under the door"`
		From   calendar.Date `json:"from,omitempty" format:"date" doc:"The first day on which the phone shows it; without it today."`
		DueOn  calendar.Date `json:"due_on" format:"date"`
	}
	newFarmRequest struct {
		Once
		FarmPath
		Body requestBody
	}
	newTicketRequest struct {
		Once
		TicketPath
		Body requestBody
	}
	requestAnswer struct{ Body app.Request }
	requestList   struct {
		Body struct {
			Items []app.Request `json:"items"`
		}
	}
	requestPath struct {
		ID string `path:"id" maxLength:"64"`
	}
)

func (f Face) requests(api huma.API) {
	const tag = "requests"
	register(api, op("ask-farm", http.MethodPost, "/api/farms/{id}/requests", tag, "Ask the people of a farm to do something"), f.askFarm)
	register(api, op("list-requests", http.MethodGet, "/api/farms/{id}/requests", tag, "What a farm was asked for: the open ones, and the last four weeks"), f.listRequests)
	register(api, op("withdraw-request", http.MethodPost, "/api/requests/{id}/withdraw", tag, "Take a request back before it is answered"), f.withdrawRequest)
}

func (b requestBody) request() app.NewRequest {
	return app.NewRequest{UnitID: b.UnitID, Text: b.Text, From: b.From, DueOn: b.DueOn}
}

func (f Face) askFarm(ctx context.Context, in *newFarmRequest) (*requestAnswer, error) {
	return once(f, ctx, in.Key, "ask-farm "+in.ID, in, func(ctx context.Context) (*requestAnswer, error) {
		r, err := f.Requests.AskFarm(ctx, actor(ctx), in.ID, in.Body.request())
		return &requestAnswer{r}, err
	})
}

func (f Face) askOnTicket(ctx context.Context, in *newTicketRequest) (*threadAnswer, error) {
	return once(f, ctx, in.Key, "ask-on-ticket "+in.ID, in, func(ctx context.Context) (*threadAnswer, error) {
		return thread(f.Requests.AskOnTicket(ctx, actor(ctx), in.ID, in.Body.request()))
	})
}

func (f Face) listRequests(ctx context.Context, in *FarmPath) (*requestList, error) {
	out := &requestList{}
	var err error
	out.Body.Items, err = f.Requests.Of(ctx, actor(ctx), in.ID)
	return out, err
}

func (f Face) withdrawRequest(ctx context.Context, in *requestPath) (*requestAnswer, error) {
	r, err := f.Requests.Withdraw(ctx, actor(ctx), in.ID)
	return &requestAnswer{r}, err
}
