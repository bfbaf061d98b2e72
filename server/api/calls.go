package api

import (
	"context"
	"net/http"
	"time"

	"tendfold/domain/calendar"
	"tendfold/domain/ticket"
	"tendfold/domain/triage"
	"tendfold/server/app"

	"github.com/danielgtaylor/huma/v2"
)

type (
	callList struct {
		Listed
		Farm   string `query:"farm" maxLength:"64"`
		Mine   bool   `query:"mine" doc:"That I took."`
		NoFarm bool   `query:"no_farm" doc:"Whose farm is not known yet."`
	}
	callPage struct {
		Body app.Page[app.CallLine]
	}
	// CallPath names a call in an address; huma reads embedded structs only
	// where they are exported.
	CallPath struct {
		ID string `path:"id" maxLength:"64"`
	}
	callAnswer struct {
		ETag string `header:"ETag"`
		Body app.CallLine
	}
	promiseBody struct {
		Kind  string        `json:"kind" enum:"call-back,visit,other"`
		Text  string        `json:"text" minLength:"1" maxLength:"2000" example:"I ring again when the rain has stopped"`
		DueOn calendar.Date `json:"due_on" format:"date" example:"2026-03-16"`
	}
	callTicket struct {
		ID         string            `json:"id,omitempty" maxLength:"64" doc:"Your own id for it (UUIDv7), or leave it to us."`
		UnitID     string            `json:"unit_id,omitempty" maxLength:"64"`
		Title      string            `json:"title" minLength:"1" maxLength:"500" example:"Which leaves may be fed"`
		Impact     ticket.Impact     `json:"impact" enum:"high,middle,low"`
		TimeToLoss ticket.TimeToLoss `json:"time_to_loss" enum:"hours,week,longer"`
		Danger     bool              `json:"danger,omitempty" doc:"A person is in danger."`
		Outcome    string            `json:"outcome,omitempty" maxLength:"2000" example:"Told her: pawpaw and cocoyam, never salted" doc:"How the question was answered: the ticket is settled at once."`
		Learned    string            `json:"learned,omitempty" maxLength:"2000"`
	}
	// CallBody is what is noted of a call.
	CallBody struct {
		FarmID   string        `json:"farm_id,omitempty" maxLength:"64" doc:"Leave it out while the farm is not known."`
		PersonID string        `json:"person_id,omitempty" maxLength:"64" doc:"Who called, if known."`
		Phone    string        `json:"phone,omitempty" maxLength:"100" doc:"In any form; kept as E.164."`
		Channel  string        `json:"channel" enum:"phone,text,chat,in-person"`
		Said     string        `json:"said,omitempty" maxLength:"2000" example:"The leaves are eaten from below"`
		Advice   string        `json:"advice,omitempty" maxLength:"2000" example:"Pick them off at dusk, no powder"`
		Goes     bool          `json:"goes,omitempty" doc:"It is still going on."`
		Promises []promiseBody `json:"promises,omitempty" maxItems:"10" doc:"On a change: those to add."`
		TicketID string        `json:"ticket_id,omitempty" maxLength:"64" doc:"The ticket that it is about; its thread hears the advice, else what was said."`
		Ticket   *callTicket   `json:"ticket,omitempty" doc:"A ticket to open."`
		Card     *cardWalked   `json:"card,omitempty" doc:"The triage card that was walked; it counts once the farm is known."`
	}
	cardWalked struct {
		Enterprise string         `json:"enterprise" maxLength:"64"`
		Sign       string         `json:"sign" maxLength:"64"`
		Version    int            `json:"version" minimum:"1"`
		Language   string         `json:"language" enum:"en,fr" doc:"In which it was said."`
		Answers    []triage.Given `json:"answers" maxItems:"20"`
		Why        string         `json:"why,omitempty" maxLength:"2000" doc:"Why the ticket says something else than the card."`
		Text       string         `json:"text,omitempty" maxLength:"2000" doc:"As sent to the farm by text message."`
	}
	toldCall struct {
		CallPath
		Body struct {
			How string `json:"how" minLength:"1" maxLength:"2000" example:"District veterinary post, by phone"`
		}
	}
	vetClockList struct {
		Body struct {
			Items []app.VetClock `json:"items"`
		}
	}
	newCall struct {
		Once
		Body struct {
			ID        string    `json:"id,omitempty" maxLength:"64" doc:"Your own id for it (UUIDv7), or leave it to us."`
			StartedAt time.Time `json:"started_at,omitzero" doc:"Now when left out."`
			CallBody
		}
	}
	callChange struct {
		CallPath
		Versioned
		Body CallBody
	}
)

