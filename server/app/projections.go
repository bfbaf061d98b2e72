package app

import (
	"context"
	"encoding/json"
	"slices"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/husbandry/stock"
	"tendfold/domain/programme"
)

// projectionStore is what Projections needs of the database.
type projectionStore interface {
	Farm(ctx context.Context, sc Scope, id string) (FarmLine, error)
	Unit(ctx context.Context, sc Scope, id string) (farm.Unit, error)
	UnitsOf(ctx context.Context, farmIDs []string) ([]farm.Unit, error)
	BatchesOf(ctx context.Context, unitIDs []string) ([]farm.Batch, error)
	CyclesOf(ctx context.Context, farmIDs []string) ([]CycleLine, error)
	MarksOf(ctx context.Context, cycleIDs []string) ([]Mark, error)
	ReadingsOf(ctx context.Context, cycleIDs []string) ([]Reading, error)
	EventsSince(ctx context.Context, farmID string, since calendar.Date, kinds ...string) ([]Event, error)
}

// Projections say what a unit will hold, eat and have for sale, from its
// batches, its counts and its daybook.
type Projections struct {
	Core
	store projectionStore
	plans *Plans
}

// NewProjections wires the use case.
func NewProjections(core Core, store projectionStore, plans *Plans) *Projections {
	return &Projections{Core: core, store: store, plans: plans}
}

// WhatIf are the assumptions that a person may change, beside the plan. A nil
// one stays as it is.
type WhatIf struct {
	MarketG *float64 // weight from which animals are sold
	Every   *int     // days between sales, 0 = nothing is sold
	Parents *float64 // adults that stay
	Thin    bool     // move animals out whenever the unit is full
	Count   stock.Answer
	Prices  *stock.Prices
}

// ProjectionPage is a unit and what it leads to.
type ProjectionPage struct {
	FarmID     string        `json:"farm_id"`
	Farm       string        `json:"farm"`
	UnitID     string        `json:"unit_id"`
	Unit       string        `json:"unit"`
	Enterprise string        `json:"enterprise"`
	Species    string        `json:"species"`
	Purpose    string        `json:"purpose"`
	Today      calendar.Date `json:"today"`
	// Why is a word for why there is no projection, "" when there is one.
	Why      string                `json:"why,omitempty" enum:"no-figures,no-area,no-animals,too-old"`
	AreaM2   float64               `json:"area_m2"`
	PutIn    int                   `json:"put_in"`
	Assumed  Assumed               `json:"assumed"`
	Breeding *stock.Projection     `json:"breeding,omitempty"`
	Growing  *stock.FishProjection `json:"growing,omitempty"`
	Advice   []domain.Reason       `json:"advice"`
	Bare     *BareLine             `json:"bare,omitempty"`
	Money    *MoneyBand            `json:"money,omitempty"`
	Inputs   []Input               `json:"inputs"`
}

// Assumed is what the projection takes the owner to mean.
type Assumed struct {
	MarketG float64 `json:"market_g"`
	Every   int     `json:"every_days"`
	Parents float64 `json:"parents"`
	Thin    bool    `json:"thin"`
	Weeks   int     `json:"weeks" doc:"From today."`
	Changed bool    `json:"changed" doc:"True when the caller changed an assumption: this stands beside the plan and is not kept."`
}

// BareLine is the trade's sum beside what the floor carries.
type BareLine struct {
	stock.Bare
	Adults   float64         `json:"adults"`
	Layings  float64         `json:"layings"`
	Eggs     float64         `json:"eggs"`
	EggsYear stock.Band      `json:"eggs_year" doc:"What is published of the species: eggs an adult lays in a year."`
	Claim    checklists.Text `json:"claim"`
}

// MoneyBand is what the sales bring by the prices that were entered, in minor
// units of the firm's currency.
type MoneyBand struct {
	Low    stock.Result `json:"low"`
	Likely stock.Result `json:"likely"`
	High   stock.Result `json:"high"`
}

// Input is one figure that a projection rests on.
type Input struct {
	Key      string           `json:"key"`
	Low      float64          `json:"low"`
	Likely   float64          `json:"likely"`
	High     float64          `json:"high"`
	Measure  string           `json:"measure" enum:"eggs,days,share,share-a-month,share-a-day,months,kg/m2,g,power,kg/kg,m2,animals"`
	Grade    checklists.Grade `json:"grade"`
	Citation string           `json:"citation,omitempty"`
	Note     string           `json:"note,omitempty"`
}

