package store

import (
	"context"
	"time"

	"tendfold/server/app"

	"gorm.io/gorm"
)

type messageRow struct {
	ID           string
	TicketID     string
	FarmID       string
	PersonID     string
	Channel      string
	Address      string
	Language     string
	Subject      string
	Body         string
	Urgent       bool
	Answer       bool
	State        string
	Why          string
	Parts        int
	Tries        int
	Month        string
	MadeAt       micros
	NotBefore    micros
	ClaimedAt    micros
	DoneAt       micros
	ProviderID   string
	GatheredInto string
	Version      int
}

func (messageRow) TableName() string { return "messages" }

func (r messageRow) message() app.Message {
	return app.Message{
		ID: r.ID, TicketID: r.TicketID, FarmID: r.FarmID, PersonID: r.PersonID, Channel: app.Channel(r.Channel), Address: r.Address,
		Language: r.Language, Subject: r.Subject, Body: r.Body, Urgent: r.Urgent, Answer: r.Answer, State: app.MessageState(r.State),
		Why: r.Why, Parts: r.Parts, Tries: r.Tries, Month: r.Month, MadeAt: r.MadeAt.time(), NotBefore: r.NotBefore.time(),
		ClaimedAt: r.ClaimedAt.time(), DoneAt: r.DoneAt.time(), ProviderID: r.ProviderID, GatheredInto: r.GatheredInto, Version: r.Version,
	}
}

func messageToRow(m app.Message) messageRow {
	return messageRow{
		m.ID, m.TicketID, m.FarmID, m.PersonID, string(m.Channel), m.Address, m.Language, m.Subject, m.Body, m.Urgent, m.Answer,
		string(m.State), m.Why, m.Parts, m.Tries, m.Month, toMicros(m.MadeAt), toMicros(m.NotBefore), toMicros(m.ClaimedAt),
		toMicros(m.DoneAt), m.ProviderID, m.GatheredInto, 1,
	}
}

// AddMessage keeps a message that is to go out.
func (s *Store) AddMessage(ctx context.Context, m app.Message) error {
	return s.insert(ctx, "message", []messageRow{messageToRow(m)})
}

// ChangeMessage writes what became of a message, at its version.
func (s *Store) ChangeMessage(ctx context.Context, m app.Message) error {
	s.announce(ctx, m.TicketID, app.NewsChanged)
	return s.update(ctx, "message", &messageRow{}, m.ID, m.Version, map[string]any{
		"state": string(m.State), "why": m.Why, "parts": m.Parts, "tries": m.Tries, "month": m.Month, "not_before": toMicros(m.NotBefore),
		"claimed_at": toMicros(m.ClaimedAt), "done_at": toMicros(m.DoneAt), "provider_id": m.ProviderID, "gathered_into": m.GatheredInto,
	})
}

// Message is the message with this id, when the scope sees its farm; one about
// no farm is seen by those who see everything.
func (s *Store) Message(ctx context.Context, sc app.Scope, id string) (app.Message, error) {
	r, err := one[messageRow](s.within(s.reader(ctx), sc, "messages.farm_id").Where("id = ?", id), "message")
	return r.message(), err
}

// MessageByProvider is the message to which a gateway gave this id.
func (s *Store) MessageByProvider(ctx context.Context, providerID string) (app.Message, error) {
	r, err := one[messageRow](s.reader(ctx).Where("provider_id = ? AND provider_id <> ''", providerID).Order("done_at DESC"), "message")
	return r.message(), err
}

// MessagesOf are those of a ticket, oldest first.
func (s *Store) MessagesOf(ctx context.Context, ticketID string) ([]app.Message, error) {
	return many(s.reader(ctx).Where("ticket_id = ? AND ticket_id <> ''", ticketID).Order("made_at, id").Limit(threadMost), "message", messageRow.message)
}

// gatherMost bounds a digest.
const gatherMost = 50

// Beside are the messages that wait for the same address on the same channel
// and are due, urgent ones apart, oldest first.
func (s *Store) Beside(ctx context.Context, m app.Message, now time.Time) ([]app.Message, error) {
	q := s.from(ctx).Where("channel = ? AND address = ? AND id <> ? AND state = 'waiting' AND NOT urgent AND not_before <= ?",
		string(m.Channel), m.Address, m.ID, toMicros(now))
	return many(q.Order("made_at, id").Limit(gatherMost), "message", messageRow.message)
}

// Unsent are messages whose job is gone although they still wait: what the
// hourly look takes up again.
func (s *Store) Unsent(ctx context.Context, before time.Time) ([]app.Message, error) {
	q := s.reader(ctx).Where("(state = 'waiting' AND not_before < ?) OR (state = 'sending' AND claimed_at < ?)", toMicros(before), toMicros(before))
	return many(q.Order("not_before, id").Limit(listMost), "message", messageRow.message)
}

