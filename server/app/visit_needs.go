package app

import (
	"context"
	"encoding/json"
	"slices"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/domain/visit"
)

// visitNeedStore is what VisitNeeds needs of the database.
type visitNeedStore interface {
	needStore
	Farm(ctx context.Context, sc Scope, id string) (FarmLine, error)
	UnitsOf(ctx context.Context, farmIDs []string) ([]farm.Unit, error)
}

// VisitNeeds say which farms need a visit, and why.
type VisitNeeds struct {
	Core
	store visitNeedStore
	plans *Plans
	days  *Days
}

// NewVisitNeeds wires the use case.
func NewVisitNeeds(core Core, store visitNeedStore, plans *Plans, days *Days) *VisitNeeds {
	return &VisitNeeds{Core: core, store: store, plans: plans, days: days}
}

// VisitNeed is a farm on the list of those that need a visit.
type VisitNeed struct {
	visit.Need
	Farm         string             `json:"farm"`
	Client       string             `json:"client"`
	BranchID     string             `json:"branch_id"`
	Landmark     string             `json:"landmark"`
	Position     farm.Position      `json:"position"`
	Standing     programme.Standing `json:"standing"`
	OwnSlip      int                `json:"own_slip"`
	WhyNotHigher visit.Why          `json:"why_not_higher"`
	Agenda       []visit.Task       `json:"agenda"`
	Cycles       []CycleRow         `json:"cycles" doc:"With the strip."`
	Planned      []PlannedStop      `json:"planned" doc:"Visits that are planned already, by day."`
}

// PlannedStop is a visit that is planned.
type PlannedStop struct {
	VisitID   string        `json:"visit_id"`
	OfficerID string        `json:"officer_id"`
	On        calendar.Date `json:"on"`
}

// VisitNeedList is the farms that need a visit, most needed first.
type VisitNeedList struct {
	On     calendar.Date `json:"on"`
	Farms  int           `json:"farms" doc:"Farms that were looked at."`
	Total  int           `json:"total" doc:"Farms that need a visit; Items holds the first of them."`
	MustGo int           `json:"must_go" doc:"Farms that must be gone to whatever the points."`
	Items  []VisitNeed   `json:"items"`
}

// dealtWindow is for how many days a visit's word that a reason was dealt
// with is remembered.
const dealtWindow = 400

// List is the farms in the actor's scope that need a visit. With a farm it is
// that one alone, whether it needs one or not.
func (s *VisitNeeds) List(ctx context.Context, who Actor, farmID, branch string, limit int) (VisitNeedList, error) {
	out := VisitNeedList{Items: []VisitNeed{}}
	if err := who.Need(desk...); err != nil {
		return out, err
	}
	var err error
	if out.On, err = s.days.Today(ctx, who, branch); err != nil {
		return out, err
	}
	if farmID != "" {
		if _, err := s.store.Farm(ctx, who.Scope(), farmID); err != nil {
			return out, err
		}
	}
	n, err := s.load(ctx, who.Scope(), NeedQuery{FarmID: farmID, Branch: branch})
	if err != nil {
		return out, err
	}
	ranked := s.rank(n, farmID != "")
	out.Farms, out.Total = len(n.farms), len(ranked)
	for _, r := range ranked {
		if len(r.need.MustGo) > 0 {
			out.MustGo++
		}
	}
	out.Items, err = s.show(ctx, n, ranked[:min(limit, len(ranked))])
	return out, err
}

// load reads the farms of a query. Days differ between branches by one at
// most, so facts are read up to the later day and looked at on the farm's own.
func (s *VisitNeeds) load(ctx context.Context, sc Scope, q NeedQuery) (*needs, error) {
	at := s.Now()
	q.On = calendar.FromTime(at).Add(1)
	q.Since = q.On.Add(-dealtWindow)
	return loadNeeds(ctx, s.store, s.plans, sc, q, func(branchID string) (calendar.Date, error) {
		return s.plans.Today(ctx, branchID, at)
	})
}

// rankedNeed is a farm's need with its place in needs.
type rankedNeed struct {
	need visit.Need
	farm int
}

