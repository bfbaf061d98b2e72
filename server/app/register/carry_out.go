package register

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/server/app"

	"golang.org/x/text/language"
)

func (s *Imports) plan(ctx context.Context, who app.Actor, in Import, now time.Time) (Result, error) {
	snap, err := s.store.RegisterSnapshot(ctx)
	if err != nil {
		return Result{}, err
	}
	set, err := s.settings(snap, who, in, now)
	if err != nil {
		return Result{}, err
	}
	rows, found := in.Sheet.Rows(s.reading(snap, set, in))
	return Plan(snap, rows, found, set), nil
}

func (s *Imports) settings(snap Snapshot, who app.Actor, in Import, now time.Time) (Settings, error) {
	zone := cmp.Or(in.Branch.Zone, "UTC")
	if snap.Firm.SetUp {
		zone = snap.Firm.Zone
	}
	loc, err := time.LoadLocation(zone)
	if err != nil {
		return Settings{}, domain.Invalid("time-zone-unknown", fmt.Sprintf("%q is not a time zone. Write one such as Africa/Douala.", zone))
	}
	if in.Country != "" {
		if region, err := language.ParseRegion(in.Country); err != nil || !region.IsCountry() {
			return Settings{}, domain.Invalid("country-unknown", fmt.Sprintf("%q is not a country. Write its two letters, such as CM or GH.", in.Country))
		}
	}
	branch := in.Branch
	branch.Zone = zone
	branch.Name = cmp.Or(branch.Name, "Main")
	return Settings{
		Today: calendar.FromTime(now.In(loc)), Now: now, PersonID: who.PersonID, Pack: s.Packs.Pack, NewID: s.NewID, Watch: in.Watch,
		Branch: branch, MayBranch: branches(who), Progress: in.progress(Plans),
	}, nil
}

// branches is which branches an actor may write to, nil for all of them.
func branches(who app.Actor) func(string) bool {
	var own []string
	for _, g := range who.Grants {
		if g.Role == farm.Administrator || g.Role == farm.Manager {
			own = append(own, g.BranchID)
		}
	}
	if who.System || slices.Contains(own, "") {
		return nil
	}
	return func(id string) bool { return slices.Contains(own, id) }
}

func (s *Imports) reading(snap Snapshot, set Settings, in Import) Reading {
	r := Reading{Today: set.Today, Zone: set.Branch.Zone, Progress: in.progress(Reads)}
	for _, name := range s.Packs.Enterprises() {
		p, _ := s.Packs.Pack(name)
		r.Packs = append(r.Packs, p)
	}
	country := map[string]string{}
	for _, b := range snap.Branches {
		country[Fold(b.Name)] = b.Country
	}
	usual := cmp.Or(in.Country, in.Branch.Country, commonest(snap.Branches))
	r.Country = func(branch string) string { return cmp.Or(country[Fold(branch)], usual) }
	return r
}

// commonest is the country of most branches; of equals the first in order.
func commonest(list []farm.Branch) string {
	count, best := map[string]int{}, ""
	for _, b := range list {
		if b.Country != "" {
			count[b.Country]++
		}
	}
	for c, n := range count {
		if n > count[best] || n == count[best] && c < best {
			best = c
		}
	}
	return best
}

func (in Import) progress(stage Stage) func(done, total int) {
	if in.Progress == nil {
		return nil
	}
	return func(done, total int) { in.Progress(stage, done, total) }
}

// carryOut keeps the baselines and writes everything, in ctx's transaction.
func (s *Imports) carryOut(ctx context.Context, who app.Actor, in Import, at time.Time, r *Result) error {
	if len(r.Writes.Events) == 0 {
		return nil // every change has its event
	}
	rows, err := s.milestones(ctx, r.Writes.Starts)
	if err != nil {
		return err
	}
	w := writer{store: s.store, at: at, progress: in.progress(Saves)}
	if err := w.write(ctx, r.Writes, rows); err != nil {
		return err
	}
	if err := s.countChanges(ctx, *r); err != nil {
		return err
	}
	if err := s.queue.SweepAll(ctx); err != nil {
		return err
	}
	return s.store.RecordAll(ctx, at, who.PersonID, s.NewID, r.audit(in.Name))
}

