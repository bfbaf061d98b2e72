package app

import (
	"context"
	"strings"

	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
)

// searchStore is what Finder needs of the database.
type searchStore interface {
	Search(ctx context.Context, sc Scope, text string, limit int) ([]Hit, error)
	FarmsByIDs(ctx context.Context, sc Scope, ids []string) ([]FarmLine, error)
	PeopleByIDs(ctx context.Context, ids []string) ([]farm.Person, error)
}

// Finder finds whatever the desk is asked about.
type Finder struct{ store searchStore }

// NewFinder wires the use case.
func NewFinder(store searchStore) *Finder { return &Finder{store: store} }

// Found is something that was found, with what tells it from others of the
// same name.
type Found struct {
	Hit
	Client   string             `json:"client"`
	Town     string             `json:"town"`
	BranchID string             `json:"branch_id"`
	Standing programme.Standing `json:"standing"`
	Phone    string             `json:"phone" doc:"Of a person."`
}

// Find finds farms, people, clients and tickets in the actor's scope.
func (s *Finder) Find(ctx context.Context, who Actor, text string, limit int) ([]Found, error) {
	if err := who.Need(desk...); err != nil {
		return nil, err
	}
	if strings.TrimSpace(text) == "" {
		return nil, domain.Invalid("search-empty", "Type a name, a phone number or a ticket's number.", domain.Field{Path: "q", Code: "required", Text: "Type at least one letter or digit."})
	}
	hits, err := s.store.Search(ctx, who.Scope(), text, limit)
	if err != nil {
		return nil, err
	}
	farms, err := s.farmsOf(ctx, who, hits)
	if err != nil {
		return nil, err
	}
	phones, err := s.phonesOf(ctx, hits)
	if err != nil {
		return nil, err
	}
	out := make([]Found, len(hits))
	for i, h := range hits {
		f := farms[h.FarmID]
		out[i] = Found{Hit: h, Client: f.Client, Town: f.Town, BranchID: f.BranchID, Standing: f.Standing}
		if h.Kind == "person" {
			out[i].Phone = phones[h.ID]
		}
	}
	return out, nil
}

func (s *Finder) farmsOf(ctx context.Context, who Actor, hits []Hit) (map[string]FarmLine, error) {
	ids := make([]string, 0, len(hits))
	for _, h := range hits {
		if h.FarmID != "" {
			ids = append(ids, h.FarmID)
		}
	}
	lines, err := s.store.FarmsByIDs(ctx, who.Scope(), ids)
	out := make(map[string]FarmLine, len(lines))
	for _, f := range lines {
		out[f.ID] = f
	}
	return out, err
}

func (s *Finder) phonesOf(ctx context.Context, hits []Hit) (map[string]string, error) {
	var ids []string
	for _, h := range hits {
		if h.Kind == "person" {
			ids = append(ids, h.ID)
		}
	}
	if len(ids) == 0 {
		return nil, nil
	}
	people, err := s.store.PeopleByIDs(ctx, ids)
	out := make(map[string]string, len(people))
	for _, p := range people {
		out[p.ID] = p.Phone
	}
	return out, err
}
