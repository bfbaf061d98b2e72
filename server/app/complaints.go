package app

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"tendfold/domain"
	"tendfold/domain/farm"
)

// ComplaintState is how far a complaint has come. The steps are those of ISO
// 10002:2018 clause 7: received under a number of its own and acknowledged at
// once, tracked, assessed, looked into, answered, closed with the record.
type ComplaintState string

// The states.
const (
	ComplaintReceived ComplaintState = "received"
	ComplaintAssessed ComplaintState = "assessed"
	ComplaintAnswered ComplaintState = "answered"
	ComplaintClosed   ComplaintState = "closed"
)

// Complaint is somebody's complaint about the firm.
type Complaint struct {
	ID             string         `json:"id"`
	Seq            int            `json:"-"`
	Year           int            `json:"-"`
	Number         string         `json:"number" doc:"C 3/26: speakable, and apart from the tickets'."`
	FarmID         string         `json:"farm_id"`
	TicketID       string         `json:"ticket_id,omitempty"`
	PersonID       string         `json:"person_id,omitempty" doc:"Who complains, if known."`
	Channel        string         `json:"channel" enum:"phone,text,chat,in-person"`
	Said           string         `json:"said"`
	State          ComplaintState `json:"state" enum:"received,assessed,answered,closed"`
	Severity       string         `json:"severity,omitempty" enum:"low,middle,high"`
	Safety         bool           `json:"safety,omitempty" doc:"Somebody's safety is at stake."`
	HolderID       string         `json:"holder_id,omitempty"`
	ReceivedAt     time.Time      `json:"received_at"`
	ReceivedBy     string         `json:"received_by"`
	AcknowledgedAt time.Time      `json:"acknowledged_at,omitzero"`
	Found          string         `json:"found,omitempty" doc:"What the look into it found."`
	Decision       string         `json:"decision,omitempty" doc:"What was decided and said."`
	AnsweredAt     time.Time      `json:"answered_at,omitzero"`
	Content        string         `json:"content,omitempty" enum:"yes,no" doc:"Whether who complained is content; if not, the way outside was told."`
	ClosedAt       time.Time      `json:"closed_at,omitzero"`
	ClosedBy       string         `json:"closed_by,omitempty"`
	Version        int            `json:"version"`
}

// Numbered fills in the speakable number.
func (c Complaint) Numbered() Complaint {
	c.Number = fmt.Sprintf("C %d/%02d", c.Seq, c.Year%100)
	return c
}

// complaintStore is what Complaints needs of the database.
type complaintStore interface {
	Store
	Farm(ctx context.Context, sc Scope, id string) (FarmLine, error)
	Ticket(ctx context.Context, sc Scope, id string) (TicketLine, error)
	Firm(ctx context.Context) (farm.Firm, error)
	PeopleByIDs(ctx context.Context, ids []string) ([]farm.Person, error)
	AddComplaint(ctx context.Context, c Complaint) error
	ChangeComplaint(ctx context.Context, c Complaint) error
	Complaint(ctx context.Context, sc Scope, id string) (Complaint, error)
	Complaints(ctx context.Context, sc Scope, farmID string) ([]Complaint, error)
}

// Complaints are about the firm itself.
type Complaints struct {
	Core
	store complaintStore
	plans *Plans
	reach *Reach
}

// NewComplaints wires the use case.
func NewComplaints(core Core, store complaintStore, plans *Plans, reach *Reach) *Complaints {
	return &Complaints{Core: core, store: store, plans: plans, reach: reach}
}

// NewComplaint is what is received.
type NewComplaint struct {
	FarmID   string
	TicketID string
	PersonID string
	Channel  string
	Said     string
}

// Receive keeps a complaint under its number and acknowledges it at once: to
// whoever complains by text when a number is known, else by whoever took it.
func (s *Complaints) Receive(ctx context.Context, who Actor, in NewComplaint) (Complaint, error) {
	if err := who.Need(desk...); err != nil {
		return Complaint{}, err
	}
	in.Said = strings.TrimSpace(in.Said)
	if in.Said == "" || utf8.RuneCountInString(in.Said) > callMost || !slices.Contains(channels, in.Channel) {
		return Complaint{}, domain.Invalid("complaint-refused", "Write down in at most 2,000 characters what the complaint is, and how it came.",
			domain.Field{Path: "said", Code: "required", Text: "Write what was said, at most 2,000 characters."})
	}
	now := s.Now()
	var id string
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		f, err := s.store.Farm(ctx, who.Scope(), in.FarmID)
		if err != nil {
			return err
		}
		if in.TicketID != "" {
			t, err := s.store.Ticket(ctx, who.Scope(), in.TicketID)
			if err != nil {
				return err
			}
			if t.FarmID != f.ID {
				return domain.NotFound("ticket")
			}
		}
		on, err := s.plans.Today(ctx, f.BranchID, now)
		if err != nil {
			return err
		}
		c := Complaint{
			ID: s.NewID(), Year: on.Year(), FarmID: f.ID, TicketID: in.TicketID, PersonID: in.PersonID, Channel: in.Channel, Said: in.Said,
			State: ComplaintReceived, ReceivedAt: now, ReceivedBy: who.PersonID, AcknowledgedAt: now, Version: 1,
		}
		if err := s.store.AddComplaint(ctx, c); err != nil {
			return err
		}
		id = c.ID
		if c, err = s.store.Complaint(ctx, Everything, id); err != nil {
			return err
		}
		if err := s.acknowledge(ctx, c); err != nil {
			return err
		}
		return s.record(ctx, who, now, Change{Verb: "receive", Thing: "complaint", ThingID: c.ID, FarmID: f.ID, After: c})
	})
	if err != nil {
		return Complaint{}, err
	}
	return s.store.Complaint(ctx, who.Scope(), id)
}

