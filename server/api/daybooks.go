package api

import (
	"context"
	"net/http"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/server/app"
	"tendfold/server/paper"

	"github.com/danielgtaylor/huma/v2"
)

type (
	// FromDay asks for the two weeks that begin on a day.
	FromDay struct {
		From string `query:"from" format:"date" maxLength:"10" doc:"The first of fourteen days; without it the fourteen days to today, or for a page to be printed those from today."`
	}
	daybookQuery struct {
		FromDay
		ID string `path:"id" maxLength:"64"`
	}
	daybookAnswer     struct{ Body app.DaybookPage }
	daybookPaperQuery struct {
		FromDay
		InLanguage
		ID string `path:"id" maxLength:"64"`
	}
)

func (f Face) daybooks(api huma.API) {
	const tag = "daybook"
	register(api, op("get-daybook", http.MethodGet, "/api/units/{id}/daybook", tag, "Two weeks of a unit's daybook as they stand, to type a page in"), f.getDaybook)
	register(api, op("get-daybook-paper", http.MethodGet, "/api/units/{id}/daybook/paper", tag, "The empty page of a unit's daybook as PDF, A4"), f.daybookPaper)
}

// day is the day asked for, zero for none.
func (q FromDay) day() (calendar.Date, error) {
	if q.From == "" {
		return 0, nil
	}
	on, err := calendar.ParseDate(q.From)
	if err != nil {
		return 0, domain.Invalid("invalid", "This is no day.", domain.Field{Path: "query.from", Code: "malformed", Text: "Write the day as 2026-03-12."})
	}
	return on, nil
}

func (f Face) getDaybook(ctx context.Context, in *daybookQuery) (*daybookAnswer, error) {
	from, err := in.day()
	if err != nil {
		return nil, err
	}
	page, err := f.Daybooks.Page(ctx, actor(ctx), in.ID, from)
	return &daybookAnswer{page}, err
}

func (f Face) daybookPaper(ctx context.Context, in *daybookPaperQuery) (*fileAnswer, error) {
	from, err := in.day()
	if err != nil {
		return nil, err
	}
	sheet, err := f.Daybooks.Sheet(ctx, actor(ctx), in.ID, from, in.spoken(ctx))
	if err != nil {
		return nil, err
	}
	pdf, err := paper.Daybook{DaybookSheet: sheet}.PDF()
	if err != nil {
		return nil, &domain.Error{Kind: domain.KindInternal, Code: "paper", Err: err}
	}
	return &fileAnswer{"application/pdf", `inline; filename="daybook.pdf"`, pdf}, nil
}
