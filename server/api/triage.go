package api

import (
	"context"
	"net/http"
	"slices"
	"strings"

	"tendfold/checklists"
	"tendfold/domain"

	"github.com/danielgtaylor/huma/v2"
)

type (
	triageQuery struct {
		LessonsOf
		SameAsBefore
	}
	triageAnswer struct {
		Status int
		ETag   string `header:"ETag"`
		Body   *triageBody
	}
	triageBody struct {
		Cards []*checklists.TriageCard `json:"cards" doc:"By sign; a sign without a card has its first words alone."`
	}
)

func (f Face) triage(api huma.API) {
	register(api, op("get-triage", http.MethodGet, "/api/triage/{enterprise}", "triage", "The triage cards of an enterprise"), f.getTriage)
}

func (f Face) getTriage(_ context.Context, in *triageQuery) (*triageAnswer, error) {
	p, ok := f.Packs.Pack(in.Enterprise)
	if !ok {
		return nil, domain.NotFound("pack")
	}
	body := &triageBody{Cards: []*checklists.TriageCard{}}
	for _, c := range p.Cards {
		body.Cards = append(body.Cards, c)
	}
	slices.SortFunc(body.Cards, func(a, b *checklists.TriageCard) int { return strings.Compare(a.Sign, b.Sign) })
	out := &triageAnswer{}
	out.Status, out.ETag, out.Body = unlessSame(in.SameAsBefore, body)
	return out, nil
}
