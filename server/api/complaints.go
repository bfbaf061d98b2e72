package api

import (
	"context"
	"net/http"

	"tendfold/server/app"

	"github.com/danielgtaylor/huma/v2"
)

type (
	complaintList struct {
		Farm string `query:"farm" maxLength:"64"`
	}
	complaintsAnswer struct {
		Body struct {
			Items []app.Complaint `json:"items"`
		}
	}
	complaintAnswer struct {
		ETag string `header:"ETag"`
		Body app.Complaint
	}
	newComplaint struct {
		Once
		Body struct {
			FarmID   string `json:"farm_id" minLength:"1" maxLength:"64"`
			TicketID string `json:"ticket_id,omitempty" maxLength:"64"`
			PersonID string `json:"person_id,omitempty" maxLength:"64" doc:"Who complains, if known; a text acknowledges it."`
			Channel  string `json:"channel" enum:"phone,text,chat,in-person"`
			Said     string `json:"said" minLength:"1" maxLength:"2000"`
		}
	}
	complaintStep struct {
		Versioned
		ID   string `path:"id" maxLength:"64"`
		Body struct {
			To       app.ComplaintState `json:"to" enum:"assessed,answered,closed"`
			Severity string             `json:"severity,omitempty" enum:"low,middle,high"`
			Safety   bool               `json:"safety,omitempty"`
			HolderID string             `json:"holder_id,omitempty" maxLength:"64" doc:"Who looks into it; you, when left out."`
			Found    string             `json:"found,omitempty" maxLength:"2000"`
			Decision string             `json:"decision,omitempty" maxLength:"2000"`
			Content  string             `json:"content,omitempty" enum:"yes,no"`
		}
	}
	filterAnswer struct {
		Body struct {
			Items []app.SavedFilter `json:"items"`
		}
	}
	filterPut struct {
		Name string `path:"name" maxLength:"120"`
		Body app.Filter
	}
	filterName struct {
		Name string `path:"name" maxLength:"120"`
	}
	ticketLink struct {
		TicketPath
		Body struct {
			Other string `json:"other" minLength:"1" maxLength:"64"`
			Off   bool   `json:"off,omitempty" doc:"They do not belong together after all."`
		}
	}
)

func (f Face) complaints(api huma.API) {
	const tag = "complaints"
	register(api, op("list-complaints", http.MethodGet, "/api/complaints", tag, "Complaints about the firm, open ones first"), f.listComplaints)
	register(api, op("receive-complaint", http.MethodPost, "/api/complaints", tag, "Take a complaint: it gets a number and is acknowledged at once"), f.receiveComplaint)
	register(api, op("step-complaint", http.MethodPost, "/api/complaints/{id}/step", tag, "Assess it, answer it, close it"), f.stepComplaint)
	register(api, op("list-filters", http.MethodGet, "/api/me/filters", "tickets", "My saved filters of the queue"), f.listFilters)
	register(api, op("save-filter", http.MethodPut, "/api/me/filters/{name}", "tickets", "Save a filter under a name"), f.saveFilter)
	register(api, op("drop-filter", http.MethodDelete, "/api/me/filters/{name}", "tickets", "Forget a saved filter"), f.dropFilter)
	register(api, op("link-tickets", http.MethodPost, "/api/tickets/{id}/link", "tickets", "Say that two tickets belong together and stay two"), f.linkTickets)
}

func (f Face) listComplaints(ctx context.Context, in *complaintList) (*complaintsAnswer, error) {
	list, err := f.Complaints.List(ctx, actor(ctx), in.Farm)
	out := &complaintsAnswer{}
	out.Body.Items = list
	return out, err
}

func (f Face) receiveComplaint(ctx context.Context, in *newComplaint) (*complaintAnswer, error) {
	return once(f, ctx, in.Key, "receive-complaint", in, func(ctx context.Context) (*complaintAnswer, error) {
		b := in.Body
		c, err := f.Complaints.Receive(ctx, actor(ctx), app.NewComplaint{FarmID: b.FarmID, TicketID: b.TicketID, PersonID: b.PersonID, Channel: b.Channel, Said: b.Said})
		return &complaintAnswer{etag(c.Version), c}, err
	})
}

func (f Face) stepComplaint(ctx context.Context, in *complaintStep) (*complaintAnswer, error) {
	v, err := in.version()
	if err != nil {
		return nil, err
	}
	b := in.Body
	c, err := f.Complaints.Step(ctx, actor(ctx), in.ID, v, app.ComplaintStep{
		To: b.To, Severity: b.Severity, Safety: b.Safety, HolderID: b.HolderID, Found: b.Found, Decision: b.Decision, Content: b.Content,
	})
	return &complaintAnswer{etag(c.Version), c}, err
}

func filters(list []app.SavedFilter, err error) (*filterAnswer, error) {
	out := &filterAnswer{}
	out.Body.Items = list
	return out, err
}

func (f Face) listFilters(ctx context.Context, _ *struct{}) (*filterAnswer, error) {
	return filters(f.Tickets.Filters(ctx, actor(ctx)))
}

func (f Face) saveFilter(ctx context.Context, in *filterPut) (*filterAnswer, error) {
	return filters(f.Tickets.SaveFilter(ctx, actor(ctx), app.SavedFilter{Name: in.Name, Filter: in.Body}))
}

func (f Face) dropFilter(ctx context.Context, in *filterName) (*filterAnswer, error) {
	return filters(f.Tickets.DropFilter(ctx, actor(ctx), in.Name))
}

func (f Face) linkTickets(ctx context.Context, in *ticketLink) (*threadAnswer, error) {
	return thread(f.Tickets.Link(ctx, actor(ctx), in.ID, in.Body.Other, in.Body.Off))
}
