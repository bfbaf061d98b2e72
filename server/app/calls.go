package app

import (
	"context"
	"encoding/json"
	"slices"
	"strings"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/ticket"
)

// EventCall is the kind of the event that a call leaves on its farm.
const EventCall = "call"

// callStore is what Calls needs of the database.
type callStore interface {
	Store
	Farm(ctx context.Context, sc Scope, id string) (FarmLine, error)
	Branch(ctx context.Context, id string) (farm.Branch, error)
	Unit(ctx context.Context, sc Scope, id string) (farm.Unit, error)
	Person(ctx context.Context, sc Scope, id string) (farm.Person, error)
	Ticket(ctx context.Context, sc Scope, id string) (TicketLine, error)
	AddCall(ctx context.Context, c Call) error
	ChangeCall(ctx context.Context, c Call) error
	Call(ctx context.Context, sc Scope, personID, id string) (Call, error)
	CallLines(ctx context.Context, sc Scope, personID string, q CallQuery) (Page[CallLine], error)
	AddPromises(ctx context.Context, ps ...Promise) error
	AppendEvents(ctx context.Context, es ...Event) ([]string, error)
	PutCallCard(ctx context.Context, c CallCard) error
	CallCardTold(ctx context.Context, callID, by, how string, at time.Time) error
	VetClocks(ctx context.Context, sc Scope, limit int) ([]VetClock, error)
}

// Calls are the conversations of the desk, on any channel.
type Calls struct {
	Core
	store   callStore
	plans   *Plans
	tickets *Tickets
	phone   PhoneReader
	queue   Queue
}

// NewCalls wires the use case.
func NewCalls(core Core, store callStore, plans *Plans, tickets *Tickets, phone PhoneReader, queue Queue) *Calls {
	return &Calls{Core: core, store: store, plans: plans, tickets: tickets, phone: phone, queue: queue}
}

// CallQuery picks calls, newest first. Zero fields pick all that the actor
// may know of; a call about no known farm is known to whoever took it, and to
// those who see everything.
type CallQuery struct {
	ID      string
	FarmID  string
	NoFarm  bool // whose farm is not known yet
	TakenBy string
	Cursor  string
	Limit   int
}

// CallLine is a call with the names that lists show, and what was promised.
type CallLine struct {
	Call
	Farm     string    `json:"farm"`
	Person   string    `json:"person"`
	Taker    string    `json:"taker"`
	Ticket   string    `json:"ticket" doc:"The number of the ticket that it is about."`
	Promises []Promise `json:"promises"`
	Card     *CallCard `json:"card,omitempty" doc:"What was advised by a triage card."`
}

// NewPromise is something that is promised on a call.
type NewPromise struct {
	Kind  string
	Text  string
	DueOn calendar.Date
}

// CallTicket is a ticket that a call opens. With an outcome it is a simple
// question, answered on the call and settled in the same step.
type CallTicket struct {
	ID         string
	UnitID     string
	Title      string
	Impact     ticket.Impact
	TimeToLoss ticket.TimeToLoss
	Danger     bool
	Outcome    string
	Learned    string
}

// CallNote is what is noted of a call. It is about a ticket that is there
// (TicketID), or opens one (Ticket), or is about none.
type CallNote struct {
	ID        string
	FarmID    string // "" when the farm is not known yet
	PersonID  string // who called, if known
	Phone     string
	Channel   string
	Said      string
	Advice    string
	StartedAt time.Time // zero = now
	Goes      bool      // it is still going on: what was said may be changed
	Promises  []NewPromise
	TicketID  string
	Ticket    *CallTicket
	Card      *CardGiven // the triage card that was walked, if any
}

// callMost bounds what is said and advised, in bytes.
const callMost = 2000

// oldCall is how long ago a call may be that is noted now.
const oldCall = 366 * 24 * time.Hour

var (
	channels     = []string{"phone", "text", "chat", "in-person"}
	promiseKinds = []string{"call-back", "visit", "other"}
)

