package app

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/text"
)

// Channel is a way by which a message leaves the house.
type Channel string

// The channels.
const (
	ByText  Channel = "text"
	ByEmail Channel = "email"
	ByPush  Channel = "push"
)

// MessageState is what has become of a message. None is ever dropped: what was
// not sent stands with its reason, and can be sent again by hand.
type MessageState string

// The states of a message.
const (
	MessageWaiting    MessageState = "waiting"   // in the queue, or until the quiet hours end
	MessageSending    MessageState = "sending"   // in the hands of a worker
	MessageSent       MessageState = "sent"      // the gateway has it
	MessageDelivered  MessageState = "delivered" // the gateway says that it arrived
	MessageFailed     MessageState = "failed"
	MessageGathered   MessageState = "gathered"    // went out as part of another one
	MessageNoGateway  MessageState = "no-gateway"  // nothing is set up for its channel
	MessageOptedOut   MessageState = "opted-out"   // the number wants no messages
	MessageOverBudget MessageState = "over-budget" // the month's texts are used up
)

// Message is one message to one address.
type Message struct {
	ID           string       `json:"id"`
	TicketID     string       `json:"ticket_id,omitempty"`
	FarmID       string       `json:"farm_id,omitempty"`
	PersonID     string       `json:"person_id,omitempty"`
	Channel      Channel      `json:"channel" enum:"text,email,push"`
	Address      string       `json:"address"`
	Language     string       `json:"language"`
	Subject      string       `json:"subject,omitempty"`
	Body         string       `json:"body"`
	Urgent       bool         `json:"urgent,omitempty" doc:"A danger: no quiet hours, no budget, not gathered."`
	Answer       bool         `json:"answer,omitempty" doc:"To what the same number has just sent."`
	State        MessageState `json:"state" enum:"waiting,sending,sent,delivered,failed,gathered,no-gateway,opted-out,over-budget"`
	Why          string       `json:"why,omitempty" doc:"Why it was not sent yet, or not at all."`
	Parts        int          `json:"parts,omitempty" doc:"Of a text: what is paid."`
	Tries        int          `json:"tries,omitempty"`
	Month        string       `json:"-"`
	MadeAt       time.Time    `json:"made_at"`
	NotBefore    time.Time    `json:"not_before"`
	ClaimedAt    time.Time    `json:"-"`
	DoneAt       time.Time    `json:"done_at,omitzero"`
	ProviderID   string       `json:"-"`
	GatheredInto string       `json:"gathered_into,omitempty"`
	Version      int          `json:"-"`
}

// ReachSettings is how the firm reaches people. The defaults (1,000 parts of a
// text a month, quiet from 21:00 to 6:00) are our choice.
type ReachSettings struct {
	MonthlyParts int `json:"monthly_parts" minimum:"0" maximum:"1000000" doc:"Parts of texts a month; then only dangers are sent."`
	QuietFrom    int `json:"quiet_from" minimum:"0" maximum:"1439" doc:"Minutes after midnight where the farm is."`
	QuietTo      int `json:"quiet_to" minimum:"0" maximum:"1439"`
	Version      int `json:"-"`
}

// MessageCount is how many messages of a channel have a state.
type MessageCount struct {
	Channel  Channel      `json:"channel"`
	State    MessageState `json:"state"`
	Messages int          `json:"messages"`
	Parts    int          `json:"parts"`
}

// Subscription is a browser that asked to be told.
type Subscription struct {
	ID       string
	PersonID string
	Endpoint string
	P256dh   string
	Auth     string
	MadeAt   time.Time
}

// Courier carries messages out of the house. Send returns the carrier's own
// id; an error of kind invalid or not found means that it will never go, any
// other that it may later.
type Courier interface {
	Has(c Channel) bool
	Send(ctx context.Context, m Message, to []Subscription) (providerID string, gone []string, err error)
}

// Post queues the sending of a message behind ctx's transaction.
type Post interface {
	SendMessage(ctx context.Context, id string, at time.Time) error
}

