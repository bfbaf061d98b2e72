package app

import (
	"context"
	"fmt"
	"slices"
	"time"

	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/domain/ticket"
)

// ticketStore is what Tickets needs of the database.
type ticketStore interface {
	Store
	Farm(ctx context.Context, sc Scope, id string) (FarmLine, error)
	Person(ctx context.Context, sc Scope, id string) (farm.Person, error)
	OpenTicket(ctx context.Context, t ticket.Ticket) (ticket.Ticket, bool, error)
	ChangeTicket(ctx context.Context, t ticket.Ticket) error
	Ticket(ctx context.Context, sc Scope, id string) (TicketLine, error)
	Event(ctx context.Context, sc Scope, id string) (Event, error)
	MediaOf(ctx context.Context, entryIDs []string) ([]Medium, error)
	Tickets(ctx context.Context, sc Scope, q TicketQuery) (Page[TicketLine], error)
	TicketEvents(ctx context.Context, ticketID string) ([]TicketEvent, error)
	AddTicketEvents(ctx context.Context, es ...TicketEvent) error
	seenStore
	Filters(ctx context.Context, personID string) ([]SavedFilter, error)
	PutFilter(ctx context.Context, personID string, f SavedFilter) error
	DropFilter(ctx context.Context, personID, name string) error
	Link(ctx context.Context, a, b, by string, at time.Time) error
	Unlink(ctx context.Context, a, b string) error
	Linked(ctx context.Context, sc Scope, id string) ([]TicketLine, error)
}

// Tickets are what people do with tickets; what the sweep does to them is in
// Sweeps.
type Tickets struct {
	Core
	store ticketStore
	plans *Plans
	queue Queue
	reach *Reach
}

// NewTickets wires the use case.
func NewTickets(core Core, store ticketStore, plans *Plans, queue Queue, reach *Reach) *Tickets {
	return &Tickets{Core: core, store: store, plans: plans, queue: queue, reach: reach}
}

// Thread is a ticket with what has happened to it, and the states to which it
// may move.
type Thread struct {
	TicketLine
	Events []TicketEvent  `json:"events"`
	Moves  []ticket.State `json:"moves"`
	// What the report from the farm shows and says, for the firm's people.
	Media      []Medium `json:"media,omitempty" doc:"Photos and voice notes of the report, and of what the farm has shown since."`
	MediaNamed []string `json:"media_named,omitempty" doc:"Those that are named; some may still be to come."`
	// What left the house about it, and what became of that.
	Linked   []TicketLine `json:"linked,omitempty" doc:"Tickets that belong together with it, for the firm's people."`
	Messages []Message    `json:"messages,omitempty" doc:"Texts, e-mails and notices about it, for the firm's people."`
}

// Queue is the tickets that an actor may see. A caretaker sees the reports of
// the own farms; an owner hears of tickets from the firm, not from a screen.
func (s *Tickets) Queue(ctx context.Context, who Actor, q TicketQuery) (Page[TicketLine], error) {
	if err := who.Need(append([]farm.Role{farm.Caretaker}, desk...)...); err != nil {
		return Page[TicketLine]{}, err
	}
	return s.store.Tickets(ctx, who.Scope(), q)
}

// Thread is one ticket. Notes inside the firm are for staff alone.
func (s *Tickets) Thread(ctx context.Context, who Actor, id string) (Thread, error) {
	if err := who.Need(append([]farm.Role{farm.Caretaker}, desk...)...); err != nil {
		return Thread{}, err
	}
	t, err := s.store.Ticket(ctx, who.Scope(), id)
	if err != nil {
		return Thread{}, err
	}
	events, err := s.store.TicketEvents(ctx, id)
	if err != nil {
		return Thread{}, err
	}
	th := Thread{TicketLine: t, Events: events, Moves: t.Moves()}
	if !who.Staff() {
		th.Events, th.Moves = forTheFarm(events), nil
		return th, nil
	}
	if err := s.addMedia(ctx, &th); err != nil {
		return th, err
	}
	if th.Messages, err = s.reach.store.MessagesOf(ctx, id); err != nil {
		return th, err
	}
	if th.Linked, err = s.store.Linked(ctx, who.Scope(), id); err != nil {
		return th, err
	}
	return th, s.noteReport(ctx, who, th)
}