// Note notes a call. It counts as news from its farm on its day.
func (s *Calls) Note(ctx context.Context, who Actor, in CallNote) (CallLine, error) {
	if err := who.Need(desk...); err != nil {
		return CallLine{}, err
	}
	at := s.Now()
	if in.StartedAt.IsZero() {
		in.StartedAt = at
	}
	if in.ID == "" {
		in.ID = s.NewID()
	}
	if err := in.check(at); err != nil {
		return CallLine{}, err
	}
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		c := Call{ID: in.ID, TakenBy: who.PersonID, StartedAt: in.StartedAt.UTC().Truncate(time.Microsecond), Version: 1}
		if err := s.tell(ctx, who, &c, in, at); err != nil {
			return err
		}
		if err := s.store.AddCall(ctx, c); err != nil {
			return err
		}
		if err := s.takeCard(ctx, &c, in, at); err != nil {
			return err
		}
		return s.record(ctx, who, at, Change{Verb: "note", Thing: "call", ThingID: c.ID, FarmID: c.FarmID, After: c})
	})
	if err != nil {
		return CallLine{}, err
	}
	return s.line(ctx, who, in.ID)
}

// Change changes a call at its version. While it goes on everything may
// change but the farm once it is known, because the farm's record speaks of
// it; afterwards what was missing may still be added. Promises are added to
// those that were made.
func (s *Calls) Change(ctx context.Context, who Actor, version int, in CallNote) (CallLine, error) {
	if err := who.Need(desk...); err != nil {
		return CallLine{}, err
	}
	at := s.Now()
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		old, err := s.store.Call(ctx, who.Scope(), who.PersonID, in.ID)
		if err != nil {
			return err
		}
		in.StartedAt = old.StartedAt
		if err := in.check(at); err != nil {
			return err
		}
		if err := mayChangeCall(who, old, in); err != nil {
			return err
		}
		if old.Version != version {
			return domain.Stale()
		}
		c := old
		if err := s.tell(ctx, who, &c, in, at); err != nil {
			return err
		}
		if err := s.store.ChangeCall(ctx, c); err != nil {
			return err
		}
		if err := s.takeCard(ctx, &c, in, at); err != nil {
			return err
		}
		return s.record(ctx, who, at, Change{Verb: "change", Thing: "call", ThingID: c.ID, FarmID: c.FarmID, Before: old, After: c})
	})
	if err != nil {
		return CallLine{}, err
	}
	return s.line(ctx, who, in.ID)
}

// mayChangeCall says whether a call may become what is noted of it.
func mayChangeCall(who Actor, old Call, in CallNote) error {
	if old.TakenBy != who.PersonID && !who.Is(leader...) {
		return domain.Forbidden("Only whoever took the call, or a manager, changes what was noted of it.")
	}
	fixed := func(was, is string) bool { return was != "" && was != is }
	switch {
	case fixed(old.FarmID, in.FarmID):
		return domain.Conflict("call-has-farm", "This call stands on the record of its farm. Note another call for the other farm, and say so here.")
	case fixed(old.TicketID, in.TicketID), old.TicketID != "" && in.Ticket != nil:
		return domain.Conflict("call-has-ticket", "This call is about a ticket already. Say the rest on that ticket.")
	case !old.EndedAt.IsZero() && old.FarmID != "" && in.Card != nil, !old.EndedAt.IsZero() && (in.Goes || old.Said != in.Said || old.Advice != in.Advice || old.Channel != in.Channel):
		return domain.Conflict("call-ended", "This call has ended, so what was said in it stays as it is. Note another call.")
	}
	return nil
}

// tell puts what is noted into the call and does all that follows from it, in
// ctx's transaction.
func (s *Calls) tell(ctx context.Context, who Actor, c *Call, in CallNote, at time.Time) error {
	f, err := s.place(ctx, who, c, in)
	if err != nil {
		return err
	}
	if err := s.caller(ctx, who, c, in, f); err != nil {
		return err
	}
	c.Channel, c.Said, c.Advice = in.Channel, strings.TrimSpace(in.Said), strings.TrimSpace(in.Advice)
	if c.EndedAt.IsZero() && !in.Goes {
		c.EndedAt = at
		if c.StartedAt.After(at) { // by the clock of a desk that is ahead
			c.EndedAt = c.StartedAt
		}
	}
	if f == nil {
		return nil
	}
	if err := s.about(ctx, who, c, in, *f, at); err != nil {
		return err
	}
	return s.promise(ctx, who, c, in.Promises, *f, at)
}

