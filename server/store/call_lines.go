package store

import (
	"context"

	"tendfold/domain/ticket"
	"tendfold/server/app"

	"gorm.io/gorm"
)

// callLineRow is a call with the names that lists show.
type callLineRow struct {
	Row    callRow `gorm:"embedded"`
	Farm   string
	Person string
	Taker  string
	Seq    int
	Year   int
}

func (r callLineRow) line() app.CallLine {
	l := app.CallLine{Call: r.Row.call(), Farm: r.Farm, Person: r.Person, Taker: r.Taker, Promises: []app.Promise{}}
	if r.Seq > 0 {
		l.Ticket = ticket.Number(r.Seq, r.Year)
	}
	return l
}

// callKey is the place of a call in a list.
type callKey struct {
	Started micros `json:"s"`
	ID      string `json:"i"`
}

// CallLines are the calls that a person in a scope may know of, newest first:
// those of the scope's farms, and of no known farm those that the person
// took. A scope that sees everything sees them all.
func (s *Store) CallLines(ctx context.Context, sc app.Scope, personID string, in app.CallQuery) (app.Page[app.CallLine], error) {
	limit, at := in.Limit, in.Cursor
	in.Limit, in.Cursor = 0, ""
	hash := queryHash([]any{"calls", in})
	key, later, err := decodeCursor[callKey](at, hash)
	if err != nil {
		return app.Page[app.CallLine]{}, err
	}
	q := s.callsWhere(s.callLines(ctx), sc, personID, in)
	if later {
		q = q.Where("(c.started_at, c.id) < (?, ?)", key.Started, key.ID)
	}
	p, err := page(q.Order("c.started_at DESC, c.id DESC"), "call", hash, limit,
		func(r callLineRow) callKey { return callKey{r.Row.StartedAt, r.Row.ID} }, sure(callLineRow.line))
	if err != nil {
		return p, err
	}
	if err := s.addCardsOf(ctx, p.Items); err != nil {
		return p, err
	}
	return p, s.addPromisesOf(ctx, p.Items)
}

func (s *Store) callLines(ctx context.Context) *gorm.DB {
	return s.reader(ctx).Table("calls c").
		Select("c.*, COALESCE(f.name, '') AS farm, COALESCE(p.name, '') AS person, COALESCE(k.name, '') AS taker, COALESCE(t.seq, 0) AS seq, COALESCE(t.year, 0) AS year").
		Joins("LEFT JOIN farms f ON f.id = c.farm_id").
		Joins("LEFT JOIN people p ON p.id = c.person_id").
		Joins("LEFT JOIN people k ON k.id = c.taken_by").
		Joins("LEFT JOIN tickets t ON t.id = c.ticket_id")
}

func (s *Store) callsWhere(q *gorm.DB, sc app.Scope, personID string, in app.CallQuery) *gorm.DB {
	if !sc.All {
		cond, args := s.farmsOf(sc)
		q = q.Where("(c.farm_id = '' AND c.taken_by = ? OR f.id IS NOT NULL AND "+cond+")", append([]any{personID}, args...)...)
	}
	for _, w := range [...]struct{ column, value string }{{"c.id", in.ID}, {"c.farm_id", in.FarmID}, {"c.taken_by", in.TakenBy}} {
		if w.value != "" {
			q = q.Where(w.column+" = ?", w.value)
		}
	}
	if in.NoFarm {
		q = q.Where("c.farm_id = ''")
	}
	return q
}

// addPromisesOf puts what was promised on each of the calls beside it.
func (s *Store) addPromisesOf(ctx context.Context, calls []app.CallLine) error {
	cond, list := s.in("call_id", each(calls, func(c app.CallLine) string { return c.ID }))
	rows, err := many(s.reader(ctx).Where("call_id <> ''").Where(cond, list).Order("due_on, id"), "promise", promiseRow.promise)
	if err != nil {
		return err
	}
	for i := range calls {
		for _, p := range rows {
			if p.CallID == calls[i].ID {
				calls[i].Promises = append(calls[i].Promises, p)
			}
		}
	}
	return nil
}