// reachStore is what Reach needs of the database.
type reachStore interface {
	Store
	AddMessage(ctx context.Context, m Message) error
	ChangeMessage(ctx context.Context, m Message) error
	Message(ctx context.Context, sc Scope, id string) (Message, error)
	MessageByProvider(ctx context.Context, providerID string) (Message, error)
	MessagesOf(ctx context.Context, ticketID string) ([]Message, error)
	MessagesBy(ctx context.Context, since time.Time) ([]MessageCount, error)
	Beside(ctx context.Context, m Message, now time.Time) ([]Message, error)
	Unsent(ctx context.Context, before time.Time) ([]Message, error)
	PartsIn(ctx context.Context, month string) (int, error)
	ReachSettings(ctx context.Context) (ReachSettings, error)
	SetReachSettings(ctx context.Context, v ReachSettings) error
	OptedOut(ctx context.Context, phone string) (bool, error)
	PutSubscription(ctx context.Context, v Subscription) error
	DropSubscription(ctx context.Context, endpoint string) error
	Subscriptions(ctx context.Context, personID string) ([]Subscription, error)
	Farm(ctx context.Context, sc Scope, id string) (FarmLine, error)
	Firm(ctx context.Context) (farm.Firm, error)
	PeopleByIDs(ctx context.Context, ids []string) ([]farm.Person, error)
	WorkOn(ctx context.Context, farmIDs []string) ([]farm.Work, error)
	Staff(ctx context.Context, branch string, roles ...farm.Role) ([]farm.Person, error)
}

// Reach is everything that leaves the house.
type Reach struct {
	Core
	store   reachStore
	plans   *Plans
	post    Post
	courier Courier
}

// NewReach wires the use case.
func NewReach(core Core, store reachStore, plans *Plans, post Post, courier Courier) *Reach {
	return &Reach{Core: core, store: store, plans: plans, post: post, courier: courier}
}

// gatherTime is how long a message waits for others to the same address, so
// that ten pieces of news are one message (our choice).
const gatherTime = 2 * time.Minute

// mostParts bounds a text; what is longer stands in full on the thread.
const mostParts = 4

// Enqueue keeps a message and queues its sending, in ctx's transaction. It
// waits out the quiet hours of the farm unless it is urgent or an answer.
func (s *Reach) Enqueue(ctx context.Context, m Message) (Message, error) {
	now := s.Now()
	m.ID, m.State, m.MadeAt, m.NotBefore, m.Version = s.NewID(), MessageWaiting, now, now, 1
	if m.Language != "fr" {
		m.Language = "en"
	}
	if m.Channel == ByText {
		m.Body = text.Plain(m.Body)
		m.Parts = min(text.SizeOf(m.Body).Parts, mostParts)
	}
	if !m.Urgent && !m.Answer {
		var err error
		if m.NotBefore, err = s.wakes(ctx, m.FarmID, now.Add(gatherTime)); err != nil {
			return m, err
		}
	}
	if err := s.settle(ctx, &m); err != nil {
		return m, err
	}
	if err := s.store.AddMessage(ctx, m); err != nil || m.State != MessageWaiting {
		return m, err
	}
	return m, s.post.SendMessage(ctx, m.ID, m.NotBefore)
}

// settle says at once what cannot be sent.
func (s *Reach) settle(ctx context.Context, m *Message) error {
	if m.Channel == ByText && !m.Answer {
		if out, err := s.store.OptedOut(ctx, m.Address); err != nil || out {
			m.State = MessageOptedOut
			return err
		}
	}
	if !s.courier.Has(m.Channel) {
		m.State = MessageNoGateway
	}
	return nil
}

// wakes is when somebody on a farm may be told; without a farm the firm's own
// time zone counts.
func (s *Reach) wakes(ctx context.Context, farmID string, at time.Time) (time.Time, error) {
	v, err := s.store.ReachSettings(ctx)
	if err != nil {
		return at, err
	}
	zone, err := s.zone(ctx, farmID)
	return calendar.Quiet{From: v.QuietFrom, To: v.QuietTo}.After(at, zone), err
}

func (s *Reach) zone(ctx context.Context, farmID string) (*time.Location, error) {
	if farmID != "" {
		f, err := s.store.Farm(ctx, Everything, farmID)
		if err != nil {
			return time.UTC, err
		}
		terms, err := s.plans.Terms(ctx, f.BranchID)
		if err != nil {
			return time.UTC, err
		}
		return terms.Calendar.Zone(), nil
	}
	firm, err := s.store.Firm(ctx)
	if err != nil {
		return time.UTC, err
	}
	if zone, err := time.LoadLocation(firm.Zone); err == nil {
		return zone, nil
	}
	return time.UTC, nil
}

