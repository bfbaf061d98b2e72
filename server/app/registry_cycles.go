package app

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
)

// StartCycle is what a cycle begins with. StartsWith is the milestone of day
// one where it is not the pack's own start: an earlier one, for a house that
// is handed over and not yet planted.
type StartCycle struct {
	Purpose    string
	StartsWith string
	StartedOn  calendar.Date
}

// StartCycle begins a cycle on a unit. The baseline is worked out and kept;
// what the programme has before its start is done on that day.
func (s *Registry) StartCycle(ctx context.Context, who Actor, unitID string, in StartCycle) (CycleLine, error) {
	if err := who.Need(append([]farm.Role{farm.FieldOfficer}, editors...)...); err != nil {
		return CycleLine{}, err
	}
	u, err := s.store.Unit(ctx, who.Scope(), unitID)
	if err != nil {
		return CycleLine{}, err
	}
	f, err := s.store.Farm(ctx, who.Scope(), u.FarmID)
	if err != nil {
		return CycleLine{}, err
	}
	if err := s.checkStart(u.Enterprise, in.StartsWith); err != nil {
		return CycleLine{}, err
	}
	plan, err := s.plans.PlanFrom(ctx, u.Enterprise, in.Purpose, f.BranchID, in.StartsWith)
	if err != nil {
		return CycleLine{}, err
	}
	today, err := s.plans.Today(ctx, f.BranchID, s.Now())
	if err != nil {
		return CycleLine{}, err
	}
	if in.StartedOn.IsZero() || in.StartedOn > today || today.Sub(in.StartedOn) > oldest {
		return CycleLine{}, domain.Invalid("cycle-refused", "A cycle starts today or earlier, within three years.", domain.Field{Path: "started_on", Code: "range", Text: "Check the day."})
	}
	c := farm.Cycle{ID: s.NewID(), FarmID: f.ID, UnitID: u.ID, Enterprise: u.Enterprise, Purpose: in.Purpose, StartsWith: in.StartsWith, StartedOn: in.StartedOn, Version: 1}
	err = s.change(ctx, who, f.ID, Change{Verb: "start", Thing: "cycle", ThingID: c.ID, After: c}, func(ctx context.Context) error {
		if err := s.store.AddCycles(ctx, c); err != nil {
			return err
		}
		return s.store.AddMilestones(ctx, startRows(c, plan.Network.Baseline(in.StartedOn, plan.Draws), plan.Programme.Start)...)
	})
	if err != nil {
		return CycleLine{}, err
	}
	return s.store.Cycle(ctx, who.Scope(), c.ID)
}

// checkStart refuses a day-one milestone that does not come before the pack's
// own start.
func (s *Registry) checkStart(enterprise, start string) error {
	pack, ok := s.Packs.Pack(enterprise)
	if start == "" || !ok || slices.Contains(before(pack.Programme, pack.Programme.Start), start) {
		return nil
	}
	return domain.Invalid("cycle-refused", "A cycle starts with the programme's own start, or with a milestone before it.",
		domain.Field{Path: "starts_with", Code: "unknown", Text: fmt.Sprintf("Choose one of %s, or leave it out.", strings.Join(before(pack.Programme, pack.Programme.Start), ", "))})
}

// before are the milestones that must be done before one.
func before(p programme.Programme, key string) []string {
	var out []string
	for _, m := range p.Milestones {
		if m.Key != key {
			continue
		}
		for _, a := range m.After {
			out = append(append(out, a), before(p, a)...)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// startRows are the milestones of a cycle that begins: the baseline, with the
// start done on its day. What precedes the start is done by then; the
// forecast knows.
func startRows(c farm.Cycle, b programme.Baseline, start string) []Milestone {
	out := make([]Milestone, len(b))
	for i, w := range b {
		out[i] = Milestone{CycleID: c.ID, Window: w}
		if w.Key == start {
			out[i].DoneOn, out[i].Grade = c.StartedOn, farm.StaffSaw
		}
	}
	return out
}

// EndCycle closes a cycle, complete or given up.
func (s *Registry) EndCycle(ctx context.Context, who Actor, cycleID string, version int, on calendar.Date) (CycleLine, error) {
	if err := who.Need(editors...); err != nil {
		return CycleLine{}, err
	}
	c, err := s.store.Cycle(ctx, who.Scope(), cycleID)
	if err != nil {
		return CycleLine{}, err
	}
	if c.Version != version {
		return CycleLine{}, domain.Stale()
	}
	if !c.EndedOn.IsZero() {
		return CycleLine{}, domain.Conflict("cycle-ended", fmt.Sprintf("This cycle ended on %s.", c.EndedOn))
	}
	f, err := s.store.Farm(ctx, who.Scope(), c.FarmID)
	if err != nil {
		return CycleLine{}, err
	}
	today, err := s.plans.Today(ctx, f.BranchID, s.Now())
	if err != nil {
		return CycleLine{}, err
	}
	if on < c.StartedOn || on > today {
		return CycleLine{}, domain.Invalid("cycle-refused", "A cycle ends between its start and today.", domain.Field{Path: "ended_on", Code: "range", Text: "Check the day."})
	}
	next := c.Cycle
	next.EndedOn = on
	err = s.change(ctx, who, f.ID, Change{Verb: "end", Thing: "cycle", ThingID: c.ID, Before: c.Cycle, After: next}, func(ctx context.Context) error {
		return s.store.ChangeCycle(ctx, next)
	})
	if err != nil {
		return CycleLine{}, err
	}
	return s.store.Cycle(ctx, who.Scope(), cycleID)
}
