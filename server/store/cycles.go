package store

import (
	"cmp"
	"context"
	"encoding/json"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/server/app"
)

type cycleRow struct {
	ID          string
	FarmID      string
	UnitID      string
	Enterprise  string
	Purpose     string
	StartsWith  string
	StartedOn   calendar.Date
	EndedOn     calendar.Date
	Standing    string
	Entered     string
	EnteredOn   calendar.Date
	OwnSlip     int
	HoldUp      string
	Outlook     string
	OutlookHash int64
	Version     int
}

func (cycleRow) TableName() string { return "cycles" }

func (r cycleRow) cycle() farm.Cycle {
	return farm.Cycle{
		ID: r.ID, FarmID: r.FarmID, UnitID: r.UnitID, Enterprise: r.Enterprise, Purpose: r.Purpose,
		StartsWith: r.StartsWith, StartedOn: r.StartedOn, EndedOn: r.EndedOn, Version: r.Version,
	}
}

func (r cycleRow) line() app.CycleLine {
	return app.CycleLine{Cycle: r.cycle(), Outlook: app.Outlook{
		CycleID: r.ID, Standing: programme.Standing(r.Standing), Entered: programme.Standing(r.Entered), EnteredOn: r.EnteredOn, OwnSlip: r.OwnSlip,
		Detail: json.RawMessage(r.Outlook), Hash: uint64(r.OutlookHash), // the same 64 bits
	}}
}

// AddCycles makes cycles; a unit has one running cycle at most.
func (s *Store) AddCycles(ctx context.Context, cs ...farm.Cycle) error {
	return s.insert(ctx, "cycle", each(cs, func(c farm.Cycle) cycleRow {
		return cycleRow{
			ID: c.ID, FarmID: c.FarmID, UnitID: c.UnitID, Enterprise: c.Enterprise, Purpose: c.Purpose, StartsWith: c.StartsWith,
			StartedOn: c.StartedOn, EndedOn: c.EndedOn, Version: 1,
		}
	}))
}

// ChangeCycle writes a cycle at its version; it stays on its unit. What the
// sweep writes is left alone.
func (s *Store) ChangeCycle(ctx context.Context, c farm.Cycle) error {
	return s.update(ctx, "cycle", &cycleRow{}, c.ID, c.Version, map[string]any{
		"enterprise": c.Enterprise, "purpose": c.Purpose, "started_on": c.StartedOn, "ended_on": c.EndedOn,
	})
}

// BumpCycle raises a cycle's version for a change of what hangs on it: a
// milestone, a mark, a pause.
func (s *Store) BumpCycle(ctx context.Context, id string, version int) error {
	return s.update(ctx, "cycle", &cycleRow{}, id, version, map[string]any{})
}

// Cycle is the cycle with this id, when the scope sees its farm.
func (s *Store) Cycle(ctx context.Context, sc app.Scope, id string) (app.CycleLine, error) {
	r, err := one[cycleRow](s.within(s.reader(ctx), sc, "cycles.farm_id").Where("id = ?", id), "cycle")
	return r.line(), err
}

// CyclesOf are the cycles of the farms, ended ones too, by farm and start.
func (s *Store) CyclesOf(ctx context.Context, farmIDs []string) ([]app.CycleLine, error) {
	return readOf(ctx, s, "cycle", "cycles", "farm_id", farmIDs, func(a, b cycleRow) int {
		return cmp.Or(cmp.Compare(a.FarmID, b.FarmID), cmp.Compare(a.StartedOn, b.StartedOn), cmp.Compare(a.ID, b.ID))
	}, cycleRow.line)
}

// SetOutlook writes what the sweep worked out for a cycle. The version stays,
// as for SetSwept.
func (s *Store) SetOutlook(ctx context.Context, o app.Outlook) error {
	res := s.from(ctx).Model(&cycleRow{}).Where("id = ?", o.CycleID).Updates(map[string]any{
		"standing": string(o.Standing), "entered": string(o.Entered), "entered_on": o.EnteredOn, "own_slip": o.OwnSlip, "hold_up": o.HoldUp,
		"outlook": string(o.Detail), "outlook_hash": int64(o.Hash), // the same 64 bits
	})
	return found(res, "cycle")
}

type milestoneRow struct {
	CycleID   string `gorm:"primaryKey"`
	Milestone string `gorm:"primaryKey"`
	Earliest  calendar.Date
	Target    calendar.Date
	Latest    calendar.Date
	DoneOn    calendar.Date
	Grade     string
	DoneBy    string
}

func (milestoneRow) TableName() string { return "cycle_milestones" }

func milestoneToRow(m app.Milestone) milestoneRow {
	return milestoneRow{m.CycleID, m.Key, m.Earliest, m.Target, m.Latest, m.DoneOn, string(m.Grade), m.DoneBy}
}

func (r milestoneRow) milestone() app.Milestone {
	return app.Milestone{
		CycleID: r.CycleID, Window: programme.Window{Key: r.Milestone, Earliest: r.Earliest, Target: r.Target, Latest: r.Latest},
		DoneOn: r.DoneOn, Grade: farm.Grade(r.Grade), DoneBy: r.DoneBy,
	}
}

// AddMilestones writes the baseline of cycles, once for each cycle.
func (s *Store) AddMilestones(ctx context.Context, ms ...app.Milestone) error {
	return s.insert(ctx, "milestone", each(ms, milestoneToRow))
}

// RemoveMilestones takes the baselines of cycles away, for a start that was
// corrected.
func (s *Store) RemoveMilestones(ctx context.Context, cycleIDs ...string) error {
	cond, list := s.in("cycle_id", cycleIDs)
	return mapError(s.from(ctx).Where(cond, list).Delete(&milestoneRow{}).Error, "milestone")
}

// MarkMilestone says on which day a milestone was done, how well that is
// known, and who says so; a zero day says that it is not done.
func (s *Store) MarkMilestone(ctx context.Context, cycleID, key string, on calendar.Date, grade farm.Grade, by string) error {
	return found(s.from(ctx).Model(&milestoneRow{}).Where("cycle_id = ? AND milestone = ?", cycleID, key).
		Updates(map[string]any{"done_on": on, "grade": string(grade), "done_by": by}), "milestone")
}

// MilestonesOf are the milestones of the cycles, by cycle and target.
func (s *Store) MilestonesOf(ctx context.Context, cycleIDs []string) ([]app.Milestone, error) {
	return readOf(ctx, s, "milestone", "cycle_milestones", "cycle_id", cycleIDs, func(a, b milestoneRow) int {
		return cmp.Or(cmp.Compare(a.CycleID, b.CycleID), cmp.Compare(a.Target, b.Target), cmp.Compare(a.Milestone, b.Milestone))
	}, milestoneRow.milestone)
}