// claimLife is after how long a message that a worker took is taken for lost
// with its worker: longer than any worker may hold it.
const claimLife = 5 * time.Minute

// NotYet asks to be called again: another worker has the message.
type NotYet struct{ After time.Duration }

func (e NotYet) Error() string { return "another worker has this message" }

// Deliver sends a message, together with what waits for the same address. It
// may run twice: what is sent is not sent again. An error asks for another
// try; last says that there will be none.
func (s *Reach) Deliver(ctx context.Context, id string, last bool) error {
	claimed, err := s.claim(ctx, id)
	if domain.KindOf(err) == domain.KindStale { // another worker has just taken one of them
		return NotYet{time.Second}
	}
	if err != nil || len(claimed) == 0 {
		return err
	}
	whole := gather(claimed)
	var to []Subscription
	if whole.Channel == ByPush {
		if to, err = s.store.Subscriptions(ctx, whole.Address); err != nil {
			return s.failed(ctx, claimed, err, last)
		}
	}
	provider, gone, err := s.courier.Send(ctx, whole, to)
	for _, endpoint := range gone {
		if err := s.store.DropSubscription(ctx, endpoint); err != nil {
			return s.failed(ctx, claimed, err, last)
		}
	}
	if err != nil {
		return s.failed(ctx, claimed, err, last)
	}
	return s.sent(ctx, claimed, provider)
}

// claim takes the message and those beside it into a worker's hands: nothing
// when there is nothing to send, and the first is the one that was asked for.
func (s *Reach) claim(ctx context.Context, id string) ([]Message, error) {
	var out []Message
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		out = nil
		m, err := s.store.Message(ctx, Everything, id)
		now := s.Now()
		switch {
		case err != nil:
			return err
		case m.State == MessageSending && now.Sub(m.ClaimedAt) < claimLife:
			return NotYet{claimLife - now.Sub(m.ClaimedAt) + time.Second}
		case m.State != MessageWaiting && m.State != MessageSending:
			return nil
		case m.NotBefore.After(now):
			return NotYet{m.NotBefore.Sub(now)}
		}
		if held, err := s.hold(ctx, &m, now); err != nil || held {
			return err
		}
		all := []Message{m}
		if !m.Urgent && !m.Answer {
			beside, err := s.store.Beside(ctx, m, now)
			if err != nil {
				return err
			}
			all = append(all, beside...)
		}
		for i := range all {
			all[i].State, all[i].ClaimedAt, all[i].Tries = MessageSending, now, all[i].Tries+1
			if err := s.store.ChangeMessage(ctx, all[i]); err != nil {
				return err
			}
			all[i].Version++
		}
		out = all
		return nil
	})
	return out, err
}

// hold keeps back what may not go now, and says so on the message.
func (s *Reach) hold(ctx context.Context, m *Message, now time.Time) (bool, error) {
	was := m.State
	if err := s.settle(ctx, m); err != nil {
		return false, err
	}
	if m.State == was && m.Channel == ByText && !m.Urgent {
		over, err := s.overBudget(ctx, m, now)
		if err != nil {
			return false, err
		}
		if over {
			m.State, m.Why = MessageOverBudget, "This month's texts are used up."
		}
	}
	if m.State == was {
		return false, nil
	}
	return true, s.store.ChangeMessage(ctx, *m)
}

func (s *Reach) overBudget(ctx context.Context, m *Message, now time.Time) (bool, error) {
	v, err := s.store.ReachSettings(ctx)
	if err != nil {
		return false, err
	}
	month, err := s.month(ctx, now)
	if err != nil {
		return false, err
	}
	used, err := s.store.PartsIn(ctx, month)
	return used+m.Parts > v.MonthlyParts, err
}

// month is the one of the firm's clock, as 2026-03.
func (s *Reach) month(ctx context.Context, now time.Time) (string, error) {
	zone, err := s.zone(ctx, "")
	return now.In(zone).Format("2006-01"), err
}

