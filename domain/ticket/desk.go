package ticket

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"tendfold/domain"
)

// Assessment is how a person sees a ticket. Why is needed where it differs
// from what stood there.
type Assessment struct {
	Impact     Impact
	TimeToLoss TimeToLoss
	Danger     bool // a person is in danger
	Why        string
}

// Assess says how much is at stake and how soon it is lost. A reported ticket
// becomes assessed; an open one in another state keeps it. The times of a
// higher urgency count from now, those of a lower one from the opening.
func (t Ticket) Assess(by Act, a Assessment, terms Terms) (Ticket, Event, error) {
	if !t.Open() {
		return t, Event{}, t.settled()
	}
	u := urgency(a.Danger, a.Impact, a.TimeToLoss)
	if UrgencyOf(a.Impact, a.TimeToLoss) == "" {
		return t, Event{}, domain.Invalid("ticket-assessment", "Say how much is at stake and how soon it is lost.",
			domain.Field{Path: "impact", Code: "required", Text: "Choose high, middle or low, and hours, week or longer."})
	}
	e := Event{Kind: Judged, From: t.State, To: t.State, Text: strings.TrimSpace(a.Why)}
	if differs := a.Impact != t.Impact || a.TimeToLoss != t.TimeToLoss || a.Danger != (t.Urgency == PersonInDanger); differs {
		if err := required("why", "Say why you see this differently.", a.Why); err != nil {
			return t, Event{}, err
		}
		e.Data = map[string]any{"was": string(t.Urgency), "urgency": string(u)}
		t = t.judged(by, a, u, terms)
	} else if err := optional("why", a.Why); err != nil {
		return t, Event{}, err
	}
	if t.State == Reported {
		t, _ = t.move(Assessed)
		e.Kind, e.To = Moved, Assessed
	}
	return t.spoken(by), e, nil
}

// judged is the ticket with another urgency and its due times. What keeps
// coming back stays one urgency up.
func (t Ticket) judged(by Act, a Assessment, u Urgency, terms Terms) Ticket {
	if t.KeepsComing {
		u = u.Raised()
	}
	from := t.OpenedAt
	if u.Above(t.Urgency) {
		from = by.At
	}
	if u != t.Urgency {
		t.FirstWordBy, t.PlanBy = terms.Due(u, from)
	}
	t.Impact, t.TimeToLoss, t.Urgency = a.Impact, a.TimeToLoss, u
	return t
}

// spoken notes that a person of ours has dealt with it, the first time.
func (t Ticket) spoken(by Act) Ticket {
	if t.FirstWordAt.IsZero() {
		t.FirstWordAt = by.At
	}
	return t
}

// TakeInHand makes the person who acts its holder.
func (t Ticket) TakeInHand(by Act) (Ticket, Event, error) {
	next, e, err := t.step(by, InHand, "", func(t *Ticket) { t.HolderID = by.PersonID })
	if err == nil {
		e.Data = map[string]any{"was": t.HolderID, "holder": by.PersonID}
	}
	return next, e, err
}

// GiveBack puts it back among the assessed, without a holder.
func (t Ticket) GiveBack(by Act, note string) (Ticket, Event, error) {
	if t.State != InHand {
		return t, Event{}, t.refuse(Assessed)
	}
	return t.step(by, Assessed, note, func(*Ticket) {})
}

// Wait says for whom it waits. Whoever puts it there holds it if nobody does.
func (t Ticket) Wait(by Act, on WaitingOn, note string) (Ticket, Event, error) {
	if !slices.Contains([]WaitingOn{OnFarm, OnSupplier, OnElectrician, OnVet, OnUs}, on) {
		return t, Event{}, domain.Invalid("ticket-waiting-on", "Say for whom the ticket waits.",
			domain.Field{Path: "waiting_on", Code: "required", Text: "Choose farm, supplier, electrician, vet or us."})
	}
	next, e, err := t.step(by, Waiting, note, func(t *Ticket) {
		t.WaitingOn = on
		if t.HolderID == "" {
			t.HolderID = by.PersonID
		}
	})
	if err == nil {
		e.Data = map[string]any{"waiting_on": string(on)}
	}
	return next, e, err
}

