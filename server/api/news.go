package api

import (
	"context"
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"time"

	"tendfold/domain"
	"tendfold/server/app"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humagin"
)

type (
	newsFollow struct {
		Last string `header:"Last-Event-ID" maxLength:"20" doc:"The id of the last event that arrived; without it, from now on."`
		Auth string `header:"Authorization" maxLength:"4000"`
	}
	hereNote struct {
		TicketPath
		Body struct {
			Leaving bool `json:"leaving,omitempty" doc:"It is closed again."`
		}
	}
	hereAnswer struct {
		Body struct {
			People []app.Present `json:"people" doc:"Who else has it open."`
		}
	}
)

func (f Face) news(api huma.API) {
	const tag = "tickets"
	follow := op("follow-news", http.MethodGet, "/api/news", tag, "What happens to tickets, as it happens (server-sent events)")
	follow.Responses = map[string]*huma.Response{"200": {
		Description: "Events ticket (a ticket_id and a kind), at (nothing but an id) and reset (read everything again). A comment every 15 seconds. It ends within 10 minutes; come back with Last-Event-ID.",
		Content:     map[string]*huma.MediaType{"text/event-stream": {Schema: &huma.Schema{Type: "string"}}},
	}}
	huma.Register(api, follow, f.followNews)
	register(api, op("be-here", http.MethodPost, "/api/tickets/{id}/here", tag, "Say that I have a ticket open, and hear who else has"), f.beHere)
}

func (f Face) followNews(ctx context.Context, in *newsFollow) (*huma.StreamResponse, error) {
	who := actor(ctx)
	if err := f.Feed.May(who); err != nil {
		return nil, problem(ctx, err)
	}
	after := int64(0)
	if in.Last != "" {
		var err error
		if after, err = strconv.ParseInt(in.Last, 10, 64); err != nil || after < 0 {
			return nil, problem(ctx, domain.Invalid("last-event", "Last-Event-ID is the id of an event, a whole number."))
		}
	}
	token, _ := bearer(in.Auth)
	still := func(ctx context.Context) error {
		_, err := f.SignIn.Authenticate(ctx, token)
		return err
	}
	return &huma.StreamResponse{Body: func(c huma.Context) { f.stream(c, who, after, still) }}, nil
}

func (f Face) stream(c huma.Context, who app.Actor, after int64, still func(ctx context.Context) error) {
	w := humagin.Unwrap(c).Writer
	control := http.NewResponseController(w)
	_ = control.SetReadDeadline(time.Time{}) // nothing more is read; a deadline would end the request
	begun := false
	send := func(format string, args ...any) error {
		if !begun {
			begun = true
			w.Header().Set("Content-Type", "text/event-stream")
			w.Header().Set("X-Accel-Buffering", "no") // a proxy passes on what comes
			w.WriteHeader(http.StatusOK)
		}
		_ = control.SetWriteDeadline(time.Now().Add(20 * time.Second)) // a desk that takes nothing is gone
		if _, err := fmt.Fprintf(w, format, args...); err != nil {
			return err
		}
		return control.Flush()
	}
	err := f.Feed.Follow(c.Context(), who, after, app.Signals{
		News: func(n app.News) error {
			return send("id: %d\nevent: ticket\ndata: {\"ticket_id\":%q,\"kind\":%q}\n\n", n.Seq, strings.ToValidUTF8(n.TicketID, ""), n.Kind)
		},
		At:    func(seq int64) error { return send("id: %d\nevent: at\ndata: {}\n\n", seq) },
		Reset: func(seq int64) error { return send("id: %d\nevent: reset\ndata: {}\n\n", seq) },
		Beat:  func() error { return send(": here\n\n") },
	}, still)
	if err != nil && !begun {
		writeProblem(w, problem(c.Context(), err))
	}
}

func (f Face) beHere(ctx context.Context, in *hereNote) (*hereAnswer, error) {
	people, err := f.Feed.Here(ctx, actor(ctx), in.ID, in.Body.Leaving)
	out := &hereAnswer{}
	out.Body.People = people
	return out, err
}
