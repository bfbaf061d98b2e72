package app

import (
	"context"
	"strings"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/merge"
	"tendfold/domain/ticket"
)

// Request is something that the firm asks the people of a farm to do.
type Request struct {
	ID          string        `json:"id"`
	FarmID      string        `json:"farm_id"`
	UnitID      string        `json:"unit_id,omitempty"`
	TicketID    string        `json:"ticket_id,omitempty"`
	Text        string        `json:"text"`
	From        calendar.Date `json:"from" doc:"The first day on which the phone shows it."`
	DueOn       calendar.Date `json:"due_on"`
	AskedBy     string        `json:"asked_by"`
	AskedAt     time.Time     `json:"asked_at"`
	WithdrawnOn calendar.Date `json:"withdrawn_on,omitzero"`
	Answer      string        `json:"answer,omitempty" enum:"done,could-not" doc:"Absent while nobody has answered."`
	Reason      string        `json:"reason,omitempty" doc:"Why it could not be done."`
	Note        string        `json:"note,omitempty"`
	AnsweredBy  string        `json:"answered_by,omitempty"`
	AnsweredOn  calendar.Date `json:"answered_on,omitzero"`
	AnswerID    string        `json:"answer_id,omitempty" doc:"The entry that answers."`
	AnswerMade  string        `json:"-"`
	Version     int           `json:"version"`
}

// The answers to a request.
const (
	RequestDone     = "done"
	RequestCouldNot = "could-not"
)

// requestTask begins the name of a request among a caretaker's tasks.
const requestTask = "request:"

// requestStore is what Requests needs of the database.
type requestStore interface {
	Store
	Farm(ctx context.Context, sc Scope, id string) (FarmLine, error)
	Unit(ctx context.Context, sc Scope, id string) (farm.Unit, error)
	Ticket(ctx context.Context, sc Scope, id string) (TicketLine, error)
	ChangeTicket(ctx context.Context, t ticket.Ticket) error
	AddRequests(ctx context.Context, rs ...Request) error
	ChangeRequest(ctx context.Context, r Request) error
	Request(ctx context.Context, sc Scope, id string) (Request, error)
	RequestsOf(ctx context.Context, farmID string, since calendar.Date) ([]Request, error)
}

// Requests are what the firm asks the people of a farm to do, on a ticket or
// by itself. They stand on the caretaker's day until they are answered.
type Requests struct {
	Core
	store   requestStore
	plans   *Plans
	tickets *Tickets
}

// NewRequests wires the use case.
func NewRequests(core Core, store requestStore, plans *Plans, tickets *Tickets) *Requests {
	return &Requests{Core: core, store: store, plans: plans, tickets: tickets}
}

// NewRequest is what is asked.
type NewRequest struct {
	UnitID string
	Text   string
	From   calendar.Date // zero = today
	DueOn  calendar.Date
}

// mostRequest bounds a request in bytes: it stands on a small screen.
const mostRequest = 1000

// AskFarm asks the people of a farm for something that belongs to no ticket.
func (s *Requests) AskFarm(ctx context.Context, who Actor, farmID string, in NewRequest) (Request, error) {
	var out Request
	if err := who.Need(desk...); err != nil {
		return out, err
	}
	f, err := s.store.Farm(ctx, who.Scope(), farmID)
	if err != nil {
		return out, err
	}
	if in.UnitID != "" {
		u, err := s.store.Unit(ctx, who.Scope(), in.UnitID)
		if err != nil {
			return out, err
		}
		if u.FarmID != f.ID {
			return out, domain.NotFound("unit")
		}
	}
	at := s.Now()
	today, err := s.plans.Today(ctx, f.BranchID, at)
	if err != nil {
		return out, err
	}
	if f.Status == farm.Closed {
		return out, domain.Conflict("farm-closed", "This farm is closed in the register. Open it again before asking it for anything.")
	}
	out, err = s.request(who, f.ID, in, at, today)
	if err != nil {
		return out, err
	}
	return out, s.store.InTx(ctx, func(ctx context.Context) error { return s.add(ctx, who, out) })
}

