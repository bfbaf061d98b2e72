package api

import (
	"context"
	"net/http"
	"time"

	"tendfold/domain/ticket"
	"tendfold/server/app"

	"github.com/danielgtaylor/huma/v2"
)

type (
	ticketList struct {
		Listed
		Mine    bool           `query:"mine" doc:"In my hands."`
		Nobody  bool           `query:"nobody" doc:"In nobody's hands."`
		Branch  string         `query:"branch" maxLength:"64"`
		Farm    string         `query:"farm" maxLength:"64"`
		State   ticket.State   `query:"state" enum:"reported,assessed,in-hand,waiting,settled" doc:"Without it, all but the settled."`
		Urgency ticket.Urgency `query:"urgency" enum:"person-in-danger,animals-at-risk,losing-time,routine,no-hurry"`
		Origin  ticket.Origin  `query:"origin" enum:"sweep,call,caretaker,visit"`
		Rule    string         `query:"rule" maxLength:"64"`
		Overdue bool           `query:"overdue" doc:"Due before now."`
		Due     time.Time      `query:"due_before" doc:"Due before this instant, or overdue."`
	}
	ticketPage struct {
		Body app.Page[app.TicketLine]
	}
	// TicketPath names a ticket in an address. It is exported because huma reads
	// embedded structs only then.
	TicketPath struct {
		ID string `path:"id" maxLength:"64"`
	}
	threadAnswer struct {
		ETag string `header:"ETag"`
		Body app.Thread
	}
	newTicket struct {
		Once
		Body struct {
			ID         string            `json:"id,omitempty" maxLength:"64" doc:"Your own id for it (UUIDv7), or leave it to us."`
			FarmID     string            `json:"farm_id" minLength:"1" maxLength:"64"`
			UnitID     string            `json:"unit_id,omitempty" maxLength:"64"`
			Title      string            `json:"title" minLength:"1" maxLength:"500" example:"The pump has stopped"`
			Impact     ticket.Impact     `json:"impact" enum:"high,middle,low"`
			TimeToLoss ticket.TimeToLoss `json:"time_to_loss" enum:"hours,week,longer"`
			Danger     bool              `json:"danger,omitempty" doc:"A person is in danger."`
			Origin     ticket.Origin     `json:"origin" enum:"call,visit"`
			CallID     string            `json:"call_id,omitempty" maxLength:"64"`
			VisitID    string            `json:"visit_id,omitempty" maxLength:"64"`
		}
	}
	ticketAssess struct {
		TicketPath
		Versioned
		Body struct {
			Impact     ticket.Impact     `json:"impact" enum:"high,middle,low"`
			TimeToLoss ticket.TimeToLoss `json:"time_to_loss" enum:"hours,week,longer"`
			Danger     bool              `json:"danger,omitempty"`
			Why        string            `json:"why,omitempty" maxLength:"2000" doc:"Needed where it differs from what stood there."`
		}
	}
	ticketMove struct {
		TicketPath
		Versioned
		Body struct {
			To        ticket.State     `json:"to" enum:"in-hand,waiting,settled,assessed" doc:"assessed gives back, or reopens a settled one."`
			WaitingOn ticket.WaitingOn `json:"waiting_on,omitempty" enum:"farm,supplier,electrician,vet,us"`
			Note      string           `json:"note,omitempty" maxLength:"2000"`
			Outcome   string           `json:"outcome,omitempty" maxLength:"2000" doc:"How it ended; needed to settle."`
			Learned   string           `json:"learned,omitempty" maxLength:"2000"`
		}
	}
	ticketHandOver struct {
		TicketPath
		Versioned
		Body struct {
			To   string `json:"to" minLength:"1" maxLength:"64" doc:"The person who takes it over."`
			Note string `json:"note,omitempty" maxLength:"2000"`
		}
	}
	ticketDue struct {
		TicketPath
		Versioned
		Body struct {
			PlanBy time.Time `json:"plan_by"`
			Why    string    `json:"why" minLength:"1" maxLength:"2000"`
		}
	}
	ticketJoin struct {
		TicketPath
		Versioned
		Body struct {
			Into string `json:"into" minLength:"1" maxLength:"64" doc:"The ticket that goes on."`
		}
	}
	ticketSay struct {
		TicketPath
		Once
		Body struct {
			Text   string `json:"text" minLength:"1" maxLength:"2000"`
			Inside bool   `json:"inside,omitempty" doc:"For staff alone; else the farm reads it too."`
			ByText bool   `json:"by_text,omitempty" doc:"Send it to the caretaker as a text message too."`
		}
	}
)

