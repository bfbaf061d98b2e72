package app

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/calendar"
)

// reviewStore is what CardReviews needs of the database.
type reviewStore interface {
	Store
	AddCardReview(ctx context.Context, r CardReview) error
	CardReviews(ctx context.Context) ([]CardReview, error)
}

// CardReviews are the estimates in the triage cards that no veterinarian has
// checked yet, and the words of those who did.
type CardReviews struct {
	Core
	store reviewStore
	days  *Days
}

// NewCardReviews wires the use case.
func NewCardReviews(core Core, store reviewStore, days *Days) *CardReviews {
	return &CardReviews{Core: core, store: store, days: days}
}

// Estimate is one statement of a card that rests on no published source.
type Estimate struct {
	Kind  string           `json:"kind" enum:"cause,ending"`
	Key   string           `json:"key"`
	Text  checklists.Text  `json:"text"`
	Now   *checklists.Text `json:"now,omitempty"`
	Grade checklists.Grade `json:"grade"`
	Note  string           `json:"note"`
}

// CardStatus is a card with what is still to be checked in it.
type CardStatus struct {
	Enterprise string          `json:"enterprise"`
	Sign       string          `json:"sign"`
	Name       checklists.Text `json:"name"`
	Version    int             `json:"version"`
	Estimates  []Estimate      `json:"estimates"`
	Reviews    []CardReview    `json:"reviews" doc:"Of this version; those of earlier ones count no more."`
}

// List is every card, those that nobody has signed first.
func (s *CardReviews) List(ctx context.Context, who Actor) ([]CardStatus, error) {
	if err := who.Need(desk...); err != nil {
		return nil, err
	}
	reviews, err := s.store.CardReviews(ctx)
	if err != nil {
		return nil, err
	}
	out := []CardStatus{}
	for _, enterprise := range s.Packs.Enterprises() {
		p, _ := s.Packs.Pack(enterprise)
		for _, sign := range p.Signs {
			if card, ok := p.TriageCard(sign.Key); ok {
				out = append(out, statusOf(p, sign, card, reviews))
			}
		}
	}
	slices.SortStableFunc(out, func(a, b CardStatus) int { return cmp.Compare(len(a.Reviews), len(b.Reviews)) })
	return out, nil
}

func statusOf(p *checklists.Pack, sign checklists.Sign, card *checklists.TriageCard, reviews []CardReview) CardStatus {
	st := CardStatus{Enterprise: p.Enterprise, Sign: sign.Key, Name: sign.Text, Version: card.Version, Estimates: []Estimate{}, Reviews: []CardReview{}}
	for _, c := range card.Causes {
		if !c.Grade.Published() {
			st.Estimates = append(st.Estimates, Estimate{Kind: "cause", Key: c.Key, Text: c.Text, Grade: c.Grade, Note: c.Note})
		}
	}
	for _, e := range card.Endings {
		// A note says which part of an ending its source does not cover.
		if !e.Grade.Published() || e.Note != "" {
			st.Estimates = append(st.Estimates, Estimate{Kind: "ending", Key: e.Key, Text: e.Advice, Now: e.Now, Grade: e.Grade, Note: e.Note})
		}
	}
	for _, r := range reviews {
		if r.Enterprise == p.Enterprise && r.Sign == sign.Key && r.Version == card.Version {
			st.Reviews = append(st.Reviews, r)
		}
	}
	return st
}

// NewCardReview is a veterinarian's word as a manager writes it down.
type NewCardReview struct {
	Enterprise    string
	Sign          string
	Version       int
	Reviewer      string
	Qualification string
	SignedOn      calendar.Date
	Agrees        bool
	Note          string
}

// Sign notes what a veterinarian signed. Only managers do, and only for the
// version that is in force.
func (s *CardReviews) Sign(ctx context.Context, who Actor, in NewCardReview) (CardReview, error) {
	if err := who.Need(leader...); err != nil {
		return CardReview{}, err
	}
	p, ok := s.Packs.Pack(in.Enterprise)
	if !ok {
		return CardReview{}, domain.NotFound("pack")
	}
	card, ok := p.TriageCard(in.Sign)
	if !ok {
		return CardReview{}, domain.NotFound("triage-card")
	}
	if card.Version != in.Version {
		return CardReview{}, domain.Conflict("triage-card-changed", "This card has a new version. Let the veterinarian read that one.")
	}
	today, err := s.days.Today(ctx, who, "")
	if err != nil {
		return CardReview{}, err
	}
	r := CardReview{
		ID: s.NewID(), Enterprise: in.Enterprise, Sign: in.Sign, Version: in.Version, Reviewer: strings.TrimSpace(in.Reviewer),
		Qualification: strings.TrimSpace(in.Qualification), SignedOn: in.SignedOn, Agrees: in.Agrees, Note: strings.TrimSpace(in.Note), ByID: who.PersonID, At: s.Now(),
	}
	if err := r.check(today); err != nil {
		return CardReview{}, err
	}
	err = s.store.InTx(ctx, func(ctx context.Context) error {
		if err := s.store.AddCardReview(ctx, r); err != nil {
			return err
		}
		return s.record(ctx, who, r.At, Change{Verb: "sign", Thing: "triage-card", ThingID: r.Enterprise + "/" + r.Sign, After: r})
	})
	return r, err
}

// oldReview is how many days ago a card may have been signed.
const oldReview = 366

func (r CardReview) check(today calendar.Date) error {
	var fields []domain.Field
	bad := func(ok bool, path, code, text string) {
		if !ok {
			fields = append(fields, domain.Field{Path: path, Code: code, Text: text})
		}
	}
	bad(r.Reviewer != "" && len(r.Reviewer) <= 200, "reviewer", "required", "Write the veterinarian's name.")
	bad(r.Qualification != "" && len(r.Qualification) <= 200, "qualification", "required", "Write the veterinarian's title and registration.")
	bad(r.SignedOn <= today && today.Sub(r.SignedOn) <= oldReview, "signed_on", "range", "A card was signed on a day up to today, at most a year ago.")
	bad(len(r.Note) <= callMost, "note", "too-long", "At most 2,000 characters.")
	bad(r.Agrees || r.Note != "", "note", "required", "Say what the veterinarian would change.")
	if fields != nil {
		return domain.Invalid("card-review-refused", "This signature cannot be noted as it is.", fields...)
	}
	return nil
}