// addMedia puts to a thread the photos and voice notes of the report with
// which it began, and of what the farm has shown since.
func (s *Tickets) addMedia(ctx context.Context, th *Thread) error {
	var ids []string
	for _, line := range th.Events {
		id, _ := line.Data["entry"].(string)
		if id == "" {
			continue
		}
		entry, err := s.store.Event(ctx, Everything, id)
		if err != nil {
			return err
		}
		ids = append(ids, id)
		th.MediaNamed = append(th.MediaNamed, attachedOf(entry.Data)...)
	}
	var err error
	th.Media, err = s.store.MediaOf(ctx, ids)
	return err
}

// readByTheFarm are the events whose words are for the farm too.
var readByTheFarm = []ticket.EventKind{ticket.Messaged, ticket.Opened, ticket.Asked, ticket.Answered, ticket.TakenBack}

// forTheFarm leaves out what is said inside the firm.
func forTheFarm(events []TicketEvent) []TicketEvent {
	out := []TicketEvent{}
	for _, e := range events {
		if e.Kind != ticket.Noted && e.Kind != ticket.Judged && e.Kind != ticket.Linked {
			e.Data = nil
			if !slices.Contains(readByTheFarm, e.Kind) {
				e.Text = ""
			}
			out = append(out, e)
		}
	}
	return out
}

// OpenTicket is a ticket that a person of the firm opens by hand.
type OpenTicket struct {
	ID         string
	FarmID     string
	UnitID     string
	Title      string
	Impact     ticket.Impact
	TimeToLoss ticket.TimeToLoss
	Danger     bool
	Origin     ticket.Origin
	CallID     string
	VisitID    string
}

// Open opens one.
func (s *Tickets) Open(ctx context.Context, who Actor, in OpenTicket) (Thread, error) {
	if err := who.Need(desk...); err != nil {
		return Thread{}, err
	}
	o := ticket.Opening{
		ID: in.ID, Key: ticket.Key{FarmID: in.FarmID, UnitID: in.UnitID}, Origin: in.Origin, Title: in.Title,
		Impact: in.Impact, TimeToLoss: in.TimeToLoss, Danger: in.Danger, CallID: in.CallID, VisitID: in.VisitID,
	}
	if o.ID == "" {
		o.ID = s.NewID()
	}
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		f, err := s.store.Farm(ctx, who.Scope(), in.FarmID)
		if err != nil {
			return err
		}
		return s.open(ctx, who, f, o, s.Now())
	})
	if err != nil {
		return Thread{}, err
	}
	return s.Thread(ctx, who, o.ID)
}

// open opens a ticket that a person asks for, in ctx's transaction.
func (s *Tickets) open(ctx context.Context, who Actor, f FarmLine, o ticket.Opening, at time.Time) error {
	terms, err := s.plans.Terms(ctx, f.BranchID)
	if err != nil {
		return err
	}
	act := ticket.Act{PersonID: who.PersonID, At: at, On: terms.Calendar.Day(at)}
	if o.ID == "" {
		o.ID = s.NewID()
	}
	o.Year, o.Seq = act.On.Year(), 1 // the store numbers it
	t, ev, err := ticket.Open(o, act, terms)
	if err != nil {
		return err
	}
	t, _, err = s.store.OpenTicket(ctx, t)
	if err != nil {
		return err
	}
	if err := s.addEvent(ctx, t.ID, act, ev); err != nil {
		return err
	}
	if t.Urgency == ticket.PersonInDanger {
		if err := s.reach.Danger(ctx, TicketLine{Ticket: t, Farm: f.Name, BranchID: f.BranchID}, who.PersonID); err != nil {
			return err
		}
	}
	return s.record(ctx, who, at, Change{Verb: "open", Thing: "ticket", ThingID: t.ID, FarmID: t.FarmID, After: t})
}

// add says on a ticket what an entry from its farm adds.
func (s *Tickets) add(ctx context.Context, e *entry, id, text string) error {
	line, err := s.store.Ticket(ctx, Everything, id)
	if err != nil {
		return err
	}
	day, err := s.plans.Today(ctx, line.BranchID, e.at)
	if err != nil {
		return err
	}
	by := ticket.Act{PersonID: e.who.PersonID, At: e.at, On: day}
	_, ev, err := line.Message(by, text, false)
	if err != nil {
		return err
	}
	ev.Data = map[string]any{"entry": e.ID}
	if err := s.addEvent(ctx, id, by, ev); err != nil {
		return err
	}
	return s.record(ctx, e.who, e.at, Change{Verb: "say", Thing: "ticket", ThingID: id, FarmID: line.FarmID, After: ev})
}

