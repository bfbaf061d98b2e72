package app

import (
	"context"
	"strings"
	"unicode/utf8"

	"tendfold/domain"
	"tendfold/domain/ticket"
)

// Filter is what a view of the queue picks, as its address has it.
type Filter struct {
	Mine    bool           `json:"mine,omitempty"`
	Nobody  bool           `json:"nobody,omitempty"`
	Overdue bool           `json:"overdue,omitempty"`
	Branch  string         `json:"branch,omitempty" maxLength:"64"`
	State   ticket.State   `json:"state,omitempty" enum:"reported,assessed,in-hand,waiting,settled"`
	Urgency ticket.Urgency `json:"urgency,omitempty" enum:"person-in-danger,animals-at-risk,losing-time,routine,no-hurry"`
	Origin  ticket.Origin  `json:"origin,omitempty" enum:"sweep,call,caretaker,visit"`
	Rule    string         `json:"rule,omitempty" maxLength:"64"`
}

// SavedFilter is a filter under a name of its person's own.
type SavedFilter struct {
	Name   string `json:"name"`
	Filter Filter `json:"filter"`
}

// Bounds of what a person may save.
const (
	mostFilters = 20
	longestName = 40
)

// Filters are those of the actor.
func (s *Tickets) Filters(ctx context.Context, who Actor) ([]SavedFilter, error) {
	if err := who.Need(desk...); err != nil {
		return nil, err
	}
	list, err := s.store.Filters(ctx, who.PersonID)
	return orEmpty(list), err
}

// SaveFilter keeps one; another of the same name is replaced.
func (s *Tickets) SaveFilter(ctx context.Context, who Actor, f SavedFilter) ([]SavedFilter, error) {
	if err := who.Need(desk...); err != nil {
		return nil, err
	}
	f.Name = strings.TrimSpace(f.Name)
	if f.Name == "" || utf8.RuneCountInString(f.Name) > longestName || strings.ContainsAny(f.Name, "/\n") {
		return nil, domain.Invalid("filter-name", "Give the filter a name of at most 40 characters, without a slash.",
			domain.Field{Path: "name", Code: "required", Text: "Give a name of at most 40 characters, without a slash."})
	}
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		list, err := s.store.Filters(ctx, who.PersonID)
		if err != nil {
			return err
		}
		known := false
		for _, o := range list {
			known = known || o.Name == f.Name
		}
		if !known && len(list) >= mostFilters {
			return domain.Conflict("filters-many", "You have 20 saved filters already. Delete one first.")
		}
		return s.store.PutFilter(ctx, who.PersonID, f)
	})
	if err != nil {
		return nil, err
	}
	return s.Filters(ctx, who)
}

// DropFilter forgets one.
func (s *Tickets) DropFilter(ctx context.Context, who Actor, name string) ([]SavedFilter, error) {
	if err := who.Need(desk...); err != nil {
		return nil, err
	}
	if err := s.store.DropFilter(ctx, who.PersonID, name); err != nil {
		return nil, err
	}
	return s.Filters(ctx, who)
}

// Link says that two tickets belong together and stay two, or takes that back.
// Each thread says so.
func (s *Tickets) Link(ctx context.Context, who Actor, id, other string, off bool) (Thread, error) {
	if err := who.Need(desk...); err != nil {
		return Thread{}, err
	}
	if id == other {
		return Thread{}, domain.Conflict("ticket-link", "A ticket cannot be linked to itself.")
	}
	at := s.Now()
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		pair := [2]TicketLine{}
		for i, each := range [2]string{id, other} {
			var err error
			if pair[i], err = s.store.Ticket(ctx, who.Scope(), each); err != nil {
				return err
			}
		}
		if off {
			if err := s.store.Unlink(ctx, id, other); err != nil {
				return err
			}
		} else if err := s.store.Link(ctx, id, other, who.PersonID, at); err != nil {
			return err
		}
		for i, line := range pair {
			on, err := s.plans.Today(ctx, line.BranchID, at)
			if err != nil {
				return err
			}
			ev := ticket.Event{Kind: ticket.Linked, From: line.State, To: line.State, Data: map[string]any{"other": pair[1-i].ID, "number": pair[1-i].Number, "off": off}}
			if err := s.addEvent(ctx, line.ID, ticket.Act{PersonID: who.PersonID, At: at, On: on}, ev); err != nil {
				return err
			}
		}
		return s.record(ctx, who, at, Change{Verb: "link", Thing: "ticket", ThingID: id, FarmID: pair[0].FarmID, After: map[string]any{"other": other, "off": off}})
	})
	if err != nil {
		return Thread{}, err
	}
	return s.Thread(ctx, who, id)
}
