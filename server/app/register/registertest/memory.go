// Package registertest keeps a register in memory, for tests of the import
// that need no database.
package registertest

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/app/register"
)

// Memory is a register.Store that holds the promises of the schema: unique
// names, one running cycle a unit, nothing without what it refers to.
type Memory struct {
	Snapshot register.Snapshot
	Events   []app.Event
	Audit    []app.Change
	Writes   int // calls that wrote
	// FailAt makes the write with this number fail, 1 for the first.
	FailAt int
}

// Failed is what the write FailAt answers.
var Failed = &domain.Error{Kind: domain.KindBusy, Code: "disk-full", Text: "The disk is full."}

// InTx undoes everything when fn fails.
func (m *Memory) InTx(ctx context.Context, fn func(context.Context) error) error {
	before := *m
	before.Snapshot.Visits = maps.Clone(m.Snapshot.Visits)
	if err := fn(ctx); err != nil {
		*m = before
		return err
	}
	return m.promises()
}

// Record keeps an audit line.
func (m *Memory) Record(_ context.Context, _ string, _ time.Time, _ string, c app.Change) error {
	m.Audit = append(m.Audit, c)
	return m.wrote()
}

// RecordAll keeps audit lines.
func (m *Memory) RecordAll(_ context.Context, _ time.Time, _ string, _ func() string, changes []app.Change) error {
	m.Audit = append(m.Audit, changes...)
	return m.wrote()
}

// LockRegister has nobody to lock out.
func (m *Memory) LockRegister(context.Context) error { return nil }

// RegisterSnapshot is what is held.
func (m *Memory) RegisterSnapshot(context.Context) (register.Snapshot, error) {
	s := m.Snapshot
	s.Visits = maps.Clone(s.Visits)
	return s, nil
}

// Branch is the branch with this id.
func (m *Memory) Branch(_ context.Context, id string) (farm.Branch, error) {
	i := slices.IndexFunc(m.Snapshot.Branches, func(b farm.Branch) bool { return b.ID == id })
	if i < 0 {
		return farm.Branch{}, domain.NotFound("branch")
	}
	return m.Snapshot.Branches[i], nil
}

// BranchRules are none.
func (m *Memory) BranchRules(context.Context, string) (app.BranchRules, error) {
	return app.BranchRules{}, nil
}

// HolidayEdits are none.
func (m *Memory) HolidayEdits(context.Context) (map[string][]calendar.Edit, error) { return nil, nil }

func (m *Memory) wrote() error {
	m.Writes++
	if m.Writes == m.FailAt {
		return Failed
	}
	return nil
}

// added is list with new things, without touching what others hold of it.
func added[T any](list, more []T) []T { return append(slices.Clone(list), more...) }

// changed is list with one thing in the place of the old one.
func changed[T any](list []T, x T, same func(T) bool) ([]T, error) {
	i := slices.IndexFunc(list, same)
	if i < 0 {
		return nil, domain.NotFound(fmt.Sprintf("%T", x))
	}
	list = slices.Clone(list)
	list[i] = x
	return list, nil
}

// AddBranches makes branches.
func (m *Memory) AddBranches(_ context.Context, bs ...farm.Branch) error {
	m.Snapshot.Branches = added(m.Snapshot.Branches, bs)
	return m.wrote()
}

// AddClients makes clients.
func (m *Memory) AddClients(_ context.Context, cs ...app.Client) error {
	m.Snapshot.Clients = added(m.Snapshot.Clients, cs)
	return m.wrote()
}

// ChangeClient writes a client.
func (m *Memory) ChangeClient(_ context.Context, c app.Client) (err error) {
	if m.Snapshot.Clients, err = changed(m.Snapshot.Clients, c, func(x app.Client) bool { return x.ID == c.ID }); err != nil {
		return err
	}
	return m.wrote()
}

// AddPeople makes people.
func (m *Memory) AddPeople(_ context.Context, _ time.Time, ps ...farm.Person) error {
	m.Snapshot.People = added(m.Snapshot.People, ps)
	return m.wrote()
}

