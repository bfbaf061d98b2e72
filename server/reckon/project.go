package reckon

import (
	"tendfold/checklists"
	"tendfold/domain/calendar"
	"tendfold/domain/husbandry"
	"tendfold/domain/husbandry/density"
	"tendfold/domain/husbandry/stock"
)

// What the inputs may be.
var (
	projectedWeeks = husbandry.Range{Low: 1, High: 156, Measure: "weeks"}
	projectedG     = husbandry.Range{Low: 0.01, High: 100_000, Measure: "g"}
	saleDays       = husbandry.Range{Low: 0, High: 3650, Measure: "days between sales, 0 = nothing is sold"}
)

// mostBatches are in one unit at most.
const mostBatches = 12

// stockUnit projects one unit from the day of its first batch, with a band: a
// house of snails that breed, or a tank of fish that grow.
func stockUnit(w work, g group) {
	p := w.packOf(g, "snail")
	species := w.speciesOf(g, p)
	plan := planOf(w, g, p, species)
	if !w.ok() {
		return
	}
	switch b, breeds := p.BreedingOf(species.Key); {
	case breeds:
		projectHouse(w, g, p, b, plan)
	case p.Stock != nil && p.Stock.Growing != nil:
		projectTank(w, g, p, *p.Stock.Growing, plan)
	default:
		g.refuse("enterprise", "no-figures", "is %s, whose pack has no figures to project with", p.Enterprise)
	}
	w.mind("estimates")
	w.mindPack(species.Caution, p)
}

// planOf reads what was put in and what is meant to be sold. The plan begins
// today, the day of the first batch.
func planOf(w work, g group, p *checklists.Pack, species checklists.Species) stock.Plan {
	plan := stock.Plan{FloorM2: g.number("floor_m2", density.Area), Weeks: g.wholeOr("weeks", projectedWeeks, 52)}
	for _, each := range g.parts("batches", mostBatches) {
		plan.Batches = append(plan.Batches, stock.Batch{On: dayOf(each, "on"), Count: float64(each.whole("count", density.Animals)), MeanG: each.number("mean_g", projectedG)})
		each.done()
	}
	if len(plan.Batches) == 0 && w.ok() {
		g.refuse("batches", "missing", "is empty; give a list of batches with on, count and mean_g")
	}
	plan.Harvest.MarketG = w.span(g, "market_g", projectedG, species.MarketG, p).Typical
	plan.Harvest.Every = g.wholeOr("sell_every_days", saleDays, 0)
	plan.Harvest.Parents = g.numberOr("parents", density.Animals, 0)
	if !w.ok() {
		return plan
	}
	plan.From = plan.Batches[0].On
	for _, b := range plan.Batches {
		plan.From = min(plan.From, b.On)
	}
	plan.Today, plan.Harvest.From = plan.From, plan.From
	return plan
}

// dayOf reads a date that must be there, as 2026-03-31.
func dayOf(g group, key string) calendar.Date {
	v, ok := g.take(key, "the form 2026-03-31")
	if !ok {
		return 0
	}
	s, _ := v.(string)
	d, err := calendar.ParseDate(s)
	if err != nil || d.Year() < 1990 || d.Year() > 2200 {
		g.refuse(key, "not-a-date", "is %s; it must be a date of the form 2026-03-31", shapeOf(v))
		return 0
	}
	g.echo[key] = s
	return d
}