// rank works the needs out, most needed first; farms that need no visit are
// left out unless all are asked for.
func (s *VisitNeeds) rank(n *needs, all bool) []rankedNeed {
	var out []rankedNeed
	for i := range n.farms {
		f := &n.farms[i]
		w := s.weights(f)
		need := visit.Of(f.facts(n.rules), w).Discount(f.dealt, w)
		if all || need.Points > 0 || len(need.MustGo) > 0 {
			out = append(out, rankedNeed{need, i})
		}
	}
	slices.SortFunc(out, func(a, b rankedNeed) int { return visit.Compare(a.need, b.need) })
	return out
}

// weights are those of the pack that the farm's first cycle follows, else its
// first unit's, else the first pack's: a firm that weighs its enterprises
// differently has few farms with several.
func (s *VisitNeeds) weights(f *needFarm) visit.Weights {
	for _, c := range f.cycles {
		if p, ok := s.Packs.Pack(c.Enterprise); ok {
			return p.Weights
		}
	}
	for _, u := range f.units {
		if p, ok := s.Packs.Pack(u.Enterprise); ok {
			return p.Weights
		}
	}
	return s.anyPack().Weights
}

func (s *VisitNeeds) anyPack() *checklists.Pack {
	for _, name := range s.Packs.Enterprises() {
		if p, ok := s.Packs.Pack(name); ok {
			return p
		}
	}
	return &checklists.Pack{}
}

// show fills in what the list shows of the farms on it.
func (s *VisitNeeds) show(ctx context.Context, n *needs, ranked []rankedNeed) ([]VisitNeed, error) {
	ids := make([]string, len(ranked))
	for i, r := range ranked {
		ids[i] = r.need.FarmID
	}
	units, err := s.store.UnitsOf(ctx, ids)
	if err != nil {
		return nil, err
	}
	names := make(map[string]string, len(units))
	for _, u := range units {
		names[u.ID] = u.Name
	}
	out := make([]VisitNeed, len(ranked))
	for i, r := range ranked {
		f := &n.farms[r.farm]
		w := s.weights(f)
		why := visit.WhyNotHigher(f.facts(n.rules), w, f.dealt)
		why.Uncounted, why.Next = orEmpty(why.Uncounted), orEmpty(why.Next)
		out[i] = VisitNeed{
			Need: r.need, Farm: f.Name, Client: f.Client, BranchID: f.BranchID, Landmark: f.Landmark, Position: f.Position,
			Standing: f.Standing, OwnSlip: f.OwnSlip, WhyNotHigher: why, Agenda: visit.Agenda(r.need), Planned: f.stops(),
		}
		out[i].MustGo, out[i].Reasons = orEmpty(out[i].MustGo), orEmpty(out[i].Reasons)
		if out[i].Cycles, err = f.strips(names); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func (f *needFarm) stops() []PlannedStop {
	out := []PlannedStop{}
	for _, v := range f.planned {
		out = append(out, PlannedStop{VisitID: v.ID, OfficerID: v.OfficerID, On: v.On})
	}
	return out
}

// strips are the outlooks of the farm's cycles, whole.
func (f *needFarm) strips(units map[string]string) ([]CycleRow, error) {
	out := []CycleRow{}
	for _, c := range f.cycles {
		row := CycleRow{CycleID: c.ID, UnitID: c.UnitID, Unit: units[c.UnitID], Enterprise: c.Enterprise, Purpose: c.Purpose}
		if len(c.Outlook) > 0 {
			row.Outlook = new(CycleOutlook)
			if err := json.Unmarshal(c.Outlook, row.Outlook); err != nil {
				return nil, err
			}
		}
		out = append(out, row)
	}
	return out, nil
}

// of is the need of one farm before and after what visits dealt with is taken
// away; closed farms need nothing.
func (s *VisitNeeds) of(ctx context.Context, farmID string) (whole, left visit.Need, err error) {
	n, err := s.load(ctx, Everything, NeedQuery{FarmID: farmID})
	if err != nil {
		return whole, left, err
	}
	if len(n.farms) == 0 {
		return whole, left, domain.Conflict("farm-closed", "This farm is closed in the register. Open it again before planning a visit.")
	}
	f := &n.farms[0]
	w := s.weights(f)
	whole = visit.Of(f.facts(n.rules), w)
	return whole, whole.Discount(f.dealt, w), nil
}