// ChangePerson writes a person.
func (m *Memory) ChangePerson(_ context.Context, p farm.Person) (err error) {
	if m.Snapshot.People, err = changed(m.Snapshot.People, p, func(x farm.Person) bool { return x.ID == p.ID }); err != nil {
		return err
	}
	return m.wrote()
}

// AddFarms makes farms.
func (m *Memory) AddFarms(_ context.Context, _ time.Time, fs ...farm.Farm) error {
	m.Snapshot.Farms = added(m.Snapshot.Farms, fs)
	return m.wrote()
}

// ChangeFarm writes a farm.
func (m *Memory) ChangeFarm(_ context.Context, f farm.Farm) (err error) {
	if m.Snapshot.Farms, err = changed(m.Snapshot.Farms, f, func(x farm.Farm) bool { return x.ID == f.ID }); err != nil {
		return err
	}
	return m.wrote()
}

// CountChange counts nothing.
func (m *Memory) CountChange(context.Context, string) error { return m.wrote() }

// SetWork ties people to farms.
func (m *Memory) SetWork(_ context.Context, ws ...farm.Work) error {
	for _, w := range ws {
		same := func(x farm.Work) bool { return x.FarmID == w.FarmID && x.PersonID == w.PersonID }
		if list, err := changed(m.Snapshot.Work, w, same); err == nil {
			m.Snapshot.Work = list
			continue
		}
		m.Snapshot.Work = added(m.Snapshot.Work, []farm.Work{w})
	}
	return m.wrote()
}

// AddUnits makes units.
func (m *Memory) AddUnits(_ context.Context, us ...farm.Unit) error {
	m.Snapshot.Units = added(m.Snapshot.Units, us)
	return m.wrote()
}

// ChangeUnit writes a unit.
func (m *Memory) ChangeUnit(_ context.Context, u farm.Unit) (err error) {
	if m.Snapshot.Units, err = changed(m.Snapshot.Units, u, func(x farm.Unit) bool { return x.ID == u.ID }); err != nil {
		return err
	}
	return m.wrote()
}

// AddCycles makes cycles; a unit has one running cycle at most, at any
// moment.
func (m *Memory) AddCycles(_ context.Context, cs ...farm.Cycle) error {
	m.Snapshot.Cycles = added(m.Snapshot.Cycles, cs)
	running := map[string]bool{}
	for _, c := range m.Snapshot.Cycles {
		if c.EndedOn.IsZero() && running[c.UnitID] {
			return domain.Conflict("cycle-exists", c.UnitID)
		}
		running[c.UnitID] = running[c.UnitID] || c.EndedOn.IsZero()
	}
	return m.wrote()
}

// ChangeCycle writes a cycle.
func (m *Memory) ChangeCycle(_ context.Context, c farm.Cycle) (err error) {
	if m.Snapshot.Cycles, err = changed(m.Snapshot.Cycles, c, func(x farm.Cycle) bool { return x.ID == c.ID }); err != nil {
		return err
	}
	return m.wrote()
}

// AddMilestones writes baselines, each milestone of a cycle once.
func (m *Memory) AddMilestones(_ context.Context, ms ...app.Milestone) error {
	m.Snapshot.Milestones = added(m.Snapshot.Milestones, ms)
	seen := map[[2]string]bool{}
	for _, x := range m.Snapshot.Milestones {
		if seen[[2]string{x.CycleID, x.Key}] {
			return domain.Conflict("milestone-exists", x.CycleID+" "+x.Key)
		}
		seen[[2]string{x.CycleID, x.Key}] = true
	}
	return m.wrote()
}

// RemoveMilestones takes baselines away.
func (m *Memory) RemoveMilestones(_ context.Context, cycleIDs ...string) error {
	m.Snapshot.Milestones = slices.DeleteFunc(slices.Clone(m.Snapshot.Milestones), func(x app.Milestone) bool {
		return slices.Contains(cycleIDs, x.CycleID)
	})
	return m.wrote()
}