func projectHouse(w work, g group, p *checklists.Pack, b checklists.Breeding, plan stock.Plan) {
	m, err := stock.NewModel(b.Figures())
	if err != nil {
		g.refuse("species", "no-figures", "cannot be projected: %s", err)
		return
	}
	got, err := m.Project(plan, stock.Seen{}, stock.DrawSeed, stock.Runs)
	if g.blame(err); err != nil {
		return
	}
	last := got.Points[len(got.Points)-1]
	putBand(w, "animals", last.Animals, "animals")
	putBand(w, "adults", last.Adults, "animals")
	putBand(w, "saleable", last.Saleable, "animals")
	putBand(w, "biomass_kg", last.Kg, "kg")
	putDay(w, "full_on", got.FullOn)
	putDay(w, "full_early", got.FullEarly)
	putDay(w, "first_sale_on", got.FirstSaleOn)
	houseRows(w, got.Points)
	bareSum(w, p, b, plan)
	w.basis("growth", b.Growth.Basis, p)
	w.basis("eggs_year", b.EggsYear.Basis, p)
	w.basis("adult_loss", b.AdultLoss.Basis, p)
	w.basis("juvenile_loss", b.JuvenileLoss.Basis, p)
	w.basis("crowding", b.Theta.Basis, p)
}

func houseRows(w work, points []stock.Point) {
	rows := map[string][]float64{}
	week := 0.0
	for _, at := range points {
		week += float64(at.Weeks)
		for name, v := range map[string]float64{
			"unit_week": week, "unit_animals_low": at.Animals.Low, "unit_animals": at.Animals.Likely, "unit_animals_high": at.Animals.High,
			"unit_adults": at.Adults.Likely, "saleable": at.Saleable.Likely, "sold": at.Sold.Likely, "sold_kg": at.SoldKg.Likely,
			"dry_kg_week": at.DryKg.Likely, "fresh_kg_week": at.FreshKg.Likely, "calcium_kg_week": at.CalciumKg.Likely,
		} {
			rows[name] = append(rows[name], v)
		}
	}
	for _, name := range []string{
		"unit_week", "unit_animals_low", "unit_animals", "unit_animals_high", "unit_adults", "saleable", "sold", "sold_kg", "dry_kg_week", "fresh_kg_week", "calcium_kg_week",
	} {
		w.row(name, rows[name])
	}
}

// bareSum puts the sum that the trade makes beside what the floor carries.
func bareSum(w work, p *checklists.Pack, b checklists.Breeding, plan stock.Plan) {
	c := p.Stock.Claim
	if c == nil {
		return
	}
	var adults float64
	for _, each := range plan.Batches {
		adults += each.Count
	}
	sum := stock.BareSum(adults, c.Layings, c.Eggs.Typical, plan.FloorM2, b.Figures().CapacityKgM2, plan.Harvest.MarketG)
	w.put("claim_animals", sum.Animals, "animals")
	w.put("floor_room", sum.Room.Likely, "animals")
	w.basis("claim_animals", c.Basis, p)
	w.basis("floor_room", b.CapacityKgM2.Basis, p)
	if sum.Reason != "" {
		w.mind("claim-beyond-the-floor")
	}
}

func projectTank(w work, g group, p *checklists.Pack, f checklists.Growing, plan stock.Plan) {
	got, err := stock.ProjectFish(f.Figures(), plan, stock.Seen{}, stock.DrawSeed, stock.Runs)
	if g.blame(err); err != nil {
		return
	}
	last := got.Points[len(got.Points)-1]
	putBand(w, "animals", last.Fish, "animals")
	putBand(w, "mean_g", last.MeanG, "g")
	putBand(w, "biomass_kg", last.Kg, "kg")
	putBand(w, "order_kg", got.Feed, "kg")
	putDay(w, "ready_early", got.ReadyEarly)
	putDay(w, "ready_on", got.ReadyLikely)
	putDay(w, "ready_late", got.ReadyLate)
	w.basis("ration", f.Ration.Basis, p)
	w.basis("fcr", f.FCR.Basis, p)
	w.basis("survival", f.Survival.Basis, p)
}

// putBand puts the middle of the runs and the ends of the middle 80 in 100.
func putBand(w work, name string, b stock.Band, measure string) {
	w.put(name+"_low", b.Low, measure)
	w.put(name+"_likely", b.Likely, measure)
	w.put(name+"_high", b.High, measure)
}

// putDay puts a day that comes in most runs.
func putDay(w work, name string, on *calendar.Date) {
	if on != nil {
		w.put(name, on.String(), "")
	}
}
