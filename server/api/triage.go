package api

import (
	"context"
	"net/http"
	"slices"
	"strings"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/server/app"

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
	cardReviewList struct {
		Body struct {
			Items []app.CardStatus `json:"items"`
		}
	}
	newCardReview struct {
		Once
		Body struct {
			Enterprise    string        `json:"enterprise" maxLength:"64"`
			Sign          string        `json:"sign" maxLength:"64"`
			Version       int           `json:"version" minimum:"1"`
			Reviewer      string        `json:"reviewer" minLength:"1" maxLength:"200"`
			Qualification string        `json:"qualification" minLength:"1" maxLength:"200" example:"DVM, registered no. 123"`
			SignedOn      calendar.Date `json:"signed_on" format:"date"`
			Agrees        bool          `json:"agrees"`
			Note          string        `json:"note,omitempty" maxLength:"2000" doc:"What the veterinarian would change."`
		}
	}
	cardReviewAnswer struct {
		Body app.CardReview
	}
)

func (f Face) triage(api huma.API) {
	register(api, op("get-triage", http.MethodGet, "/api/triage/{enterprise}", "triage", "The triage cards of an enterprise"), f.getTriage)
	register(api, op("list-card-reviews", http.MethodGet, "/api/card-reviews", "triage", "Every triage card with its unchecked estimates and its signatures"), f.listCardReviews)
	register(api, op("sign-card", http.MethodPost, "/api/card-reviews", "triage", "Note what a veterinarian signed"), f.signCard)
	register(api, op("export-card-reviews", http.MethodGet, "/api/card-reviews.csv", "triage", "The unchecked estimates as a table for a veterinarian"), f.exportCardReviews)
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

func (f Face) listCardReviews(ctx context.Context, _ *struct{}) (*cardReviewList, error) {
	items, err := f.CardReviews.List(ctx, actor(ctx))
	out := &cardReviewList{}
	out.Body.Items = items
	return out, err
}

func (f Face) signCard(ctx context.Context, in *newCardReview) (*cardReviewAnswer, error) {
	return once(f, ctx, in.Key, "sign-card", in, func(ctx context.Context) (*cardReviewAnswer, error) {
		r, err := f.CardReviews.Sign(ctx, actor(ctx), app.NewCardReview(in.Body))
		return &cardReviewAnswer{r}, err
	})
}

func (f Face) exportCardReviews(ctx context.Context, _ *struct{}) (*fileAnswer, error) {
	cards, err := f.CardReviews.List(ctx, actor(ctx))
	if err != nil {
		return nil, err
	}
	file, err := f.ReviewCSV(cards)
	return &fileAnswer{"text/csv; charset=utf-8", `attachment; filename="triage-cards.csv"`, file}, err
}