// gather is one message that says what several say.
func gather(ms []Message) Message {
	whole := ms[0]
	if len(ms) > 1 {
		slices.SortStableFunc(ms[1:], func(a, b Message) int { return a.MadeAt.Compare(b.MadeAt) })
		var b strings.Builder
		fmt.Fprintf(&b, wordsOf(whole.Language).digest, len(ms))
		for i, m := range ms {
			fmt.Fprintf(&b, "\n%d) %s", i+1, m.Body)
		}
		whole.Body, whole.Subject = b.String(), fmt.Sprintf(wordsOf(whole.Language).digest, len(ms))
	}
	if whole.Channel == ByText {
		whole.Body = text.Cut(whole.Body, mostParts)
		whole.Parts = text.SizeOf(whole.Body).Parts
	}
	return whole
}

// sent notes that all of them went as one.
func (s *Reach) sent(ctx context.Context, ms []Message, provider string) error {
	now := s.Now()
	month, err := s.month(ctx, now)
	if err != nil {
		return err
	}
	parts := gather(slices.Clone(ms)).Parts
	return s.store.InTx(ctx, func(ctx context.Context) error {
		for i, m := range ms {
			m.State, m.DoneAt, m.Why = MessageSent, now, ""
			if i == 0 {
				m.ProviderID, m.Parts, m.Month = provider, parts, month
			} else {
				m.State, m.GatheredInto, m.Parts = MessageGathered, ms[0].ID, 0
			}
			if err := s.store.ChangeMessage(ctx, m); err != nil {
				return err
			}
		}
		return nil
	})
}

