package app

import (
	"context"
	"slices"

	"tendfold/domain/farm"
	"tendfold/domain/programme"
)

// farmStore is what Farms needs of the database to read.
type farmStore interface {
	Store
	Farm(ctx context.Context, sc Scope, id string) (FarmLine, error)
	Farms(ctx context.Context, sc Scope, q FarmQuery) (Page[FarmLine], error)
	Standings(ctx context.Context, sc Scope) ([]StandingCount, error)
	FarmRows(ctx context.Context, sc Scope, id string) (FarmRows, error)
	UnitsOf(ctx context.Context, farmIDs []string) ([]farm.Unit, error)
	CyclesOf(ctx context.Context, farmIDs []string) ([]CycleLine, error)
	Events(ctx context.Context, farmID, cursor string, limit int) (Page[Event], error)
	MediaOf(ctx context.Context, entryIDs []string) ([]Medium, error)
	seenStore
}

// Farms is the register as people read it.
type Farms struct {
	Core
	store farmStore
	plans *Plans
}

// NewFarms wires the use case.
func NewFarms(core Core, store farmStore, plans *Plans) *Farms {
	return &Farms{Core: core, store: store, plans: plans}
}

// FarmRow is a farm as the manager's list shows it: with its strips.
type FarmRow struct {
	FarmLine
	Cycles []CycleRow `json:"cycles"`
}

// CycleRow is a running cycle with its strip.
type CycleRow struct {
	CycleID    string        `json:"cycle_id"`
	UnitID     string        `json:"unit_id"`
	Unit       string        `json:"unit"`
	Enterprise string        `json:"enterprise"`
	Purpose    string        `json:"purpose"`
	Outlook    *CycleOutlook `json:"outlook,omitempty" doc:"Absent until the first sweep."`
}

// List is a page of farms, worst standing first. Owners read of their farms
// in their own page, after the firm has spoken to them.
func (s *Farms) List(ctx context.Context, who Actor, q FarmQuery) (Page[FarmRow], error) {
	var out Page[FarmRow]
	page, err := s.store.Farms(ctx, who.Scope(), q)
	if err != nil {
		return out, err
	}
	ids := make([]string, len(page.Items))
	for i, f := range page.Items {
		ids[i] = f.ID
	}
	cycles, err := s.running(ctx, who, ids)
	if err != nil {
		return out, err
	}
	out = Page[FarmRow]{Items: make([]FarmRow, len(page.Items)), Next: page.Next}
	for i, f := range page.Items {
		out.Items[i] = FarmRow{FarmLine: f, Cycles: orEmpty(cycles[f.ID])}
		if !who.Staff() {
			out.Items[i].discreet()
		}
	}
	return out, nil
}

// discreet leaves out what the firm tells an owner itself: the standing and
// why. The dates stay.
func (r *FarmRow) discreet() {
	r.Standing, r.OwnSlip = "", 0
	for i := range r.Cycles {
		if o := r.Cycles[i].Outlook; o != nil {
			o.Standing, o.Schedule, o.Reasons, o.HoldUp, o.Lost = "", "", orEmpty(o.Reasons[:0]), "", orEmpty(o.Lost[:0])
			o.Slip = programme.Slip{}
		}
	}
}

// running are the running cycles of farms, by farm.
func (s *Farms) running(ctx context.Context, who Actor, farmIDs []string) (map[string][]CycleRow, error) {
	units, err := s.store.UnitsOf(ctx, farmIDs)
	if err != nil {
		return nil, err
	}
	names := map[string]string{}
	for _, u := range units {
		names[u.ID] = u.Name
	}
	lines, err := s.store.CyclesOf(ctx, farmIDs)
	if err != nil {
		return nil, err
	}
	out := map[string][]CycleRow{}
	for _, c := range lines {
		if !c.EndedOn.IsZero() {
			continue
		}
		row := CycleRow{CycleID: c.ID, UnitID: c.UnitID, Unit: names[c.UnitID], Enterprise: c.Enterprise, Purpose: c.Purpose}
		if row.Outlook, err = c.Outlook.shownTo(who); err != nil {
			return nil, err
		}
		out[c.FarmID] = append(out[c.FarmID], row)
	}
	return out, nil
}

// Counts is how many farms of each branch have each standing.
func (s *Farms) Counts(ctx context.Context, who Actor) ([]StandingCount, error) {
	if err := who.Need(desk...); err != nil {
		return nil, err
	}
	return s.store.Standings(ctx, who.Scope())
}

// Timeline is a farm's events, newest first. Caretakers read what came from
// the farm; notes of the desk are for staff.
func (s *Farms) Timeline(ctx context.Context, who Actor, farmID, cursor string, limit int) (Page[Event], error) {
	if _, err := s.store.Farm(ctx, who.Scope(), farmID); err != nil {
		return Page[Event]{}, err
	}
	if err := who.Need(append([]farm.Role{farm.Caretaker}, desk...)...); err != nil {
		return Page[Event]{}, err
	}
	page, err := s.store.Events(ctx, farmID, cursor, limit)
	if err == nil && !who.Staff() {
		page.Items = slices.DeleteFunc(page.Items, func(e Event) bool { return e.PersonID != who.PersonID && e.Kind != EntryMilestone })
	}
	page.Items = orEmpty(page.Items)
	if err != nil {
		return page, err
	}
	ids := make([]string, len(page.Items))
	for i, e := range page.Items {
		ids[i] = e.ID
	}
	all, err := s.store.MediaOf(ctx, ids)
	if err != nil {
		return page, err
	}
	withMedia(page.Items, all)
	return page, noteSeen(ctx, s.store, who, s.Now(), ids)
}