// countChanges tells sweeps under way that the farms which they have read are
// no longer as they were; new ones nobody has read.
func (s *Imports) countChanges(ctx context.Context, r Result) error {
	fresh := map[string]bool{}
	for _, f := range r.Writes.Farms.New {
		fresh[f.ID] = true
	}
	for _, farmID := range r.Farms() {
		if fresh[farmID] {
			continue
		}
		if err := s.store.CountChange(ctx, farmID); err != nil {
			return err
		}
	}
	return nil
}

// milestones are the rows of the cycles that begin: what the baseline
// promises, and what is known to be done.
func (s *Imports) milestones(ctx context.Context, starts []Start) ([]app.Milestone, error) {
	type key struct {
		enterprise, purpose, branch string
		start                       calendar.Date
	}
	kept := map[key]programme.Baseline{}
	var out []app.Milestone
	for _, x := range starts {
		k := key{x.Cycle.Enterprise, x.Cycle.Purpose, x.BranchID, x.Cycle.StartedOn}
		base, known := kept[k]
		if !known {
			plan, err := s.plans.Plan(ctx, k.enterprise, k.purpose, k.branch)
			if err != nil {
				return nil, err
			}
			base = plan.Network.Baseline(k.start, plan.Draws)
			kept[k] = base
		}
		out = append(out, x.rows(base)...)
	}
	return out, nil
}

// rows are the windows of a baseline with what is done; a milestone that is
// done but no longer in the programme keeps its day.
func (x Start) rows(base programme.Baseline) []app.Milestone {
	out := make([]app.Milestone, 0, len(base))
	for _, w := range base {
		out = append(out, app.Milestone{CycleID: x.Cycle.ID, Window: w})
	}
	for _, m := range x.Done {
		i := slices.IndexFunc(out, func(o app.Milestone) bool { return o.Key == m.Key })
		if i < 0 {
			i = len(out)
			out = append(out, app.Milestone{CycleID: x.Cycle.ID, Window: programme.Window{Key: m.Key}})
		}
		out[i].DoneOn, out[i].Grade, out[i].DoneBy = m.DoneOn, m.Grade, m.DoneBy
	}
	return out
}

// audit is one line for the file and one for each unit that is new or
// changed, with the cells that differ.
func (r Result) audit(name string) []app.Change {
	lines := []app.Change{{
		Verb: "intake", Thing: "register",
		After: map[string]any{"file": name, "new": r.Count(New), "changed": r.Count(Changed), "same": r.Count(Same), "refused": r.Count(RefusedRow)},
	}}
	for _, v := range r.Verdicts {
		switch v.Word {
		case New:
			lines = append(lines, app.Change{Verb: "intake-new", Thing: "unit", ThingID: v.Unit.ID, FarmID: v.FarmID, After: v.Unit})
		case Changed:
			before, after := map[Column]string{}, map[Column]string{}
			for _, c := range v.Changes {
				before[c.Column], after[c.Column] = c.From, c.To
			}
			lines = append(lines, app.Change{Verb: "intake-changed", Thing: "unit", ThingID: v.Unit.ID, FarmID: v.FarmID, Before: before, After: after})
		}
	}
	return lines
}

// Farms are the farms with a row that is new or changed, in the file's order:
// those to sweep after the import.
func (r Result) Farms() []string {
	var out []string
	seen := map[string]bool{}
	for _, v := range r.Verdicts {
		if (v.Word == New || v.Word == Changed) && !seen[v.FarmID] {
			seen[v.FarmID] = true
			out = append(out, v.FarmID)
		}
	}
	return out
}