// place finds the farm, nil while it is not known, and leaves the call on its
// record the first time.
func (s *Calls) place(ctx context.Context, who Actor, c *Call, in CallNote) (*FarmLine, error) {
	if in.FarmID == "" {
		return nil, nil // not known yet is an answer
	}
	f, err := s.store.Farm(ctx, who.Scope(), in.FarmID)
	if err != nil {
		return nil, err
	}
	if err := s.queue.SweepFarm(ctx, f.ID); err != nil {
		return nil, err
	}
	if c.FarmID != "" {
		return &f, nil
	}
	c.FarmID = f.ID
	on, err := s.plans.Today(ctx, f.BranchID, c.StartedAt)
	if err != nil {
		return nil, err
	}
	data, err := json.Marshal(map[string]string{"call_id": c.ID, "channel": in.Channel})
	if err != nil {
		return nil, err
	}
	_, err = s.store.AppendEvents(ctx, Event{
		ID: s.NewID(), FarmID: f.ID, Kind: EventCall, On: on, PersonID: c.TakenBy, RecordedAt: s.Now(), Evidence: true, Data: data,
	})
	return &f, err
}

// caller is who called and from which number.
func (s *Calls) caller(ctx context.Context, who Actor, c *Call, in CallNote, f *FarmLine) error {
	if in.PersonID != "" && in.PersonID != c.PersonID {
		if _, err := s.store.Person(ctx, who.Scope(), in.PersonID); err != nil {
			return err
		}
	}
	country := ""
	if f != nil {
		b, err := s.store.Branch(ctx, f.BranchID)
		if err != nil {
			return err
		}
		country = b.Country
	}
	c.PersonID, c.Phone = in.PersonID, strings.TrimSpace(in.Phone)
	if c.Phone != "" {
		c.Phone, _ = s.phone(c.Phone, country)
	}
	return nil
}

// about links the call to its ticket: one that is there hears what was said,
// a new one is opened, and settled when the question was answered.
func (s *Calls) about(ctx context.Context, who Actor, c *Call, in CallNote, f FarmLine, at time.Time) error {
	switch {
	case in.Ticket != nil:
		return s.open(ctx, who, c, *in.Ticket, f, at)
	case in.TicketID == "" || in.TicketID == c.TicketID:
		return nil
	}
	t, err := s.store.Ticket(ctx, who.Scope(), in.TicketID)
	if err != nil {
		return err
	}
	if t.FarmID != f.ID {
		return domain.NotFound("ticket")
	}
	c.TicketID = t.ID
	if c.Advice != "" { // the farm was told, so it may read it too
		return s.tickets.say(ctx, who, t, c.Advice, false, at)
	}
	return s.tickets.say(ctx, who, t, c.Said, true, at)
}

func (s *Calls) open(ctx context.Context, who Actor, c *Call, in CallTicket, f FarmLine, at time.Time) error {
	if in.UnitID != "" {
		if u, err := s.store.Unit(ctx, who.Scope(), in.UnitID); err != nil {
			return err
		} else if u.FarmID != f.ID {
			return domain.NotFound("unit")
		}
	}
	if in.ID == "" {
		in.ID = s.NewID()
	}
	c.TicketID = in.ID
	err := s.tickets.open(ctx, who, f, ticket.Opening{
		ID: in.ID, Key: ticket.Key{FarmID: f.ID, UnitID: in.UnitID}, Origin: ticket.FromCall, Title: in.Title,
		Impact: in.Impact, TimeToLoss: in.TimeToLoss, Danger: in.Danger, CallID: c.ID,
	}, at)
	if err != nil || in.Outcome == "" {
		return err
	}
	_, err = s.tickets.Move(ctx, who, in.ID, 1, TicketMove{To: ticket.Settled, Outcome: in.Outcome, Learned: in.Learned})
	return err
}