func (s *Complaints) acknowledge(ctx context.Context, c Complaint) error {
	if c.PersonID == "" {
		return nil
	}
	people, err := s.store.PeopleByIDs(ctx, []string{c.PersonID})
	if err != nil {
		return err
	}
	if len(people) == 0 {
		return domain.NotFound("person")
	}
	if people[0].Phone == "" {
		return nil
	}
	firm, err := s.store.Firm(ctx)
	if err != nil {
		return err
	}
	_, err = s.reach.Enqueue(ctx, Message{
		TicketID: c.TicketID, FarmID: c.FarmID, PersonID: c.PersonID, Channel: ByText, Address: people[0].Phone, Language: people[0].Language,
		Body: fmt.Sprintf(wordsOf(people[0].Language).complaint, firm.Name, c.Number),
	})
	return err
}

// ComplaintStep takes a complaint further: each step asks for its own.
type ComplaintStep struct {
	To       ComplaintState
	Severity string // to assess
	Safety   bool
	HolderID string
	Found    string // to answer
	Decision string
	Content  string // to close
}

// Step takes it further, at its version. Whoever is complained of may not be
// the one who decides; so only managers do.
func (s *Complaints) Step(ctx context.Context, who Actor, id string, version int, in ComplaintStep) (Complaint, error) {
	if err := who.Need(leader...); err != nil {
		return Complaint{}, err
	}
	now := s.Now()
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		old, err := s.store.Complaint(ctx, who.Scope(), id)
		if err != nil {
			return err
		}
		if old.Version != version {
			return domain.Stale()
		}
		c, err := old.step(in, who.PersonID, now)
		if err != nil {
			return err
		}
		if err := s.store.ChangeComplaint(ctx, c); err != nil {
			return err
		}
		return s.record(ctx, who, now, Change{Verb: string(in.To), Thing: "complaint", ThingID: id, FarmID: c.FarmID, Before: old, After: c})
	})
	if err != nil {
		return Complaint{}, err
	}
	return s.store.Complaint(ctx, who.Scope(), id)
}

// step is the complaint one step further, or why not.
func (c Complaint) step(in ComplaintStep, by string, now time.Time) (Complaint, error) {
	next := map[ComplaintState]ComplaintState{ComplaintReceived: ComplaintAssessed, ComplaintAssessed: ComplaintAnswered, ComplaintAnswered: ComplaintClosed}
	if next[c.State] != in.To {
		return c, domain.Conflict("complaint-step", fmt.Sprintf("A complaint that is %s cannot become %s: it is assessed, then answered, then closed.", c.State, in.To))
	}
	wants := func(ok bool, path, text string) error {
		if ok {
			return nil
		}
		return domain.Invalid("complaint-step-refused", text, domain.Field{Path: path, Code: "required", Text: text})
	}
	filled := func(s string) bool { s = strings.TrimSpace(s); return s != "" && utf8.RuneCountInString(s) <= callMost }
	c.State = in.To
	switch in.To {
	case ComplaintAssessed:
		if err := wants(slices.Contains([]string{"low", "middle", "high"}, in.Severity), "severity", "Say how severe it is: low, middle or high."); err != nil {
			return c, err
		}
		c.Severity, c.Safety, c.HolderID = in.Severity, in.Safety, in.HolderID
		if c.HolderID == "" {
			c.HolderID = by
		}
	case ComplaintAnswered:
		if err := wants(filled(in.Found), "found", "Say what the look into it found."); err != nil {
			return c, err
		}
		if err := wants(filled(in.Decision), "decision", "Say what was decided and told."); err != nil {
			return c, err
		}
		c.Found, c.Decision, c.AnsweredAt = strings.TrimSpace(in.Found), strings.TrimSpace(in.Decision), now
	case ComplaintClosed:
		if err := wants(in.Content == "yes" || in.Content == "no", "content", "Say whether who complained is content; if not, tell the way outside first."); err != nil {
			return c, err
		}
		c.Content, c.ClosedAt, c.ClosedBy = in.Content, now, by
	case ComplaintReceived:
	}
	return c, nil
}

// List is the complaints in scope, open ones first; of a farm when one is named.
func (s *Complaints) List(ctx context.Context, who Actor, farmID string) ([]Complaint, error) {
	if err := who.Need(desk...); err != nil {
		return nil, err
	}
	if farmID != "" {
		if _, err := s.store.Farm(ctx, who.Scope(), farmID); err != nil {
			return nil, err
		}
	}
	list, err := s.store.Complaints(ctx, who.Scope(), farmID)
	return orEmpty(list), err
}