// aheadWeeks is how far a projection looks, longestPast how long ago a batch
// may have been put in for its life to be followed.
const (
	aheadWeeks  = 104
	longestPast = 7 * 260
)

// Page is the projection of one unit.
func (s *Projections) Page(ctx context.Context, who Actor, unitID string, what WhatIf) (ProjectionPage, error) {
	u, err := s.store.Unit(ctx, who.Scope(), unitID)
	if err != nil {
		return ProjectionPage{}, err
	}
	f, err := s.store.Farm(ctx, who.Scope(), u.FarmID)
	if err != nil {
		return ProjectionPage{}, err
	}
	today, err := s.plans.Today(ctx, f.BranchID, s.Now())
	if err != nil {
		return ProjectionPage{}, err
	}
	v := &projectionView{unit: u, what: what, page: ProjectionPage{
		FarmID: f.ID, Farm: f.Name, UnitID: u.ID, Unit: u.Name, Enterprise: u.Enterprise, Today: today,
		AreaM2: u.Build.AreaM2(), Advice: []domain.Reason{}, Inputs: []Input{},
	}}
	if err := s.gather(ctx, v); err != nil || v.page.Why != "" {
		return v.page, err
	}
	if err := v.project(); err != nil {
		return v.page, err
	}
	v.page.hideFrom(who)
	return v.page, nil
}

// hideFrom leaves a caretaker what is to be done: kilos and counts, no sums
// and no sales.
func (p *ProjectionPage) hideFrom(who Actor) {
	if who.Staff() || who.Scope().Owner != "" {
		return
	}
	p.Bare, p.Money, p.Inputs = nil, nil, []Input{}
	if p.Breeding != nil {
		for i := range p.Breeding.Points {
			p.Breeding.Points[i].Sold, p.Breeding.Points[i].SoldKg = stock.Band{}, stock.Band{}
		}
	}
}

// projectionView is a page on its way.
type projectionView struct {
	page    ProjectionPage
	unit    farm.Unit
	pack    *checklists.Pack
	species checklists.Species
	what    WhatIf
	plan    stock.Plan
	seen    stock.Seen
}

// gather lays what is known of the unit on the plan of a projection, or says
// why it cannot.
func (s *Projections) gather(ctx context.Context, v *projectionView) error {
	pack, ok := s.Packs.Pack(v.unit.Enterprise)
	if !ok || pack.Stock == nil {
		v.page.Why = "no-figures"
		return nil
	}
	v.pack = pack
	units, err := s.store.UnitsOf(ctx, []string{v.page.FarmID})
	if err != nil {
		return err
	}
	batches, err := s.store.BatchesOf(ctx, unitIDs(units))
	if err != nil {
		return err
	}
	cycleID := cycleOn(batches, v.unit.ID, v.page.Today)
	v.addBatches(batches, cycleID)
	if v.page.Why != "" {
		return nil
	}
	if err := s.addCycle(ctx, v, cycleID); err != nil {
		return err
	}
	events, err := s.store.EventsSince(ctx, v.page.FarmID, v.plan.From.Add(-lookBack), EntryDay)
	if err != nil {
		return err
	}
	v.addDays(events, len(units) == 1)
	v.assume()
	return nil
}

// addBatches puts in what lives in the unit.
func (v *projectionView) addBatches(batches []farm.Batch, cycleID string) {
	p := &v.page
	species := v.unit.Species
	for _, b := range batches {
		if b.UnitID != v.unit.ID || b.CycleID != cycleID || b.Count <= 0 || b.StockedOn > p.Today {
			continue
		}
		if b.Species != "" {
			species = b.Species
		}
		v.plan.Batches = append(v.plan.Batches, stock.Batch{On: b.StockedOn, Count: float64(b.Count), MeanG: b.MeanWeightG})
		p.PutIn += b.Count
		if v.plan.From == 0 || b.StockedOn < v.plan.From {
			v.plan.From = b.StockedOn
		}
	}
	v.species = v.pack.Species[0]
	if i := slices.IndexFunc(v.pack.Species, func(s checklists.Species) bool { return s.Key == species }); i >= 0 {
		v.species = v.pack.Species[i]
	}
	for i, b := range v.plan.Batches {
		if b.MeanG <= 0 {
			v.plan.Batches[i].MeanG = v.species.StockedG.Typical
		}
	}
	p.Species = v.species.Key
	switch {
	case len(v.plan.Batches) == 0:
		p.Why = "no-animals"
	case p.AreaM2 <= 0:
		p.Why = "no-area"
	case p.Today.Sub(v.plan.From) > longestPast:
		p.Why = "too-old"
	}
	v.plan.FloorM2, v.plan.Today = p.AreaM2, p.Today
	v.plan.Weeks = p.Today.Sub(v.plan.From)/7 + aheadWeeks
	slices.SortStableFunc(v.plan.Batches, func(a, b stock.Batch) int { return a.On.Sub(b.On) })
}