func (f Face) calls(api huma.API) {
	const tag = "calls"
	register(api, op("list-calls", http.MethodGet, "/api/calls", tag, "Calls, newest first"), f.listCalls)
	register(api, op("note-call", http.MethodPost, "/api/calls", tag, "Note a call, with its advice, promises and ticket"), f.noteCall)
	register(api, op("get-call", http.MethodGet, "/api/calls/{id}", tag, "A call"), f.getCall)
	register(api, op("change-call", http.MethodPut, "/api/calls/{id}", tag, "Change a call that goes on, or add what was missing"), f.changeCall)
	register(api, op("tell-call", http.MethodPost, "/api/calls/{id}/told", tag, "Note that the veterinary service has been told"), f.tellCall)
	register(api, op("list-vet-clocks", http.MethodGet, "/api/vet-clocks", tag, "Of which farms the veterinary service must be told, and by when"), f.listVetClocks)
}

func (f Face) listCalls(ctx context.Context, in *callList) (*callPage, error) {
	who := actor(ctx)
	q := app.CallQuery{FarmID: in.Farm, NoFarm: in.NoFarm, Cursor: in.Cursor, Limit: in.Limit}
	if in.Mine {
		q.TakenBy = who.PersonID
	}
	page, err := f.Calls.List(ctx, who, q)
	return &callPage{page}, err
}

func (b CallBody) note() app.CallNote {
	n := app.CallNote{
		FarmID: b.FarmID, PersonID: b.PersonID, Phone: b.Phone, Channel: b.Channel, Said: b.Said, Advice: b.Advice, Goes: b.Goes, TicketID: b.TicketID,
	}
	for _, p := range b.Promises {
		n.Promises = append(n.Promises, app.NewPromise(p))
	}
	if c := b.Card; c != nil {
		given := app.CardGiven(*c)
		n.Card = &given
	}
	if t := b.Ticket; t != nil {
		open := app.CallTicket(*t)
		n.Ticket = &open
	}
	return n
}

func call(c app.CallLine, err error) (*callAnswer, error) {
	return &callAnswer{etag(c.Version), c}, err
}

func (f Face) noteCall(ctx context.Context, in *newCall) (*callAnswer, error) {
	return once(f, ctx, in.Key, "note-call", in, func(ctx context.Context) (*callAnswer, error) {
		n := in.Body.note()
		n.ID, n.StartedAt = in.Body.ID, in.Body.StartedAt
		return call(f.Calls.Note(ctx, actor(ctx), n))
	})
}

func (f Face) getCall(ctx context.Context, in *CallPath) (*callAnswer, error) {
	return call(f.Calls.One(ctx, actor(ctx), in.ID))
}

func (f Face) changeCall(ctx context.Context, in *callChange) (*callAnswer, error) {
	v, err := in.version()
	if err != nil {
		return nil, err
	}
	n := in.Body.note()
	n.ID = in.ID
	return call(f.Calls.Change(ctx, actor(ctx), v, n))
}

func (f Face) tellCall(ctx context.Context, in *toldCall) (*callAnswer, error) {
	return call(f.Calls.Told(ctx, actor(ctx), in.ID, in.Body.How))
}

func (f Face) listVetClocks(ctx context.Context, _ *struct{}) (*vetClockList, error) {
	items, err := f.Calls.VetClocks(ctx, actor(ctx))
	out := &vetClockList{}
	out.Body.Items = items
	return out, err
}