// AskOnTicket asks the farm of a ticket; the question and its answer stand on
// the ticket's thread.
func (s *Requests) AskOnTicket(ctx context.Context, who Actor, ticketID string, in NewRequest) (Thread, error) {
	if err := who.Need(desk...); err != nil {
		return Thread{}, err
	}
	at := s.Now()
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		line, err := s.store.Ticket(ctx, who.Scope(), ticketID)
		if err != nil {
			return err
		}
		today, err := s.plans.Today(ctx, line.BranchID, at)
		if err != nil {
			return err
		}
		by := ticket.Act{PersonID: who.PersonID, At: at, On: today}
		next, ev, err := line.Ask(by, in.Text)
		if err != nil {
			return err
		}
		in.UnitID = line.UnitID
		r, err := s.request(who, line.FarmID, in, at, today)
		if err != nil {
			return err
		}
		r.TicketID, ev.Data = line.ID, map[string]any{"request": r.ID, "due_on": r.DueOn.String()}
		if !next.FirstWordAt.Equal(line.FirstWordAt) {
			if err := s.store.ChangeTicket(ctx, next); err != nil {
				return err
			}
		}
		if err := s.tickets.addEvent(ctx, line.ID, by, ev); err != nil {
			return err
		}
		return s.add(ctx, who, r)
	})
	if err != nil {
		return Thread{}, err
	}
	return s.tickets.Thread(ctx, who, ticketID)
}

func (s *Requests) request(who Actor, farmID string, in NewRequest, at time.Time, today calendar.Date) (Request, error) {
	r := Request{
		ID: s.NewID(), FarmID: farmID, UnitID: in.UnitID, Text: strings.TrimSpace(in.Text), From: max(in.From, today), DueOn: in.DueOn,
		AskedBy: who.PersonID, AskedAt: at, Version: 1,
	}
	bad := func(path, code, text string) error {
		return domain.Invalid("request-refused", "This cannot be asked as it is.", domain.Field{Path: path, Code: code, Text: text})
	}
	switch {
	case r.Text == "":
		return r, bad("text", "required", "Say what is to be done.")
	case len(r.Text) > mostRequest:
		return r, bad("text", "too-long", "Say it in at most 1,000 characters.")
	case r.DueOn < today || r.DueOn.Sub(today) > 366:
		return r, bad("due_on", "range", "Give a day from today to a year ahead.")
	case r.From > r.DueOn:
		return r, bad("from", "range", "It cannot be due before it is asked for.")
	}
	return r, nil
}

func (s *Requests) add(ctx context.Context, who Actor, r Request) error {
	if err := s.store.AddRequests(ctx, r); err != nil {
		return err
	}
	return s.record(ctx, who, r.AskedAt, Change{Verb: "ask", Thing: "request", ThingID: r.ID, FarmID: r.FarmID, After: r})
}

// requestsShown is for how many days an answered request stays in lists.
const requestsShown = 28

// Of are the requests to a farm: the open ones, and those of the last weeks.
func (s *Requests) Of(ctx context.Context, who Actor, farmID string) ([]Request, error) {
	if err := who.Need(desk...); err != nil {
		return nil, err
	}
	f, err := s.store.Farm(ctx, who.Scope(), farmID)
	if err != nil {
		return nil, err
	}
	today, err := s.plans.Today(ctx, f.BranchID, s.Now())
	if err != nil {
		return nil, err
	}
	return s.store.RequestsOf(ctx, farmID, today.Add(-requestsShown))
}

// Withdraw takes a request back, before it was answered.
func (s *Requests) Withdraw(ctx context.Context, who Actor, id string) (Request, error) {
	var out Request
	if err := who.Need(desk...); err != nil {
		return out, err
	}
	at := s.Now()
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		r, err := s.store.Request(ctx, who.Scope(), id)
		if err != nil {
			return err
		}
		if out = r; r.WithdrawnOn != 0 {
			return nil // said before
		}
		if r.Answer != "" {
			return domain.Conflict("request-answered", "The farm has answered this already.")
		}
		f, err := s.store.Farm(ctx, who.Scope(), r.FarmID)
		if err != nil {
			return err
		}
		if out.WithdrawnOn, err = s.plans.Today(ctx, f.BranchID, at); err != nil {
			return err
		}
		if err := s.store.ChangeRequest(ctx, out); err != nil {
			return err
		}
		if err := s.takeBack(ctx, who, out, at); err != nil {
			return err
		}
		return s.record(ctx, who, at, Change{Verb: "withdraw", Thing: "request", ThingID: id, FarmID: r.FarmID, Before: r, After: out})
	})
	return out, err
}

