package store

import (
	"context"
	"encoding/json"
	"time"

	"tendfold/domain/calendar"
	"tendfold/server/app"
)

type sweepRow struct {
	ID        string
	OnDate    calendar.Date
	StartedAt micros
	EndedAt   micros
	Summary   string
}

func (sweepRow) TableName() string { return "sweeps" }

func (r sweepRow) run() app.SweepRun {
	return app.SweepRun{ID: r.ID, On: r.OnDate, StartedAt: r.StartedAt.time(), EndedAt: r.EndedAt.time(), Summary: json.RawMessage(r.Summary)}
}

// BeginSweep notes that a sweep has begun.
func (s *Store) BeginSweep(ctx context.Context, r app.SweepRun) error {
	return s.insert(ctx, "sweep", []sweepRow{{r.ID, r.On, toMicros(r.StartedAt), toMicros(r.EndedAt), object(r.Summary)}})
}

// EndSweep notes that a sweep has ended, and what it did.
func (s *Store) EndSweep(ctx context.Context, id string, at time.Time, summary json.RawMessage) error {
	return found(s.from(ctx).Model(&sweepRow{}).Where("id = ?", id).
		Updates(map[string]any{"ended_at": toMicros(at), "summary": object(summary)}), "sweep")
}

// LastSweep is the ended sweep of the latest day, the zero SweepRun when
// there was none.
func (s *Store) LastSweep(ctx context.Context) (app.SweepRun, error) {
	runs, err := many(s.reader(ctx).Where("ended_at <> 0").Order("on_date DESC, ended_at DESC").Limit(1), "sweep", sweepRow.run)
	if err != nil || len(runs) == 0 {
		return app.SweepRun{}, err
	}
	return runs[0], nil
}

// PurgeSweeps forgets sweeps that began before an instant, except the last
// one, and returns how many these were.
func (s *Store) PurgeSweeps(ctx context.Context, before time.Time) (int, error) {
	last, err := s.LastSweep(ctx)
	if err != nil {
		return 0, err
	}
	res := s.from(ctx).Where("started_at < ? AND id <> ?", toMicros(before), last.ID).Delete(&sweepRow{})
	return int(res.RowsAffected), mapError(res.Error, "sweep")
}