func (s *Tickets) addEvent(ctx context.Context, ticketID string, act ticket.Act, ev ticket.Event) error {
	return s.store.AddTicketEvents(ctx, eventOf(s.NewID(), ticketID, act, ev))
}

// eventOf is a line of a thread.
func eventOf(id, ticketID string, act ticket.Act, ev ticket.Event) TicketEvent {
	return TicketEvent{ID: id, TicketID: ticketID, PersonID: act.PersonID, At: act.At, On: act.On, Event: ev}
}

// act is a change of one ticket by a person: version is the one that the
// person saw, and do is the domain's answer.
func (s *Tickets) act(ctx context.Context, who Actor, id string, version int, verb string,
	do func(t ticket.Ticket, by ticket.Act, terms ticket.Terms) (ticket.Ticket, ticket.Event, error),
) (Thread, error) {
	if err := who.Need(desk...); err != nil {
		return Thread{}, err
	}
	at := s.Now()
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		line, err := s.store.Ticket(ctx, who.Scope(), id)
		if err != nil {
			return err
		}
		if line.Version != version {
			return domain.Stale()
		}
		if err := s.queue.SweepFarm(ctx, line.FarmID); err != nil {
			return err
		}
		terms, err := s.plans.Terms(ctx, line.BranchID)
		if err != nil {
			return err
		}
		by := ticket.Act{PersonID: who.PersonID, At: at, On: terms.Calendar.Day(at)}
		next, ev, err := do(line.Ticket, by, terms)
		if err != nil {
			return err
		}
		if err := s.store.ChangeTicket(ctx, next); err != nil {
			return err
		}
		if err := s.addEvent(ctx, id, by, ev); err != nil {
			return err
		}
		if to, _ := ev.Data["tell"].(string); to != "" && to != who.PersonID {
			line.Ticket = next
			if err := s.reach.Given(ctx, line, to, ev.Kind == ticket.Reopened); err != nil {
				return err
			}
		}
		return s.record(ctx, who, at, Change{Verb: verb, Thing: "ticket", ThingID: id, FarmID: line.FarmID, Before: line.Ticket, After: next})
	})
	if err != nil {
		return Thread{}, err
	}
	return s.Thread(ctx, who, id)
}

// Assess says how much is at stake and how soon it is lost.
func (s *Tickets) Assess(ctx context.Context, who Actor, id string, version int, a ticket.Assessment) (Thread, error) {
	return s.act(ctx, who, id, version, "assess", func(t ticket.Ticket, by ticket.Act, terms ticket.Terms) (ticket.Ticket, ticket.Event, error) {
		return t.Assess(by, a, terms)
	})
}

// TicketMove is a move of a ticket to another state, with what the state
// asks for.
type TicketMove struct {
	To        ticket.State
	WaitingOn ticket.WaitingOn
	Note      string // why given back, what is waited for, why reopened
	Outcome   string
	Learned   string
}

// Move takes in hand, gives back, waits, settles or reopens.
func (s *Tickets) Move(ctx context.Context, who Actor, id string, version int, m TicketMove) (Thread, error) {
	return s.act(ctx, who, id, version, string(m.To), func(t ticket.Ticket, by ticket.Act, terms ticket.Terms) (ticket.Ticket, ticket.Event, error) {
		switch m.To {
		case ticket.InHand:
			return t.TakeInHand(by)
		case ticket.Waiting:
			return t.Wait(by, m.WaitingOn, m.Note)
		case ticket.Settled:
			rest, err := s.restDays(ctx, t)
			if err != nil {
				return t, ticket.Event{}, err
			}
			return t.Settle(by, ticket.Settlement{Outcome: m.Outcome, Learned: m.Learned, RestDays: rest})
		case ticket.Assessed:
			if t.Open() {
				return t.GiveBack(by, m.Note)
			}
			return t.Reopen(by, m.Note, terms)
		default:
			return t, ticket.Event{}, domain.Invalid("ticket-move", fmt.Sprintf("A ticket does not move to %q.", m.To),
				domain.Field{Path: "to", Code: "unknown", Text: "Choose in-hand, waiting, settled or assessed."})
		}
	})
}

// restDays is the rest of the ticket's rule, from the pack of its unit's
// enterprise, else the longest that any pack says.
func (s *Tickets) restDays(_ context.Context, t ticket.Ticket) (int, error) {
	most := 0
	for _, name := range s.Packs.Enterprises() {
		if p, ok := s.Packs.Pack(name); ok {
			most = max(most, p.Rules[t.Rule].Rest)
		}
	}
	return most, nil
}

