package app

import (
	"context"
	"sync"
	"time"

	"tendfold/domain"
	"tendfold/domain/farm"
)

// The kinds of news.
const (
	NewsChanged = "changed" // the ticket, its thread or what was sent about it
	NewsHere    = "here"    // who has it open
)

// News says that something happened to a ticket; what, its thread tells.
type News struct {
	Seq      int64  `json:"seq"`
	TicketID string `json:"ticket_id"`
	Kind     string `json:"kind"`
}

// feedStore is what Feed needs of the database.
type feedStore interface {
	NewsLast(ctx context.Context) (int64, error)
	News(ctx context.Context, sc Scope, after int64) (list []News, upTo int64, gap bool, err error)
	Ticket(ctx context.Context, sc Scope, id string) (TicketLine, error)
	Stay(ctx context.Context, ticketID, personID string, now, until time.Time) error
	Present(ctx context.Context, ticketID string, now time.Time) ([]farm.Person, error)
}

// Feed tells desks what happens on other desks, whichever process serves them:
// it reads the numbers in the database.
type Feed struct {
	Core
	store feedStore

	// How often it looks, how often it says that it is there, and after how
	// long it ends, so that a desk comes back with a fresh token.
	Look, Beat, Life time.Duration

	mu      sync.Mutex
	streams map[string]int
	all     int
	closed  chan struct{}
}

// NewFeed wires the use case.
func NewFeed(core Core, store feedStore) *Feed {
	return &Feed{
		Core: core, store: store, Look: 500 * time.Millisecond, Beat: 15 * time.Second, Life: 9 * time.Minute,
		streams: map[string]int{}, closed: make(chan struct{}),
	}
}

// Bounds of streams in one process.
const (
	streamsEach = 8
	streamsAll  = 500
)

// Signals are what a stream carries. Each returns an error when nobody listens
// any more.
type Signals struct {
	News  func(n News) error
	At    func(seq int64) error // all up to here was told
	Reset func(seq int64) error // too much was missed: read everything again
	Beat  func() error
}

// Follow tells what happens after a number, 0 = from now on, until nobody
// listens, still says no, or the stream has lived its life. Nothing is missed
// between two streams that are joined by their numbers.
func (s *Feed) Follow(ctx context.Context, who Actor, after int64, to Signals, still func(ctx context.Context) error) error {
	if err := s.enter(who); err != nil {
		return err
	}
	defer s.leave(who)
	if after <= 0 {
		last, err := s.store.NewsLast(ctx)
		if err != nil {
			return err
		}
		after = last
	}
	if err := to.At(after); err != nil {
		return nil // nobody listens
	}
	ctx, cancel := context.WithTimeout(ctx, s.Life)
	defer cancel()
	look, beat := time.NewTicker(s.Look), time.NewTicker(s.Beat)
	defer look.Stop()
	defer beat.Stop()
	for {
		next, err := s.tell(ctx, who, after, to)
		if err != nil {
			return nil // nobody listens, or the database is away: the desk comes back
		}
		after = next
		select {
		case <-ctx.Done():
			return nil
		case <-s.closed:
			return nil
		case <-beat.C:
			if still(ctx) != nil || to.Beat() != nil {
				return nil
			}
		case <-look.C:
		}
	}
}

// tell sends what is new, and is the number up to which it did.
func (s *Feed) tell(ctx context.Context, who Actor, after int64, to Signals) (int64, error) {
	for {
		list, upTo, gap, err := s.store.News(ctx, who.Scope(), after)
		switch {
		case err != nil:
			return after, err
		case gap:
			return upTo, to.Reset(upTo)
		}
		for _, n := range list {
			if err := to.News(n); err != nil {
				return after, err
			}
		}
		if upTo == after {
			return after, nil
		}
		if len(list) == 0 || list[len(list)-1].Seq < upTo { // news of others' farms: only the number
			if err := to.At(upTo); err != nil {
				return after, err
			}
		}
		after = upTo
	}
}

// May says whether an actor may follow at all, before anything is sent.
func (s *Feed) May(who Actor) error { return who.Need(desk...) }

func (s *Feed) enter(who Actor) error {
	if err := s.May(who); err != nil {
		return err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.streams[who.PersonID] >= streamsEach || s.all >= streamsAll {
		return &domain.Error{Kind: domain.KindBusy, Code: "many-streams", Text: "Too many screens are open. Close some, or wait a little."}
	}
	s.streams[who.PersonID]++
	s.all++
	return nil
}

func (s *Feed) leave(who Actor) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.all--
	if s.streams[who.PersonID]--; s.streams[who.PersonID] <= 0 {
		delete(s.streams, who.PersonID)
	}
}

// Close ends all streams, so that a process can stop.
func (s *Feed) Close() {
	s.mu.Lock()
	defer s.mu.Unlock()
	select {
	case <-s.closed:
	default:
		close(s.closed)
	}
}

// Present is somebody who has a ticket open.
type Present struct {
	PersonID string `json:"person_id"`
	Name     string `json:"name"`
}

// stays is how long somebody counts as present after the last sign: a desk
// gives one every twenty seconds.
const stays = 50 * time.Second

// Here says that the actor has a ticket open, or closes it, and who else has.
func (s *Feed) Here(ctx context.Context, who Actor, ticketID string, leaving bool) ([]Present, error) {
	if err := who.Need(desk...); err != nil {
		return nil, err
	}
	if _, err := s.store.Ticket(ctx, who.Scope(), ticketID); err != nil {
		return nil, err
	}
	now := s.Now()
	until := now.Add(stays)
	if leaving {
		until = time.Time{}
	}
	if err := s.store.Stay(ctx, ticketID, who.PersonID, now, until); err != nil {
		return nil, err
	}
	people, err := s.store.Present(ctx, ticketID, now)
	out := []Present{}
	for _, p := range people {
		if p.ID != who.PersonID {
			out = append(out, Present{p.ID, p.Name})
		}
	}
	return out, err
}
