package store

import (
	"context"
	"time"

	"tendfold/server/app"
)

type textRow struct {
	ID         string
	GatewayID  string
	Phone      string
	Body       string
	ReceivedAt micros
	PersonID   string
	FarmID     string
	TicketID   string
	State      string
	DealtBy    string
	DealtAt    micros
	Version    int
}

func (textRow) TableName() string { return "text_ins" }

func (r textRow) text() app.TextIn {
	return app.TextIn{
		ID: r.ID, GatewayID: r.GatewayID, Phone: r.Phone, Body: r.Body, ReceivedAt: r.ReceivedAt.time(), PersonID: r.PersonID,
		FarmID: r.FarmID, TicketID: r.TicketID, State: app.TextState(r.State), DealtBy: r.DealtBy, DealtAt: r.DealtAt.time(), Version: r.Version,
	}
}

// AddText keeps a text message that came in. One whose gateway's id is kept
// already is returned as it is kept, and added is false.
func (s *Store) AddText(ctx context.Context, t app.TextIn) (kept app.TextIn, added bool, err error) {
	row := []textRow{{t.ID, t.GatewayID, t.Phone, t.Body, toMicros(t.ReceivedAt), t.PersonID, t.FarmID, t.TicketID, string(t.State), t.DealtBy, toMicros(t.DealtAt), 1}}
	if err := storableRows(row); err != nil {
		return t, false, err
	}
	res := s.from(ctx).Clauses(keepFirst).Create(&row)
	if res.Error != nil || res.RowsAffected == 1 {
		return t, res.RowsAffected == 1, mapError(res.Error, "text")
	}
	r, err := one[textRow](s.from(ctx).Where("gateway_id = ?", t.GatewayID), "text")
	return r.text(), false, err
}

// ChangeText writes what became of a text message, at its version.
func (s *Store) ChangeText(ctx context.Context, t app.TextIn) error {
	return s.update(ctx, "text", &textRow{}, t.ID, t.Version, map[string]any{
		"person_id": t.PersonID, "farm_id": t.FarmID, "ticket_id": t.TicketID, "state": string(t.State), "dealt_by": t.DealtBy, "dealt_at": toMicros(t.DealtAt),
	})
}

// Text is the text message with this id.
func (s *Store) Text(ctx context.Context, id string) (app.TextIn, error) {
	r, err := one[textRow](s.reader(ctx).Where("id = ?", id), "text")
	return r.text(), err
}

// WaitingTexts are those that somebody must call back about, oldest first, at
// most 200.
func (s *Store) WaitingTexts(ctx context.Context) ([]app.TextIn, error) {
	return many(s.reader(ctx).Where("state = 'waiting'").Order("received_at, id").Limit(listMost), "text", textRow.text)
}

// TextsFrom is how many text messages came from a number since then.
func (s *Store) TextsFrom(ctx context.Context, phone string, since time.Time) (int, error) {
	var n int64
	err := s.from(ctx).Model(&textRow{}).Where("phone = ? AND received_at >= ?", phone, toMicros(since)).Count(&n).Error
	return int(n), mapError(err, "text")
}

// PhoneFarms are the farms of everybody with this number, those in charge
// first: who works there, who owns it, and the client's own number.
func (s *Store) PhoneFarms(ctx context.Context, phone string) ([]app.PhoneFarm, error) {
	var rows []app.PhoneFarm
	err := s.reader(ctx).Raw(`SELECT farm_id, person_id, rank FROM (
		SELECT w.farm_id, p.id AS person_id, CASE WHEN w.in_charge THEN 0 ELSE 1 END AS rank
			FROM people p JOIN farm_people w ON w.person_id = p.id WHERE p.phone = ? AND p.active
		UNION ALL SELECT f.id, p.id, 2 FROM people p JOIN clients c ON c.owner_id = p.id JOIN farms f ON f.client_id = c.id WHERE p.phone = ? AND p.active
		UNION ALL SELECT f.id, c.owner_id, 3 FROM clients c JOIN farms f ON f.client_id = c.id WHERE c.phone = ?
	) x WHERE EXISTS (SELECT 1 FROM farms f WHERE f.id = x.farm_id AND f.status <> 'closed')
	ORDER BY rank, farm_id, person_id LIMIT ?`, phone, phone, phone, listMost).Scan(&rows).Error
	return rows, mapError(err, "farm")
}
