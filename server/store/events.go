package store

import (
	"context"
	"encoding/json"
	"slices"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/server/app"
)

type eventRow struct {
	ID         string
	FarmID     string
	UnitID     string
	CycleID    string
	Kind       string
	OnDate     calendar.Date
	PersonID   string
	DeviceID   string
	DeviceAt   micros
	DeviceSeq  int64
	HLC        string `gorm:"column:hlc"`
	ClockOff   bool
	RecordedAt micros
	Evidence   bool
	Replaces   string
	Data       string
}

func (eventRow) TableName() string { return "events" }

func eventToRow(e app.Event) eventRow {
	return eventRow{
		ID: e.ID, FarmID: e.FarmID, UnitID: e.UnitID, CycleID: e.CycleID, Kind: e.Kind, OnDate: e.On, PersonID: e.PersonID,
		DeviceID: e.DeviceID, DeviceAt: toMicros(e.DeviceAt), DeviceSeq: e.DeviceSeq, HLC: e.HLC, ClockOff: e.ClockOff,
		RecordedAt: toMicros(e.RecordedAt), Evidence: e.Evidence, Replaces: e.Replaces, Data: object(e.Data),
	}
}

func (r eventRow) event() app.Event {
	return app.Event{
		ID: r.ID, FarmID: r.FarmID, UnitID: r.UnitID, CycleID: r.CycleID, Kind: r.Kind, On: r.OnDate, PersonID: r.PersonID,
		DeviceID: r.DeviceID, DeviceAt: r.DeviceAt.time(), DeviceSeq: r.DeviceSeq, HLC: r.HLC, ClockOff: r.ClockOff,
		RecordedAt: r.RecordedAt.time(), Evidence: r.Evidence, Replaces: r.Replaces, Data: json.RawMessage(r.Data),
	}
}

// object is a column's text for a JSON object that may be missing.
func object(raw json.RawMessage) string {
	if len(raw) == 0 {
		return "{}"
	}
	return string(raw)
}

type evidenceRow struct {
	FarmID string        `gorm:"primaryKey"`
	OnDate calendar.Date `gorm:"primaryKey;autoIncrement:false"`
}

func (evidenceRow) TableName() string { return "evidence_days" }

// AppendEvents adds events that are not there yet and returns the ids of
// those that it added. An event that was sent before, as a phone does that
// never saw the answer, is left as it is; the same id with another content is
// a conflict, and then nothing is added.
func (s *Store) AppendEvents(ctx context.Context, es ...app.Event) (added []string, err error) {
	err = s.InTx(ctx, func(ctx context.Context) error {
		var fresh []app.Event
		if fresh, err = s.fresh(ctx, es); err != nil {
			return err
		}
		if err := s.insert(ctx, "event", each(fresh, eventToRow)); err != nil {
			return err
		}
		added = each(fresh, func(e app.Event) string { return e.ID })
		return s.addEvidence(ctx, fresh)
	})
	return added, err
}

// fresh leaves out the events that are kept already, or come twice.
func (s *Store) fresh(ctx context.Context, es []app.Event) ([]app.Event, error) {
	cond, list := s.in("id", each(es, func(e app.Event) string { return e.ID }))
	var rows []eventRow
	if err := s.from(ctx).Where(cond, list).Find(&rows).Error; err != nil {
		return nil, mapError(err, "event")
	}
	kept := make(map[string]eventRow, len(rows))
	for _, r := range rows {
		kept[r.ID] = r
	}
	var out []app.Event
	for _, e := range es {
		r := eventToRow(e)
		old, known := kept[e.ID]
		if !known {
			kept[e.ID] = r
			out = append(out, e)
			continue
		}
		// When it was received, and by whose clock judged, is not content; nor is
		// a stamp, for the first one stays.
		old.RecordedAt, old.ClockOff, old.HLC = r.RecordedAt, r.ClockOff, r.HLC
		if old != r {
			return nil, domain.Conflict("event-id-taken", "Another entry has this id already. Make a new id for a new entry.")
		}
	}
	return out, nil
}

func (s *Store) addEvidence(ctx context.Context, es []app.Event) error {
	var days []evidenceRow
	for _, e := range es {
		if day := (evidenceRow{e.FarmID, e.On}); e.Evidence && !slices.Contains(days, day) {
			days = append(days, day)
		}
	}
	return s.insert(ctx, "evidence", days, keepFirst)
}

// eventKey is the place of an event in a farm's timeline.
type eventKey struct {
	On calendar.Date `json:"o"`
	ID string        `json:"i"`
}

// Events are a farm's events, newest day first.
func (s *Store) Events(ctx context.Context, farmID, at string, limit int) (app.Page[app.Event], error) {
	hash := queryHash([]string{"events", farmID})
	key, later, err := decodeCursor[eventKey](at, hash)
	if err != nil {
		return app.Page[app.Event]{}, err
	}
	q := s.reader(ctx).Where("farm_id = ?", farmID)
	if later {
		q = q.Where("(on_date, id) < (?, ?)", key.On, key.ID)
	}
	return page(q.Order("on_date DESC, id DESC"), "event", hash, limit,
		func(r eventRow) eventKey { return eventKey{r.OnDate, r.ID} }, sure(eventRow.event))
}

// EventsSince are a farm's events of some kinds from a day on, in the order
// of day and id.
func (s *Store) EventsSince(ctx context.Context, farmID string, since calendar.Date, kinds ...string) ([]app.Event, error) {
	cond, list := s.in("kind", kinds)
	q := s.reader(ctx).Where("farm_id = ? AND on_date >= ?", farmID, since).Where(cond, list)
	return many(q.Order("on_date, id"), "event", eventRow.event)
}

// KnownEvents are those of the ids under which an event is kept.
func (s *Store) KnownEvents(ctx context.Context, ids []string) ([]string, error) {
	cond, list := s.in("id", ids)
	return many(s.from(ctx).Select("id").Where(cond, list), "event", func(r eventRow) string { return r.ID })
}

// LastStamp is the latest stamp among a farm's events, "" where none has one.
func (s *Store) LastStamp(ctx context.Context, farmID string) (string, error) {
	var last string
	err := s.from(ctx).Model(&eventRow{}).Where("farm_id = ?", farmID).Select("COALESCE(MAX(hlc), '')").Scan(&last).Error
	return last, mapError(err, "event")
}

// Event is the event with this id, when the scope sees its farm.
func (s *Store) Event(ctx context.Context, sc app.Scope, id string) (app.Event, error) {
	r, err := one[eventRow](s.within(s.reader(ctx), sc, "events.farm_id").Where("id = ?", id), "event")
	return r.event(), err
}

// EvidenceDays are the days with news from a farm after one day and up to
// another, ascending.
func (s *Store) EvidenceDays(ctx context.Context, farmID string, after, upTo calendar.Date) ([]calendar.Date, error) {
	q := s.reader(ctx).Where("farm_id = ? AND on_date > ? AND on_date <= ?", farmID, after, upTo)
	return many(q.Order("on_date"), "evidence", func(r evidenceRow) calendar.Date { return r.OnDate })
}