// step is a move that a person makes.
func (t Ticket) step(by Act, to State, text string, change func(*Ticket)) (Ticket, Event, error) {
	if err := optional("note", text); err != nil {
		return t, Event{}, err
	}
	next, err := t.move(to)
	if err != nil {
		return t, Event{}, err
	}
	change(&next)
	return next.spoken(by), Event{Kind: Moved, From: t.State, To: to, Text: strings.TrimSpace(text)}, nil
}

// HandOver gives it to another holder, from whom it was or from nobody. A
// waiting ticket goes on waiting; any other is then in hand.
func (t Ticket) HandOver(by Act, to, note string) (Ticket, Event, error) {
	switch {
	case !t.Open():
		return t, Event{}, t.settled()
	case to == "":
		return t, Event{}, required("to", "Say who takes it over.", to)
	case to == t.HolderID:
		return t, Event{}, domain.Conflict("ticket-has-holder", fmt.Sprintf("Ticket %s is in that person's hands already.", t.Number))
	}
	if err := optional("note", note); err != nil {
		return t, Event{}, err
	}
	e := Event{
		Kind: HandedOver, From: t.State, To: t.State, Text: strings.TrimSpace(note),
		Data: map[string]any{"was": t.HolderID, "holder": to, "tell": to},
	}
	if t.State != Waiting {
		t.State, e.To = InHand, InHand
	}
	t.HolderID = to
	return t.spoken(by), e, nil
}

// maxMove is how far ahead a due time may be set (our choice): what is later
// is settled and reopened, or a promise.
const maxMove = 90 * 24 * time.Hour

// MoveDue sets the time by which there must be a plan. Danger to a person has
// no later time.
func (t Ticket) MoveDue(by Act, to time.Time, why string) (Ticket, Event, error) {
	switch {
	case !t.Open():
		return t, Event{}, t.settled()
	case t.Urgency == PersonInDanger:
		return t, Event{}, domain.Conflict("ticket-due-fixed", "A person is in danger: the time cannot be moved. Assess the ticket again when the danger is over.")
	case !to.After(by.At) || to.Sub(by.At) > maxMove:
		return t, Event{}, domain.Invalid("ticket-due", "Give a time from now to 90 days ahead.",
			domain.Field{Path: "plan_by", Code: "range", Text: "Give a time from now to 90 days ahead."})
	}
	if err := required("why", "Say why the time moves.", why); err != nil {
		return t, Event{}, err
	}
	e := Event{
		Kind: DueMoved, From: t.State, To: t.State, Text: strings.TrimSpace(why),
		Data: map[string]any{"was": t.PlanBy.UTC().Format(time.RFC3339), "plan_by": to.UTC().Format(time.RFC3339)},
	}
	t.PlanBy = to.UTC()
	return t.spoken(by), e, nil
}

// Note adds a line that staff alone read. It changes nothing, so a settled
// ticket takes it too.
func (t Ticket) Note(_ Act, text string) (Ticket, Event, error) {
	return t.line(Noted, text)
}

// Message adds a line that the farm and we both read; one of ours is a first
// word.
func (t Ticket) Message(by Act, text string, ours bool) (Ticket, Event, error) {
	next, e, err := t.line(Messaged, text)
	if err == nil && ours {
		next = next.spoken(by)
	}
	return next, e, err
}

func (t Ticket) line(kind EventKind, text string) (Ticket, Event, error) {
	if err := required("text", "Write something first.", text); err != nil {
		return t, Event{}, err
	}
	return t, Event{Kind: kind, From: t.State, To: t.State, Text: strings.TrimSpace(text)}, nil
}

// What a ticket still wants from a person.
const (
	WantsFirstWord = "first-word"
	WantsPlan      = "plan"
)

// Wants is what is due next and by when: a first word; then a plan, which is
// there once a person has the ticket in hand or waits for somebody; then
// nothing.
func (t Ticket) Wants() (what string, by time.Time) {
	switch {
	case !t.Open():
		return "", time.Time{}
	case t.FirstWordAt.IsZero():
		return WantsFirstWord, t.FirstWordBy
	case t.State == Reported || t.State == Assessed:
		return WantsPlan, t.PlanBy
	default:
		return "", time.Time{}
	}
}
