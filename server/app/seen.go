package app

import (
	"context"
	"time"

	"tendfold/domain"
)

// Seen is an entry that somebody of the firm has read.
type Seen struct {
	EventID string
	By      string
	At      time.Time
}

// seenStore remembers who read what.
type seenStore interface {
	NoteSeen(ctx context.Context, by string, at time.Time, eventIDs []string) error
}

// noteSeen tells the people of a farm that the firm has read their entries. A
// page is not held up for it: what a busy database could not note now, the
// next look notes.
func noteSeen(ctx context.Context, s seenStore, who Actor, at time.Time, ids []string) error {
	if !who.Staff() || len(ids) == 0 {
		return nil
	}
	err := s.NoteSeen(ctx, who.PersonID, at, ids)
	if domain.KindOf(err) == domain.KindBusy {
		return nil
	}
	return err
}

// noteReport does so for the entry that opened a ticket.
func (s *Tickets) noteReport(ctx context.Context, who Actor, th Thread) error {
	if len(th.Events) == 0 {
		return nil
	}
	id, _ := th.Events[0].Data["entry"].(string)
	if id == "" {
		return nil
	}
	return noteSeen(ctx, s.store, who, s.Now(), []string{id})
}

// TodaySeen says that one person of the firm read some of the own entries at
// one time.
type TodaySeen struct {
	By      string    `json:"by"`
	At      time.Time `json:"at"`
	Entries []string  `json:"entries" doc:"Their ids."`
}

const (
	seenShown = 7 * 24 * time.Hour // as long as the phone lists what it sent
	mostSeen  = 100
)

// seen is what the firm has read of the caretaker's entries lately.
func (s *Today) seen(ctx context.Context, who Actor, at time.Time) ([]TodaySeen, error) {
	all, err := s.store.SeenOf(ctx, who.PersonID, at.Add(-seenShown))
	if err != nil {
		return nil, err
	}
	out := []TodaySeen{}
	ids := []string{}
	for _, x := range all[:min(len(all), mostSeen)] {
		if n := len(out); n == 0 || ids[n-1] != x.By || !out[n-1].At.Equal(x.At) {
			out, ids = append(out, TodaySeen{At: x.At}), append(ids, x.By)
		}
		last := &out[len(out)-1]
		last.Entries = append(last.Entries, x.EventID)
	}
	people, err := s.store.PeopleByIDs(ctx, ids)
	for _, p := range people {
		for i := range out {
			if ids[i] == p.ID {
				out[i].By = p.Name
			}
		}
	}
	return out, err
}
