package ticket

import (
	"slices"
	"strings"

	"tendfold/domain"
)

// Opening is what a new ticket says. A ticket of a rule has reasons; one that
// a person opens has a title.
type Opening struct {
	ID         string
	Seq        int // its place in the year
	Year       int
	Key        Key
	Origin     Origin
	Title      string
	Impact     Impact
	TimeToLoss TimeToLoss
	Danger     bool // a person is in danger
	Reasons    []domain.Reason
	Value      float64 // of the rule, what may grow worse
	PreviousID string
	CallID     string
	VisitID    string
	EntryID    string // of the report from the farm that it began with
}

// Open is a new ticket, reported, with its due times. One that a person of
// ours opens on a call or a visit has had its first word.
func Open(o Opening, by Act, terms Terms) (Ticket, Event, error) {
	if err := o.check(); err != nil {
		return Ticket{}, Event{}, err
	}
	t := Ticket{
		ID: o.ID, Key: o.Key, Seq: o.Seq, Year: o.Year, Number: Number(o.Seq, o.Year),
		Origin: o.Origin, Title: strings.TrimSpace(o.Title), State: Reported,
		Impact: o.Impact, TimeToLoss: o.TimeToLoss, Urgency: urgency(o.Danger, o.Impact, o.TimeToLoss),
		OpenedOn: by.On, OpenedAt: by.At, Reasons: o.Reasons, FirstReason: o.Reasons, WorseAt: o.Value,
		PreviousID: o.PreviousID, CallID: o.CallID, VisitID: o.VisitID, Version: 1,
	}
	t.FirstWordBy, t.PlanBy = terms.Due(t.Urgency, by.At)
	if o.Origin == FromCall || o.Origin == FromVisit {
		t = t.spoken(by)
	}
	data := map[string]any{"origin": string(t.Origin), "urgency": string(t.Urgency)}
	if o.EntryID != "" {
		data["entry"] = o.EntryID
	}
	return t, Event{Kind: Opened, To: Reported, Text: t.Title, Data: data}, nil
}

func urgency(danger bool, i Impact, l TimeToLoss) Urgency {
	if danger {
		return PersonInDanger
	}
	return UrgencyOf(i, l)
}

func (o Opening) check() error {
	var fields []domain.Field
	ask := func(ok bool, path, text string) {
		if !ok {
			fields = append(fields, domain.Field{Path: path, Code: "required", Text: text})
		}
	}
	ask(o.ID != "" && o.Seq > 0, "id", "A ticket needs an id and a number.")
	ask(o.Key.FarmID != "", "farm_id", "Say which farm the ticket is about.")
	ask(slices.Contains([]Origin{FromSweep, FromCall, FromCaretaker, FromVisit}, o.Origin), "origin", "Say where it comes from.")
	ask(UrgencyOf(o.Impact, o.TimeToLoss) != "", "impact", "Say how much is at stake (high, middle, low) and how soon it is lost (hours, week, longer).")
	if o.Key.Rule != "" {
		ask(len(o.Reasons) > 0, "reasons", "A rule says why it opens a ticket.")
	}
	if fields != nil {
		return domain.Invalid("ticket-opening", "This ticket is not complete.", fields...)
	}
	if o.Key.Rule != "" {
		return optional("title", o.Title)
	}
	return required("title", "Say in a few words what is wrong.", o.Title)
}