// MarkMilestone sets the day of a milestone that is there.
func (m *Memory) MarkMilestone(_ context.Context, cycleID, key string, on calendar.Date, grade farm.Grade, by string) error {
	i := slices.IndexFunc(m.Snapshot.Milestones, func(x app.Milestone) bool { return x.CycleID == cycleID && x.Key == key })
	if i < 0 {
		return domain.NotFound("milestone")
	}
	list := slices.Clone(m.Snapshot.Milestones)
	list[i].DoneOn, list[i].Grade, list[i].DoneBy = on, grade, by
	m.Snapshot.Milestones = list
	return m.wrote()
}

// AddBatches puts animals in.
func (m *Memory) AddBatches(_ context.Context, bs ...farm.Batch) error {
	m.Snapshot.Batches = added(m.Snapshot.Batches, bs)
	return m.wrote()
}

// ChangeBatch corrects a batch.
func (m *Memory) ChangeBatch(_ context.Context, b farm.Batch) (err error) {
	if m.Snapshot.Batches, err = changed(m.Snapshot.Batches, b, func(x farm.Batch) bool { return x.ID == b.ID }); err != nil {
		return err
	}
	return m.wrote()
}

// AddVisits notes visits that were made.
func (m *Memory) AddVisits(_ context.Context, vs ...app.Visit) error {
	if m.Snapshot.Visits == nil {
		m.Snapshot.Visits = map[string]calendar.Date{}
	}
	for _, v := range vs {
		m.Snapshot.Visits[v.FarmID] = max(m.Snapshot.Visits[v.FarmID], v.DoneOn)
	}
	return m.wrote()
}

// AppendEvents adds events.
func (m *Memory) AppendEvents(_ context.Context, es ...app.Event) ([]string, error) {
	m.Events = added(m.Events, es)
	return nil, m.wrote()
}

// AddPasses notes modules as passed.
func (m *Memory) AddPasses(_ context.Context, ps ...app.Pass) error {
	m.Snapshot.Passes = added(m.Snapshot.Passes, ps)
	return m.wrote()
}

// promises are those of the schema's keys.
func (m *Memory) promises() error {
	s, seen, ids := m.Snapshot, map[string]bool{}, map[string]bool{"": true}
	once := func(parts ...string) error {
		key := fmt.Sprint(parts)
		if seen[key] {
			return domain.Conflict("exists", key)
		}
		seen[key] = true
		return nil
	}
	there := func(id string) error {
		if !ids[id] {
			return domain.NotFound(id)
		}
		return nil
	}
	var errs []error
	for _, b := range s.Branches {
		ids[b.ID] = true
		errs = append(errs, once("branch", register.Fold(b.Name)))
	}
	for _, c := range s.Clients {
		ids[c.ID] = true
	}
	for _, p := range s.People {
		ids[p.ID] = true
	}
	for _, f := range s.Farms {
		ids[f.ID] = true
		errs = append(errs, once("farm", f.ClientID, register.Fold(f.Name)), there(f.ClientID), there(f.BranchID))
	}
	for _, u := range s.Units {
		ids[u.ID] = true
		errs = append(errs, once("unit", u.FarmID, register.Fold(u.Name)), there(u.FarmID))
	}
	for _, c := range s.Cycles {
		ids[c.ID] = true
		errs = append(errs, there(c.UnitID), there(c.FarmID))
	}
	for _, w := range s.Work {
		errs = append(errs, there(w.FarmID), there(w.PersonID))
	}
	for _, b := range s.Batches {
		errs = append(errs, there(b.UnitID), there(b.CycleID))
	}
	for _, x := range s.Milestones {
		errs = append(errs, there(x.CycleID))
	}
	for _, e := range m.Events {
		errs = append(errs, there(e.FarmID), there(e.UnitID), there(e.CycleID), once("event", e.ID))
	}
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
