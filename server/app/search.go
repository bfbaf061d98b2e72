package app

import (
	"context"
	"strings"

	"tendfold/domain"
)

// searchStore is what Finder needs of the database.
type searchStore interface {
	Search(ctx context.Context, sc Scope, text string, limit int) ([]Hit, error)
}

// Finder finds whatever the desk is asked about.
type Finder struct{ store searchStore }

// NewFinder wires the use case.
func NewFinder(store searchStore) *Finder { return &Finder{store: store} }

// Find finds farms, people, clients and tickets in the actor's scope.
func (s *Finder) Find(ctx context.Context, who Actor, text string, limit int) ([]Hit, error) {
	if err := who.Need(desk...); err != nil {
		return nil, err
	}
	if strings.TrimSpace(text) == "" {
		return nil, domain.Invalid("search-empty", "Type a name, a phone number or a ticket's number.", domain.Field{Path: "q", Code: "required", Text: "Type at least one letter or digit."})
	}
	return s.store.Search(ctx, who.Scope(), text, limit)
}