func (s *Calls) promise(ctx context.Context, who Actor, c *Call, promises []NewPromise, f FarmLine, at time.Time) error {
	today, err := s.plans.Today(ctx, f.BranchID, at)
	if err != nil {
		return err
	}
	rows := make([]Promise, 0, len(promises))
	for _, p := range promises {
		if err := checkDue("promises", p.DueOn, today); err != nil {
			return err
		}
		rows = append(rows, Promise{
			ID: s.NewID(), CallID: c.ID, FarmID: f.ID, Kind: p.Kind, Text: strings.TrimSpace(p.Text), DueOn: p.DueOn,
			MadeBy: who.PersonID, MadeOn: today, Version: 1,
		})
	}
	return s.store.AddPromises(ctx, rows...)
}

// promiseAhead is how many days ahead a promise may lie.
const promiseAhead = 366

func checkDue(path string, due, today calendar.Date) error {
	if due < today || due.Sub(today) > promiseAhead {
		return domain.Invalid("promise-refused", "A promise is due on a day from today to a year ahead.",
			domain.Field{Path: path + ".due_on", Code: "range", Text: "Give a day from today to a year ahead."})
	}
	return nil
}

// check refuses what cannot be noted.
func (in CallNote) check(now time.Time) error {
	var fields []domain.Field
	bad := func(ok bool, path, code, text string) {
		if !ok {
			fields = append(fields, domain.Field{Path: path, Code: code, Text: text})
		}
	}
	bad(slices.Contains(channels, in.Channel), "channel", "unknown", "Choose phone, text, chat or in-person.")
	bad(strings.TrimSpace(in.Said+in.Advice) != "" || in.Goes, "said", "required", "Write what was said or advised.")
	bad(len(in.Said) <= callMost && len(in.Advice) <= callMost, "said", "too-long", "At most 2,000 characters each.")
	bad(!in.StartedAt.After(now.Add(clockError)) && now.Sub(in.StartedAt) < oldCall, "started_at", "range", "A call lies in the past, at most a year ago.")
	bad(in.Ticket == nil || in.TicketID == "", "ticket", "two", "A call is about one ticket: name one, or open one.")
	bad(in.FarmID != "" || (in.Ticket == nil && in.TicketID == "" && len(in.Promises) == 0), "farm_id", "required", "A ticket or a promise needs its farm. Find the farm first.")
	bad(in.TicketID == "" || strings.TrimSpace(in.Said+in.Advice) != "", "said", "required", "Write what the ticket should hear.")
	for _, p := range in.Promises {
		bad(slices.Contains(promiseKinds, p.Kind), "promises.kind", "unknown", "Choose call-back, visit or other.")
		bad(strings.TrimSpace(p.Text) != "" && len(p.Text) <= callMost, "promises.text", "required", "Say in at most 2,000 characters what was promised.")
	}
	if in.Card != nil {
		fields = append(fields, in.Card.check()...)
	}
	if fields != nil {
		return domain.Invalid("call-refused", "This call cannot be noted as it is.", fields...)
	}
	return nil
}

// List is a page of calls.
func (s *Calls) List(ctx context.Context, who Actor, q CallQuery) (Page[CallLine], error) {
	if err := who.Need(desk...); err != nil {
		return Page[CallLine]{}, err
	}
	if q.FarmID != "" {
		if _, err := s.store.Farm(ctx, who.Scope(), q.FarmID); err != nil {
			return Page[CallLine]{}, err
		}
	}
	return s.store.CallLines(ctx, who.Scope(), who.PersonID, q)
}

// One is one call.
func (s *Calls) One(ctx context.Context, who Actor, id string) (CallLine, error) {
	if err := who.Need(desk...); err != nil {
		return CallLine{}, err
	}
	return s.line(ctx, who, id)
}

func (s *Calls) line(ctx context.Context, who Actor, id string) (CallLine, error) {
	page, err := s.store.CallLines(ctx, who.Scope(), who.PersonID, CallQuery{ID: id, Limit: 1})
	if err != nil {
		return CallLine{}, err
	}
	if len(page.Items) == 0 {
		return CallLine{}, domain.NotFound("call")
	}
	return page.Items[0], nil
}