func (f Face) tickets(api huma.API) {
	const tag = "tickets"
	register(api, op("list-tickets", http.MethodGet, "/api/tickets", tag, "The queue: what is lost first stands first"), f.listTickets)
	register(api, op("open-ticket", http.MethodPost, "/api/tickets", tag, "Open a ticket by hand"), f.openTicket)
	register(api, op("get-ticket", http.MethodGet, "/api/tickets/{id}", tag, "A ticket and its thread"), f.getTicket)
	register(api, op("assess-ticket", http.MethodPost, "/api/tickets/{id}/assess", tag, "Say how much is at stake and how soon it is lost"), f.assessTicket)
	register(api, op("move-ticket", http.MethodPost, "/api/tickets/{id}/move", tag, "Take in hand, give back, wait, settle or reopen"), f.moveTicket)
	register(api, op("hand-over-ticket", http.MethodPost, "/api/tickets/{id}/hand-over", tag, "Give it to another person of the firm"), f.handOverTicket)
	register(api, op("move-ticket-due", http.MethodPost, "/api/tickets/{id}/due", tag, "Set another time for the plan"), f.moveTicketDue)
	register(api, op("join-ticket", http.MethodPost, "/api/tickets/{id}/join", tag, "Make it part of another ticket of the farm"), f.joinTicket)
	register(api, op("ask-on-ticket", http.MethodPost, "/api/tickets/{id}/ask", tag, "Ask the farm to do something: it stands on the caretaker's day until it is answered"), f.askOnTicket)
	register(api, op("say-on-ticket", http.MethodPost, "/api/tickets/{id}/say", tag, "Add a note inside the firm, or a message to the farm"), f.sayOnTicket)
}

func (f Face) listTickets(ctx context.Context, in *ticketList) (*ticketPage, error) {
	who := actor(ctx)
	q := app.TicketQuery{
		Nobody: in.Nobody, Branch: in.Branch, FarmID: in.Farm, State: in.State, Urgency: in.Urgency, Origin: in.Origin,
		Rule: in.Rule, DueBefore: in.Due, Cursor: in.Cursor, Limit: in.Limit,
	}
	if in.Mine {
		q.Holder = who.PersonID
	}
	if in.Overdue {
		q.OverdueAt = f.Tickets.Now()
	}
	page, err := f.Tickets.Queue(ctx, who, q)
	return &ticketPage{page}, err
}

func thread(t app.Thread, err error) (*threadAnswer, error) {
	return &threadAnswer{etag(t.Version), t}, err
}

func (f Face) openTicket(ctx context.Context, in *newTicket) (*threadAnswer, error) {
	return once(f, ctx, in.Key, "open-ticket", in, func(ctx context.Context) (*threadAnswer, error) {
		b := in.Body
		return thread(f.Tickets.Open(ctx, actor(ctx), app.OpenTicket{
			ID: b.ID, FarmID: b.FarmID, UnitID: b.UnitID, Title: b.Title, Impact: b.Impact, TimeToLoss: b.TimeToLoss,
			Danger: b.Danger, Origin: b.Origin, CallID: b.CallID, VisitID: b.VisitID,
		}))
	})
}

func (f Face) getTicket(ctx context.Context, in *TicketPath) (*threadAnswer, error) {
	return thread(f.Tickets.Thread(ctx, actor(ctx), in.ID))
}

func (f Face) assessTicket(ctx context.Context, in *ticketAssess) (*threadAnswer, error) {
	v, err := in.version()
	if err != nil {
		return nil, err
	}
	b := in.Body
	return thread(f.Tickets.Assess(ctx, actor(ctx), in.ID, v, ticket.Assessment{Impact: b.Impact, TimeToLoss: b.TimeToLoss, Danger: b.Danger, Why: b.Why}))
}

func (f Face) moveTicket(ctx context.Context, in *ticketMove) (*threadAnswer, error) {
	v, err := in.version()
	if err != nil {
		return nil, err
	}
	b := in.Body
	return thread(f.Tickets.Move(ctx, actor(ctx), in.ID, v, app.TicketMove{To: b.To, WaitingOn: b.WaitingOn, Note: b.Note, Outcome: b.Outcome, Learned: b.Learned}))
}

func (f Face) handOverTicket(ctx context.Context, in *ticketHandOver) (*threadAnswer, error) {
	v, err := in.version()
	if err != nil {
		return nil, err
	}
	return thread(f.Tickets.HandOver(ctx, actor(ctx), in.ID, v, in.Body.To, in.Body.Note))
}

func (f Face) moveTicketDue(ctx context.Context, in *ticketDue) (*threadAnswer, error) {
	v, err := in.version()
	if err != nil {
		return nil, err
	}
	return thread(f.Tickets.MoveDue(ctx, actor(ctx), in.ID, v, in.Body.PlanBy, in.Body.Why))
}

func (f Face) joinTicket(ctx context.Context, in *ticketJoin) (*threadAnswer, error) {
	v, err := in.version()
	if err != nil {
		return nil, err
	}
	return thread(f.Tickets.Join(ctx, actor(ctx), in.ID, v, in.Body.Into))
}

func (f Face) sayOnTicket(ctx context.Context, in *ticketSay) (*threadAnswer, error) {
	return once(f, ctx, in.Key, "say-on-ticket "+in.ID, in, func(ctx context.Context) (*threadAnswer, error) {
		return thread(f.Tickets.Say(ctx, actor(ctx), in.ID, in.Body.Text, in.Body.Inside, in.Body.ByText))
	})
}
