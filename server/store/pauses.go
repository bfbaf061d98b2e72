package store

import (
	"cmp"
	"context"

	"tendfold/domain/calendar"
	"tendfold/server/app"
)

type pauseRow struct {
	ID        string
	CycleID   string
	FromDate  calendar.Date
	UntilDate calendar.Date
	EndedOn   calendar.Date
	Reason    string
	AskedBy   string
	AgreedBy  string
	Version   int
}

func (pauseRow) TableName() string { return "pauses" }

func (r pauseRow) pause() app.Pause {
	return app.Pause{
		ID: r.ID, CycleID: r.CycleID, From: r.FromDate, Until: r.UntilDate, EndedOn: r.EndedOn,
		Reason: r.Reason, AskedBy: r.AskedBy, AgreedBy: r.AgreedBy, Version: r.Version,
	}
}

// AddPause begins a pause.
func (s *Store) AddPause(ctx context.Context, p app.Pause) error {
	return s.insert(ctx, "pause", []pauseRow{{p.ID, p.CycleID, p.From, p.Until, p.EndedOn, p.Reason, p.AskedBy, p.AgreedBy, 1}})
}

// ChangePause writes a pause at its version.
func (s *Store) ChangePause(ctx context.Context, p app.Pause) error {
	return s.update(ctx, "pause", &pauseRow{}, p.ID, p.Version, map[string]any{
		"from_date": p.From, "until_date": p.Until, "ended_on": p.EndedOn, "reason": p.Reason, "agreed_by": p.AgreedBy,
	})
}

// Pause is the pause with this id, when the scope sees its farm.
func (s *Store) Pause(ctx context.Context, sc app.Scope, id string) (app.Pause, error) {
	q := s.within(s.reader(ctx).Select("pauses.*").Joins("JOIN cycles c ON c.id = pauses.cycle_id"), sc, "c.farm_id")
	r, err := one[pauseRow](q.Where("pauses.id = ?", id), "pause")
	return r.pause(), err
}

// PausesOf are the pauses of the cycles, by cycle and day.
func (s *Store) PausesOf(ctx context.Context, cycleIDs []string) ([]app.Pause, error) {
	return readOf(ctx, s, "pause", "pauses", "cycle_id", cycleIDs, func(a, b pauseRow) int {
		return cmp.Or(cmp.Compare(a.CycleID, b.CycleID), cmp.Compare(a.FromDate, b.FromDate), cmp.Compare(a.ID, b.ID))
	}, pauseRow.pause)
}