// addCycle adds what was weighed and counted in the cycle.
func (s *Projections) addCycle(ctx context.Context, v *projectionView, cycleID string) error {
	cycles, err := s.store.CyclesOf(ctx, []string{v.page.FarmID})
	if err != nil || cycleID == "" {
		return err
	}
	if i := slices.IndexFunc(cycles, func(c CycleLine) bool { return c.ID == cycleID }); i >= 0 {
		v.page.Purpose = cycles[i].Purpose
	}
	readings, err := s.store.ReadingsOf(ctx, []string{cycleID})
	if err != nil {
		return err
	}
	for _, r := range readings {
		if r.Kind == programme.Weight && r.On <= v.page.Today && r.Value > 0 {
			v.seen.Weighings = append(v.seen.Weighings, stock.Weighing{On: r.On, Batch: 0, MeanG: r.Value, N: max(r.N, 1)})
		}
	}
	marks, err := s.store.MarksOf(ctx, []string{cycleID})
	if err != nil {
		return err
	}
	for _, m := range marks {
		if m.Value != nil && m.On <= v.page.Today && *m.Value >= 0 && slices.Contains(v.pack.Stock.Counts, m.Item) {
			v.seen.Counts = append(v.seen.Counts, stock.Count{On: m.On, N: *m.Value, Answer: v.what.Count})
		}
	}
	return nil
}

// addDays reads the daybook of the unit: deaths and eggs as they stand, and
// animals that were taken out or are missing. Alone says that the farm has one
// unit, so that its whole book is the unit's.
func (v *projectionView) addDays(events []Event, alone bool) {
	for _, e := range standing(events) {
		if e.On < v.plan.From || e.On > v.page.Today || e.UnitID != v.unit.ID && (e.UnitID != "" || !alone) {
			continue
		}
		var in DayEntry
		if json.Unmarshal(e.Data, &in) != nil {
			continue
		}
		day := stock.Day{On: e.On, Deaths: -1, Eggs: -1}
		if in.AllWell {
			day.Deaths = 0
		}
		number := func(key string) float64 {
			n, ok := in.Values[key].(float64)
			if !ok {
				return -1
			}
			return n
		}
		if n := number("deaths"); n >= 0 {
			day.Deaths = n
		}
		day.Eggs = number("eggs")
		v.seen.Days = append(v.seen.Days, day)
		v.take(e.On, number("missing"), stock.Stolen)
		v.take(e.On, number("harvest_pieces"), stock.Sold)
	}
}

func (v *projectionView) take(on calendar.Date, n float64, way stock.Way) {
	if n > 0 && len(v.plan.Taken) < mostTaken {
		v.plan.Taken = append(v.plan.Taken, stock.Taken{On: on, Count: n, Way: way})
	}
}

// mostTaken bounds the takings of one unit: one a day for five years.
const mostTaken = 1900

// breedersPerM2 is the most adults a square metre that are kept as parents
// (Wikibooks, Heliciculture, read in full: 8 a square metre breed best).
const breedersPerM2 = 8

// assume sets what the owner is taken to mean: animals are sold every month
// from the typical market weight on; a unit that breeds keeps the animals that
// were put in, but no more than breed well on its floor.
func (v *projectionView) assume() {
	a := Assumed{MarketG: v.species.MarketG.Typical, Every: 30, Weeks: aheadWeeks}
	if v.page.Purpose == string(programme.Breeding) {
		a.Parents = min(float64(v.page.PutIn), breedersPerM2*v.page.AreaM2)
	}
	w := v.what
	if w.MarketG != nil {
		a.MarketG, a.Changed = *w.MarketG, true
	}
	if w.Every != nil {
		a.Every, a.Changed = *w.Every, true
	}
	if w.Parents != nil {
		a.Parents, a.Changed = *w.Parents, true
	}
	if w.Thin || w.Count != "" {
		a.Thin, a.Changed = w.Thin, true
	}
	v.page.Assumed = a
	v.plan.Harvest = stock.Harvest{From: v.page.Today, Every: a.Every, MarketG: a.MarketG, Parents: a.Parents}
	if a.Thin {
		v.plan.Harvest.ThinTo = thinTo
	}
}

// thinTo leaves a tenth of the room free, or the house is full again at once.
const thinTo = 0.9