// PartsIn is how many parts of texts were sent in a month, urgent ones too.
func (s *Store) PartsIn(ctx context.Context, month string) (int, error) {
	var n int
	err := s.from(ctx).Model(&messageRow{}).Where("month = ? AND channel = 'text'", month).Select("COALESCE(SUM(parts), 0)").Scan(&n).Error
	return n, mapError(err, "message")
}

// AnswersTo is how many answers a number has got since then.
func (s *Store) AnswersTo(ctx context.Context, phone string, since time.Time) (int, error) {
	var n int64
	err := s.from(ctx).Model(&messageRow{}).Where("address = ? AND channel = 'text' AND answer AND made_at >= ?", phone, toMicros(since)).Count(&n).Error
	return int(n), mapError(err, "message")
}

// MessagesBy counts messages by channel and state since then.
func (s *Store) MessagesBy(ctx context.Context, since time.Time) ([]app.MessageCount, error) {
	var rows []app.MessageCount
	err := s.reader(ctx).Model(&messageRow{}).Where("made_at >= ?", toMicros(since)).
		Select("channel, state, COUNT(*) AS messages, COALESCE(SUM(parts), 0) AS parts").Group("channel, state").Order("channel, state").Scan(&rows).Error
	return rows, mapError(err, "message")
}

type settingsRow struct {
	ID           int
	MonthlyParts int
	QuietFrom    int
	QuietTo      int
	Version      int
}

func (settingsRow) TableName() string { return "reach_settings" }

// ReachSettings is how the firm reaches people.
func (s *Store) ReachSettings(ctx context.Context) (app.ReachSettings, error) {
	r, err := one[settingsRow](s.reader(ctx).Where("id = 1"), "settings")
	return app.ReachSettings{MonthlyParts: r.MonthlyParts, QuietFrom: r.QuietFrom, QuietTo: r.QuietTo, Version: r.Version}, err
}

// SetReachSettings replaces them at their version.
func (s *Store) SetReachSettings(ctx context.Context, v app.ReachSettings) error {
	res := s.from(ctx).Model(&settingsRow{}).Where("id = 1 AND version = ?", v.Version).Updates(map[string]any{
		"monthly_parts": v.MonthlyParts, "quiet_from": v.QuietFrom, "quiet_to": v.QuietTo, "version": gorm.Expr("version + 1"),
	})
	return s.moved(ctx, res, &settingsRow{}, "1", "settings")
}

type optOutRow struct {
	Phone string
	At    micros
}

func (optOutRow) TableName() string { return "opt_outs" }

// OptOut notes that a number wants no messages; twice is once.
func (s *Store) OptOut(ctx context.Context, phone string, at time.Time) error {
	return s.insert(ctx, "opt-out", []optOutRow{{phone, toMicros(at)}}, keepFirst)
}

// OptIn takes that back.
func (s *Store) OptIn(ctx context.Context, phone string) error {
	return mapError(s.from(ctx).Where("phone = ?", phone).Delete(&optOutRow{}).Error, "opt-out")
}

// OptedOut says whether a number wants no messages.
func (s *Store) OptedOut(ctx context.Context, phone string) (bool, error) {
	var n int64
	err := s.reader(ctx).Model(&optOutRow{}).Where("phone = ?", phone).Count(&n).Error
	return n > 0, mapError(err, "opt-out")
}

type subscriptionRow struct {
	ID       string
	PersonID string
	Endpoint string
	P256dh   string
	Auth     string
	MadeAt   micros
}

func (subscriptionRow) TableName() string { return "push_subscriptions" }

// PutSubscription keeps a browser that asked to be told; the same browser of
// another person changes hands.
func (s *Store) PutSubscription(ctx context.Context, v app.Subscription) error {
	return s.InTx(ctx, func(ctx context.Context) error {
		if err := s.DropSubscription(ctx, v.Endpoint); err != nil {
			return err
		}
		return s.insert(ctx, "subscription", []subscriptionRow{{v.ID, v.PersonID, v.Endpoint, v.P256dh, v.Auth, toMicros(v.MadeAt)}})
	})
}

// DropSubscription forgets a browser.
func (s *Store) DropSubscription(ctx context.Context, endpoint string) error {
	return mapError(s.from(ctx).Where("endpoint = ?", endpoint).Delete(&subscriptionRow{}).Error, "subscription")
}

// Subscriptions are the browsers of a person, at most 20.
func (s *Store) Subscriptions(ctx context.Context, personID string) ([]app.Subscription, error) {
	return many(s.reader(ctx).Where("person_id = ?", personID).Order("made_at DESC, id").Limit(20), "subscription", func(r subscriptionRow) app.Subscription {
		return app.Subscription{ID: r.ID, PersonID: r.PersonID, Endpoint: r.Endpoint, P256dh: r.P256dh, Auth: r.Auth, MadeAt: r.MadeAt.time()}
	})
}
