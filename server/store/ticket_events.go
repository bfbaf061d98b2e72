package store

import (
	"context"
	"encoding/json"
	"strings"

	"tendfold/domain/calendar"
	"tendfold/domain/ticket"
	"tendfold/server/app"
)

type ticketEventRow struct {
	ID       string
	TicketID string
	Kind     string
	Was      string
	Became   string
	PersonID string
	At       micros
	OnDate   calendar.Date
	Text     string
	Data     string
}

func (ticketEventRow) TableName() string { return "ticket_events" }

func (r ticketEventRow) event() (app.TicketEvent, error) {
	data, err := fromJSON[map[string]any](r.Data)
	return app.TicketEvent{
		ID: r.ID, TicketID: r.TicketID, PersonID: r.PersonID, At: r.At.time(), On: r.OnDate,
		Event: ticket.Event{Kind: ticket.EventKind(r.Kind), From: ticket.State(r.Was), To: ticket.State(r.Became), Text: r.Text, Data: data},
	}, err
}

// AddTicketEvents writes lines of threads. A person's line also counts as
// touching the ticket.
func (s *Store) AddTicketEvents(ctx context.Context, es ...app.TicketEvent) error {
	rows := make([]ticketEventRow, 0, len(es))
	for _, e := range es {
		data, err := json.Marshal(e.Data)
		if err != nil || e.Data == nil {
			data = nil
		}
		rows = append(rows, ticketEventRow{
			ID: e.ID, TicketID: e.TicketID, Kind: string(e.Kind), Was: string(e.From), Became: string(e.To),
			PersonID: e.PersonID, At: toMicros(e.At), OnDate: e.On, Text: e.Text, Data: object(data),
		})
	}
	return s.InTx(ctx, func(ctx context.Context) error {
		if err := s.insert(ctx, "ticket event", rows); err != nil {
			return err
		}
		for _, e := range es {
			s.announce(ctx, e.TicketID, app.NewsChanged)
			if e.PersonID == "" {
				continue
			}
			if err := s.touchTicket(ctx, e.TicketID, e.At); err != nil {
				return err
			}
		}
		return nil
	})
}

// threadMost bounds a thread; a person reads no more, and a ticket with more
// lines has another trouble.
const threadMost = 1000

// TicketEvents is the thread of a ticket, oldest first.
func (s *Store) TicketEvents(ctx context.Context, ticketID string) ([]app.TicketEvent, error) {
	return manyOr(s.reader(ctx).Where("ticket_id = ?", ticketID).Order("at, id").Limit(threadMost), "ticket event", ticketEventRow.event)
}

// literal lets LIKE take a text as it is written.
var literal = strings.NewReplacer("!", "!!", "%", "!%", "_", "!_")

// TicketOfReport is the id of the farm's ticket that began with an entry; ""
// where none did.
func (s *Store) TicketOfReport(ctx context.Context, farmID, entryID string) (string, error) {
	var ids []string
	err := s.from(ctx).Model(&ticketEventRow{}).Joins("JOIN tickets ON tickets.id = ticket_events.ticket_id").
		Where("tickets.farm_id = ? AND ticket_events.kind = ? AND ticket_events.data LIKE ? ESCAPE '!'", farmID, string(ticket.Opened), "%"+literal.Replace(`"entry":`+toJSON(entryID))+"%").
		Order("ticket_events.at").Limit(1).Pluck("ticket_events.ticket_id", &ids).Error
	if err != nil || len(ids) == 0 {
		return "", mapError(err, "ticket")
	}
	return ids[0], nil
}
