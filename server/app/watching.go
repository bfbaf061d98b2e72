package app

import (
	"context"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/domain/sweep"
	"tendfold/domain/ticket"
)

// watchStore is what Watching needs of the database.
type watchStore interface {
	Store
	Farm(ctx context.Context, sc Scope, id string) (FarmLine, error)
	FarmsByIDs(ctx context.Context, sc Scope, ids []string) ([]FarmLine, error)
	UnwatchedFarms(ctx context.Context, sc Scope, branchID string) ([]FarmLine, error)
	FindingsOf(ctx context.Context, farmIDs []string) ([]sweep.Clock, error)
	Watch(ctx context.Context, ids []string, on calendar.Date) (int, error)
}

// Watching is about the farms that stand in the register and that nobody
// watches yet: their findings stand in a list and open no ticket until a
// person starts watching.
type Watching struct {
	Core
	store watchStore
	plans *Plans
	farms *Farms
	queue Queue
}

// NewWatching wires the use case.
func NewWatching(core Core, store watchStore, plans *Plans, farms *Farms, queue Queue) *Watching {
	return &Watching{Core: core, store: store, plans: plans, farms: farms, queue: queue}
}

// FindingRow is something that the last sweep found and that still holds.
type FindingRow struct {
	ticket.Key
	Since   calendar.Date   `json:"since"`
	Reasons []domain.Reason `json:"reasons"`
	MutedBy string          `json:"muted_by" doc:"The rule whose finding silences this one, empty when it counts."`
	Opens   bool            `json:"opens_ticket" doc:"Findings of this rule become tickets on a watched farm."`
}

// ToConfirmRow is a farm that waits for somebody to watch it.
type ToConfirmRow struct {
	FarmRow
	AsIf     programme.Standing `json:"as_if_watched" doc:"The standing that it would have; empty without a running cycle or before the first sweep."`
	Findings []FindingRow       `json:"findings"`
}

// Findings are those of one farm that hold.
func (s *Watching) Findings(ctx context.Context, who Actor, farmID string) ([]FindingRow, error) {
	if _, err := s.store.Farm(ctx, who.Scope(), farmID); err != nil {
		return nil, err
	}
	if err := who.Need(desk...); err != nil {
		return nil, err
	}
	byFarm, err := s.findings(ctx, []string{farmID})
	return orEmpty(byFarm[farmID]), err
}

func (s *Watching) findings(ctx context.Context, farmIDs []string) (map[string][]FindingRow, error) {
	clocks, err := s.store.FindingsOf(ctx, farmIDs)
	if err != nil {
		return nil, err
	}
	out := map[string][]FindingRow{}
	for _, c := range clocks {
		if c.FalseSince == 0 {
			out[c.FarmID] = append(out[c.FarmID], FindingRow{
				Key: c.Key, Since: c.TrueSince, Reasons: orEmpty(c.Reasons), MutedBy: c.MutedBy.Rule, Opens: sweep.OpensTickets(c.Rule),
			})
		}
	}
	return out, nil
}

// ToConfirm is a page of the farms that nobody watches yet, those most days
// late first.
func (s *Watching) ToConfirm(ctx context.Context, who Actor, q FarmQuery) (Page[ToConfirmRow], error) {
	var out Page[ToConfirmRow]
	if err := who.Need(desk...); err != nil {
		return out, err
	}
	no := false
	q.Watched = &no
	page, err := s.farms.List(ctx, who, q)
	if err != nil {
		return out, err
	}
	ids := make([]string, len(page.Items))
	for i, f := range page.Items {
		ids[i] = f.ID
	}
	findings, err := s.findings(ctx, ids)
	if err != nil {
		return out, err
	}
	out = Page[ToConfirmRow]{Items: make([]ToConfirmRow, len(page.Items)), Next: page.Next}
	for i, f := range page.Items {
		var standings []programme.Standing
		for _, c := range f.Cycles {
			if c.Outlook != nil {
				standings = append(standings, c.Outlook.Standing)
			}
		}
		out.Items[i] = ToConfirmRow{FarmRow: f, AsIf: programme.WorstOf(standings), Findings: orEmpty(findings[f.ID])}
	}
	return out, nil
}

// WatchFarms names farms to watch, or all of a branch.
type WatchFarms struct {
	IDs      []string
	BranchID string
}

// oneByOne is up to how many farms are swept each; beyond, one sweep of all
// is cheaper.
const oneByOne = 50

// Watch starts watching farms and answers how many began to be watched; those
// that are watched already stay as they are. Closed farms are not watched.
func (s *Watching) Watch(ctx context.Context, who Actor, in WatchFarms) (int, error) {
	if err := who.Need(leader...); err != nil {
		return 0, err
	}
	if (len(in.IDs) == 0) == (in.BranchID == "") {
		return 0, domain.Invalid("watch-which", "Name the farms to watch, or one branch for all of its farms.",
			domain.Field{Path: "ids", Code: "required", Text: "Give ids or branch_id, not both."})
	}
	watched := 0
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		farms, err := s.toWatch(ctx, who, in)
		if err != nil {
			return err
		}
		watched, err = s.watch(ctx, who, farms)
		return err
	})
	return watched, err
}

// toWatch are the farms that begin to be watched.
func (s *Watching) toWatch(ctx context.Context, who Actor, in WatchFarms) ([]FarmLine, error) {
	if in.BranchID != "" {
		if _, err := s.plans.Terms(ctx, in.BranchID); err != nil {
			return nil, err
		}
		return s.store.UnwatchedFarms(ctx, who.Scope(), in.BranchID)
	}
	farms, err := s.store.FarmsByIDs(ctx, who.Scope(), in.IDs)
	if err != nil {
		return nil, err
	}
	known := map[string]bool{}
	for _, f := range farms {
		known[f.ID] = true
	}
	for _, id := range in.IDs {
		if !known[id] {
			return nil, domain.NotFound("farm")
		}
	}
	var out []FarmLine
	for _, f := range farms {
		if f.Status == farm.Closed {
			return nil, domain.Conflict("farm-closed", f.Name+" is closed in the register. Open it again before watching it.")
		}
		if !f.Watched() {
			out = append(out, f)
		}
	}
	return out, nil
}

// watch begins to watch farms, in ctx's transaction.
func (s *Watching) watch(ctx context.Context, who Actor, farms []FarmLine) (int, error) {
	at := s.Now()
	days := map[calendar.Date][]string{}
	for _, f := range farms {
		if len(farms) <= oneByOne {
			if err := s.queue.SweepFarm(ctx, f.ID); err != nil {
				return 0, err
			}
		}
		today, err := s.plans.Today(ctx, f.BranchID, at)
		if err != nil {
			return 0, err
		}
		days[today] = append(days[today], f.ID)
		if err := s.record(ctx, who, at, Change{Verb: "watch", Thing: "farm", ThingID: f.ID, FarmID: f.ID, After: map[string]string{"watched_on": today.String()}}); err != nil {
			return 0, err
		}
	}
	total := 0
	for on, ids := range days {
		n, err := s.store.Watch(ctx, ids, on)
		if err != nil {
			return 0, err
		}
		total += n
	}
	if len(farms) > oneByOne {
		return total, s.queue.SweepAll(ctx)
	}
	return total, nil
}