// failed puts them back, or ends them when there is no use in another try.
// The reason holds nothing of what the carrier answered: that may name keys.
func (s *Reach) failed(ctx context.Context, ms []Message, cause error, last bool) error {
	never := domain.KindOf(cause) == domain.KindInvalid || domain.KindOf(cause) == domain.KindNotFound
	why := "The carrier does not answer."
	if e := domain.CodeOf(cause); e != "" {
		why = textOf(cause)
	}
	err := s.store.InTx(context.WithoutCancel(ctx), func(ctx context.Context) error {
		for _, m := range ms {
			m.State, m.Why = MessageWaiting, why
			if never || last {
				m.State, m.DoneAt = MessageFailed, s.Now()
			}
			if err := s.store.ChangeMessage(ctx, m); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil || never {
		return err
	}
	return cause
}

// Retry takes up what still waits although its job is gone: a message whose
// process was killed, or that was gathered by one that failed.
func (s *Reach) Retry(ctx context.Context) error {
	list, err := s.store.Unsent(ctx, s.Now().Add(-time.Hour))
	if err != nil {
		return err
	}
	for _, m := range list {
		if err := s.store.InTx(ctx, func(ctx context.Context) error { return s.post.SendMessage(ctx, m.ID, s.Now()) }); err != nil {
			return err
		}
	}
	return nil
}

// SendAgain sends a message that was not sent: its gateway is there now, the
// budget was raised, or the number was mended.
func (s *Reach) SendAgain(ctx context.Context, who Actor, id string) (Message, error) {
	if err := who.Need(desk...); err != nil {
		return Message{}, err
	}
	var out Message
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		m, err := s.store.Message(ctx, who.Scope(), id)
		if err != nil {
			return err
		}
		switch m.State {
		case MessageFailed, MessageNoGateway, MessageOverBudget:
		case MessageOptedOut:
			return domain.Conflict("message-opted-out", "This number asked for no messages. Call instead.")
		case MessageWaiting, MessageSending, MessageSent, MessageDelivered, MessageGathered:
			return domain.Conflict("message-under-way", "This message is under way, or was sent.")
		}
		was := m
		m.State, m.Why, m.NotBefore, m.DoneAt = MessageWaiting, "", s.Now(), time.Time{}
		if err := s.settle(ctx, &m); err != nil {
			return err
		}
		if m.State == MessageNoGateway {
			return domain.Conflict("message-no-gateway", "Nothing is set up to send this. Ask the administrator to set up a gateway, or call.")
		}
		if err := s.store.ChangeMessage(ctx, m); err != nil {
			return err
		}
		m.Version++
		out = m
		if err := s.post.SendMessage(ctx, m.ID, m.NotBefore); err != nil {
			return err
		}
		return s.record(ctx, who, s.Now(), Change{Verb: "send-again", Thing: "message", ThingID: id, FarmID: m.FarmID, Before: was.State, After: m.State})
	})
	return out, err
}

// Delivered notes what the gateway says of a message that it has taken.
func (s *Reach) Delivered(ctx context.Context, providerID string, arrived bool) error {
	return s.store.InTx(ctx, func(ctx context.Context) error {
		m, err := s.store.MessageByProvider(ctx, providerID)
		if err != nil {
			return err
		}
		switch {
		case m.State != MessageSent && m.State != MessageDelivered: // news of an earlier try
			return nil
		case arrived:
			m.State = MessageDelivered
		case m.State == MessageDelivered:
			return nil
		default:
			m.State, m.Why = MessageFailed, "The gateway says that it did not arrive."
		}
		return s.store.ChangeMessage(ctx, m)
	})
}

// Settings are how the firm reaches people, and what it has sent this month.
type Settings struct {
	ReachSettings
	UsedParts int            `json:"used_parts" doc:"Parts of texts sent this month."`
	Text      bool           `json:"text" doc:"A gateway for texts is set up."`
	Email     bool           `json:"email"`
	Push      bool           `json:"push"`
	Messages  []MessageCount `json:"messages" doc:"Of the last 30 days."`
}

// Settings are for those who run the firm.
func (s *Reach) Settings(ctx context.Context, who Actor) (Settings, error) {
	var out Settings
	if err := who.Need(leader...); err != nil {
		return out, err
	}
	var err error
	if out.ReachSettings, err = s.store.ReachSettings(ctx); err != nil {
		return out, err
	}
	month, err := s.month(ctx, s.Now())
	if err != nil {
		return out, err
	}
	if out.UsedParts, err = s.store.PartsIn(ctx, month); err != nil {
		return out, err
	}
	out.Text, out.Email, out.Push = s.courier.Has(ByText), s.courier.Has(ByEmail), s.courier.Has(ByPush)
	out.Messages, err = s.store.MessagesBy(ctx, s.Now().AddDate(0, 0, -30))
	out.Messages = orEmpty(out.Messages)
	return out, err
}

// SetSettings replaces them at their version.
func (s *Reach) SetSettings(ctx context.Context, who Actor, v ReachSettings) (Settings, error) {
	if err := who.Need(farm.Administrator); err != nil {
		return Settings{}, err
	}
	minute := func(m int) bool { return m >= 0 && m < 24*60 }
	if v.MonthlyParts < 0 || v.MonthlyParts > 1_000_000 || !minute(v.QuietFrom) || !minute(v.QuietTo) {
		return Settings{}, domain.Invalid("reach-settings", "These settings cannot be kept.",
			domain.Field{Path: "quiet_from", Code: "range", Text: "Minutes lie from 0 to 1,439, and a month has at most a million parts."})
	}
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		was, err := s.store.ReachSettings(ctx)
		if err != nil {
			return err
		}
		if err := s.store.SetReachSettings(ctx, v); err != nil {
			return err
		}
		return s.record(ctx, who, s.Now(), Change{Verb: "change", Thing: "reach-settings", ThingID: "1", Before: was, After: v})
	})
	if err != nil {
		return Settings{}, err
	}
	return s.Settings(ctx, who)
}

// Subscribe keeps a browser of the actor that asked to be told.
func (s *Reach) Subscribe(ctx context.Context, who Actor, v Subscription) error {
	if who.PersonID == "" {
		return domain.Forbidden("Sign in first.")
	}
	if !strings.HasPrefix(v.Endpoint, "https://") || len(v.Endpoint) > 1000 || v.P256dh == "" || v.Auth == "" {
		return domain.Invalid("subscription-refused", "This browser gave no address to which we may send.",
			domain.Field{Path: "endpoint", Code: "invalid", Text: "Send what the browser's own subscription says, with an https address."})
	}
	v.ID, v.PersonID, v.MadeAt = s.NewID(), who.PersonID, s.Now()
	return s.store.PutSubscription(ctx, v)
}

// Unsubscribe forgets a browser of the actor's own.
func (s *Reach) Unsubscribe(ctx context.Context, who Actor, endpoint string) error {
	own, err := s.store.Subscriptions(ctx, who.PersonID)
	if err != nil {
		return err
	}
	if !slices.ContainsFunc(own, func(v Subscription) bool { return v.Endpoint == endpoint }) {
		return nil // gone is what was asked for
	}
	return s.store.DropSubscription(ctx, endpoint)
}
