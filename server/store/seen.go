package store

import (
	"context"
	"time"

	"tendfold/server/app"
)

type seenRow struct {
	EventID  string `gorm:"primaryKey"`
	PersonID string
	SeenBy   string
	SeenAt   micros
}

func (seenRow) TableName() string { return "entries_seen" }

// NoteSeen remembers that somebody read news from a farm. The first reader
// stays; nobody reads the own entries. Where all were read before, nothing is
// written.
func (s *Store) NoteSeen(ctx context.Context, by string, at time.Time, eventIDs []string) error {
	cond, list := s.in("events.id", eventIDs)
	const fresh = "events.person_id <> ? AND events.person_id <> '' AND events.evidence AND NOT EXISTS (SELECT 1 FROM entries_seen WHERE event_id = events.id)"
	var rows []seenRow
	err := s.reader(ctx).Model(&eventRow{}).Select("id AS event_id, person_id").Where(cond, list).Where(fresh, by).Find(&rows).Error
	if err != nil {
		return mapError(err, "entry")
	}
	for i := range rows {
		rows[i].SeenBy, rows[i].SeenAt = by, toMicros(at)
	}
	return s.insert(ctx, "entry", rows, keepFirst)
}

// SeenOf are the entries of a person that were first read since an instant,
// newest first.
func (s *Store) SeenOf(ctx context.Context, personID string, since time.Time) ([]app.Seen, error) {
	q := s.reader(ctx).Where("person_id = ? AND seen_at >= ?", personID, toMicros(since))
	return many(q.Order("seen_at DESC, event_id"), "entry", func(r seenRow) app.Seen {
		return app.Seen{EventID: r.EventID, By: r.SeenBy, At: r.SeenAt.time()}
	})
}