func (s *Requests) takeBack(ctx context.Context, who Actor, r Request, at time.Time) error {
	if r.TicketID == "" {
		return nil
	}
	line, err := s.store.Ticket(ctx, Everything, r.TicketID)
	if err != nil {
		return err
	}
	by := ticket.Act{PersonID: who.PersonID, At: at, On: r.WithdrawnOn}
	ev := line.TakeBack(by, r.Text)
	ev.Data = map[string]any{"request": r.ID}
	return s.tickets.addEvent(ctx, r.TicketID, by, ev)
}

// RequestEntry is the data of EntryRequest: what was asked is done.
type RequestEntry struct {
	Request string `json:"request"`
	Note    string `json:"note,omitempty"`
}

// answer is one answer to a request.
type answer struct{ what, reason, note string }

func couldNotBeDone(reason, note string) answer { return answer{RequestCouldNot, reason, note} }

func (s *Entries) requestDone(ctx context.Context, e *entry) error {
	in, err := decode[RequestEntry](e)
	if err != nil {
		return err
	}
	if err := short("note", in.Note, maxNote); err != nil {
		return err
	}
	return s.answerRequest(ctx, e, in.Request, answer{what: RequestDone, note: in.Note})
}

// answerRequest puts an answer to its request: of several, from phones that
// were apart, the one made last stands, in whatever order they come. Each of
// them stands on the ticket's thread.
func (s *Entries) answerRequest(ctx context.Context, e *entry, id string, a answer) error {
	r, err := s.store.Request(ctx, Everything, id)
	if err != nil || r.FarmID != e.FarmID {
		return refuse("request", "unknown", "This farm was not asked for that. Read the day again.")
	}
	word, old := e.word(), merge.Word{ID: r.AnswerID, Made: r.AnswerMade}
	if r.Answer == "" || word.Outdates(old) {
		r.Answer, r.Reason, r.Note = a.what, a.reason, a.note
		r.AnsweredBy, r.AnsweredOn, r.AnswerID, r.AnswerMade = e.who.PersonID, e.On, e.ID, word.Made
		if err := s.store.ChangeRequest(ctx, r); err != nil {
			return err
		}
	}
	if r.TicketID == "" {
		return nil
	}
	return s.tickets.answered(ctx, e, r, a)
}

// answered adds the farm's answer to the thread of the ticket that asked.
func (s *Tickets) answered(ctx context.Context, e *entry, r Request, a answer) error {
	line, err := s.store.Ticket(ctx, Everything, r.TicketID)
	if err != nil {
		return err
	}
	by := ticket.Act{PersonID: e.who.PersonID, At: e.at, On: e.today}
	ev := line.Answer(by, a.reason, a.note)
	ev.Data["request"], ev.Data["entry"], ev.Data["asked"] = r.ID, e.ID, r.Text
	return s.addEvent(ctx, line.ID, by, ev)
}

// TodayRequest is what the firm asks for, as the caretaker reads it.
type TodayRequest struct {
	ID     string        `json:"id"`
	Text   string        `json:"text"`
	From   calendar.Date `json:"from,omitzero" doc:"The first day on which it is shown; absent when that is now."`
	DueOn  calendar.Date `json:"due_on"`
	By     string        `json:"by" doc:"Who of the firm asks."`
	UnitID string        `json:"unit_id,omitempty"`
	Number string        `json:"number,omitempty" doc:"Of the own report that it belongs to."`
}

// mostRequests bounds what is shipped; the firm sees the rest.
const mostRequests = 20

// addRequests are the requests that wait for an answer, first due first.
func (v *todayView) addRequests(ctx context.Context, out *TodayFarm) error {
	out.Requests = []TodayRequest{}
	all, err := v.store.RequestsOf(ctx, v.farm.ID, v.today)
	if err != nil {
		return err
	}
	var by []string
	for _, r := range all {
		if r.Answer != "" || r.WithdrawnOn != 0 || len(out.Requests) == mostRequests || r.From.Sub(v.today) > aheadDays {
			continue
		}
		row := TodayRequest{ID: r.ID, Text: r.Text, DueOn: r.DueOn, UnitID: r.UnitID}
		if r.From > v.today {
			row.From = r.From
		}
		for _, report := range out.Reports {
			if report.ID == r.TicketID {
				row.Number = report.Number
			}
		}
		out.Requests, by = append(out.Requests, row), append(by, r.AskedBy)
	}
	people, err := v.store.PeopleByIDs(ctx, by)
	for _, p := range people {
		for i := range out.Requests {
			if by[i] == p.ID {
				out.Requests[i].By = p.Name
			}
		}
	}
	return err
}