// HandOver gives it to another person of the firm, who must be able to see
// the farm.
func (s *Tickets) HandOver(ctx context.Context, who Actor, id string, version int, to, note string) (Thread, error) {
	p, err := s.store.Person(ctx, Everything, to)
	if err != nil {
		return Thread{}, err
	}
	if !p.Active || !(Actor{Grants: p.Grants}).Staff() {
		return Thread{}, domain.Invalid("ticket-holder", "A ticket is held by one of the firm's people who is active.",
			domain.Field{Path: "to", Code: "not-staff", Text: "Choose another person."})
	}
	return s.act(ctx, who, id, version, "hand-over", func(t ticket.Ticket, by ticket.Act, _ ticket.Terms) (ticket.Ticket, ticket.Event, error) {
		if _, err := s.store.Farm(ctx, Actor{PersonID: p.ID, Grants: p.Grants}.Scope(), t.FarmID); err != nil {
			return t, ticket.Event{}, domain.Invalid("ticket-holder", p.Name+" does not work for this farm's branch.",
				domain.Field{Path: "to", Code: "other-branch", Text: "Choose someone of the farm's branch."})
		}
		return t.HandOver(by, to, note)
	})
}

// MoveDue sets another time for the plan.
func (s *Tickets) MoveDue(ctx context.Context, who Actor, id string, version int, to time.Time, why string) (Thread, error) {
	return s.act(ctx, who, id, version, "move-due", func(t ticket.Ticket, by ticket.Act, _ ticket.Terms) (ticket.Ticket, ticket.Event, error) {
		return t.MoveDue(by, to, why)
	})
}

// Join makes the ticket part of another one of the same farm.
func (s *Tickets) Join(ctx context.Context, who Actor, id string, version int, into string) (Thread, error) {
	return s.act(ctx, who, id, version, "join", func(t ticket.Ticket, by ticket.Act, _ ticket.Terms) (ticket.Ticket, ticket.Event, error) {
		other, err := s.store.Ticket(ctx, who.Scope(), into)
		if err != nil {
			return t, ticket.Event{}, err
		}
		rest, err := s.restDays(ctx, t)
		if err != nil {
			return t, ticket.Event{}, err
		}
		return t.Join(by, other.Ticket, rest)
	})
}

// Say adds a note inside the firm, or a message that the farm reads too.
// Neither needs the version: nobody's words are lost by another's. It raises
// the version all the same where it is the first word. A message of ours goes
// to the caretaker's own browsers, and by text when asked.
func (s *Tickets) Say(ctx context.Context, who Actor, id, text string, inside, byText bool) (Thread, error) {
	if err := who.Need(append([]farm.Role{farm.Caretaker}, desk...)...); err != nil {
		return Thread{}, err
	}
	if inside && !who.Staff() {
		return Thread{}, domain.Forbidden("Notes inside the firm are for its staff. Send a message instead.")
	}
	line, err := s.store.Ticket(ctx, who.Scope(), id)
	if err != nil {
		return Thread{}, err
	}
	at := s.Now()
	err = s.store.InTx(ctx, func(ctx context.Context) error {
		if err := s.say(ctx, who, line, text, inside, at); err != nil || inside || !who.Staff() {
			return err
		}
		return s.reach.TellFarm(ctx, line, text, byText, line.Urgency == ticket.PersonInDanger)
	})
	if err != nil {
		return Thread{}, err
	}
	return s.Thread(ctx, who, id)
}

func (s *Tickets) say(ctx context.Context, who Actor, line TicketLine, text string, inside bool, at time.Time) error {
	day, err := s.plans.Today(ctx, line.BranchID, at)
	if err != nil {
		return err
	}
	by := ticket.Act{PersonID: who.PersonID, At: at, On: day}
	next, ev, err := line.Message(by, text, who.Staff())
	if inside {
		next, ev, err = line.Note(by, text)
	}
	if err != nil {
		return err
	}
	if !next.FirstWordAt.Equal(line.FirstWordAt) {
		if err := s.store.ChangeTicket(ctx, next); err != nil {
			return err
		}
	}
	if err := s.addEvent(ctx, line.ID, by, ev); err != nil {
		return err
	}
	return s.record(ctx, who, at, Change{Verb: "say", Thing: "ticket", ThingID: line.ID, FarmID: line.FarmID, After: ev})
}
