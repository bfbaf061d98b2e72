package reckon

import (
	"math"

	"tendfold/checklists"
	"tendfold/domain/husbandry"
	"tendfold/domain/husbandry/density"
	"tendfold/domain/husbandry/ration"
)

// reckonRation answers what animals eat, what feed turned into, and what their
// water asks for.
func reckonRation(w work) {
	if g, ok := w.part("conversion"); ok {
		conversion(w, g)
	}
	if g, ok := w.part("tank"); ok {
		p := w.packOf(g, "catfish")
		tankPlan(w, g, p)
		g.done()
	}
	if g, ok := w.part("measured"); ok {
		waterJudged(w, g, w.packOf(g, "catfish"))
		g.done()
	}
	if g, ok := w.part("house"); ok {
		houseFeed(w, g, w.packOf(g, "snail"))
		g.done()
	}
}

func conversion(w work, g group) {
	feed, stocked, harvested := g.number("feed_kg", ration.Kilos), g.numberOr("stocked_kg", ration.Kilos, 0), g.number("harvested_kg", ration.Kilos)
	g.done()
	if !w.ok() {
		return
	}
	fcr, err := ration.Conversion(feed, stocked, harvested)
	g.blame(err)
	w.put("fcr", fcr, "kg/kg")
}

// weeksAhead is how far a plan of feed looks: a sample weighing comes sooner.
const weeksAhead = 4

// tankPlan answers the ration of today and the feed of the weeks ahead, with a
// band by how well feed is turned into fish.
func tankPlan(w work, g group, p *checklists.Pack) {
	t := ration.Tank{Animals: float64(g.whole("animals", ration.Animals)), MeanG: g.number("mean_g", ration.Grams)}
	if p.Stock == nil || p.Stock.Growing == nil {
		g.refuse("enterprise", "no-figures", "is %s, whose pack has no ration by weight", p.Enterprise)
		return
	}
	f := p.Stock.Growing
	fcr := w.span(g, "fcr", ration.FCR, f.FCR, p)
	survival := w.span(g, "survival", ration.Survival, f.Survival, p)
	weekly := math.Pow(survival.Typical, 7/f.SurvivalDays)
	var market float64
	if len(p.Species) > 0 {
		market = w.span(g, "market_g", ration.Grams, p.Species[0].MarketG, p).Typical
	}
	grading(w, g, p, t)
	if !w.ok() {
		return
	}
	figures := f.Figures()
	w.basis("ration_pct_day", f.Ration.Basis, p)
	daily, err := t.Daily(figures.RationAt(t.MeanG))
	g.blame(err)
	w.put("biomass_kg", t.Kg(), "kg")
	w.put("ration_pct_day", 100*figures.RationAt(t.MeanG), "% of body weight a day")
	w.put("feed_kg_day", daily, "kg/day")
	w.put("feed_g_animal_day", t.MeanG*figures.RationAt(t.MeanG), "g/day")
	tankAhead(w, g, t, ration.Course{Ration: figures.RationAt, FCR: fcr.Typical, Weekly: weekly}, fcr, market)
	if g.has("system") {
		tankWater(w, g, p, t)
	}
	w.mind("estimates")
	w.mindPack("medicines", p)
}

func tankAhead(w work, g group, t ration.Tank, likely ration.Course, fcr checklists.Span, market float64) {
	var order [3]float64
	for i, each := range []float64{fcr.Typical, fcr.High, fcr.Low} { // who turns feed badly grows slowly, and is fed less
		c := likely
		c.FCR = each
		weeks, err := c.Ahead(t, weeksAhead)
		g.blame(err)
		for _, week := range weeks {
			order[i] += week.FeedKg
		}
		days, reached, err := c.DaysTo(t.MeanG, market)
		g.blame(err)
		if reached {
			w.put([]string{"days_to_market", "days_to_market_late", "days_to_market_early"}[i], float64(days), "days")
		}
		if i == 0 {
			aheadRows(w, weeks)
		}
	}
	w.put("order_kg", order[0], "kg")
	if fcr.Low != fcr.High {
		w.put("order_low_kg", order[1], "kg")
		w.put("order_high_kg", order[2], "kg")
	}
}

func aheadRows(w work, weeks []ration.Week) {
	var n, animals, meanG, kg, feed []float64
	for i, week := range weeks {
		n, animals, meanG = append(n, float64(i+1)), append(animals, week.Animals), append(meanG, week.MeanG)
		kg, feed = append(kg, week.Kg), append(feed, week.FeedKg)
	}
	w.row("week", n)
	w.row("animals", animals)
	w.row("mean_g", meanG)
	w.row("biomass_kg", kg)
	w.row("feed_kg_week", feed)
}

// grading answers whether the animals should be sorted again.
func grading(w work, g group, p *checklists.Pack, t ration.Tank) {
	since := g.maybe("days_since_grading", husbandry.Range{Low: 0, High: 1000, Measure: "days"})
	if since == nil {
		return
	}
	for _, each := range p.Husbandry.Gradings {
		if t.MeanG < each.BelowG {
			w.put("grading_due_days", max(0, each.Days.Value-*since), "days")
			w.basis("grading_due_days", each.Days.Basis, p)
			return
		}
	}
}

// tankWater answers the load of the water and how much of it to change.
func tankWater(w work, g group, p *checklists.Pack, t ration.Tank) {
	s, ok := systemOf(w, g, p)
	measure := density.Volume
	key := "volume_m3"
	if s.In == checklists.KgPerM2 {
		measure, key = density.Area, "area_m2"
	}
	room := g.number(key, measure)
	if !ok || !w.ok() {
		return
	}
	load := t.Kg() / room
	var changes []ration.Change
	for _, c := range s.Changes {
		changes = append(changes, ration.Change{From: c.From, PercentDay: c.PercentPD.Value})
		if load >= c.From {
			w.basis("water_change_pct_day", c.PercentPD.Basis, p)
		}
	}
	percent := ration.WaterChange(load, changes)
	w.put("water_load", load, string(s.In))
	w.put("water_most", s.Most.Value, string(s.In))
	w.put("water_overcrowded", load > s.Most.Value, "")
	w.put("water_change_pct_day", percent, "% a day")
	if s.In == checklists.KgPerM3 {
		w.put("water_change_l_day", percent/100*room*1000, "l/day")
	}
	w.basis("water_most", s.Most.Basis, p)
	w.mind("one-system-only")
	w.mindPack("no-escapes", p)
}

// waterMeasured are the values of water that a sheet may bring, and the limits
// that they are held to.
var waterMeasured = []struct {
	key, limit string
	in         husbandry.Range
}{
	{"temperature_c", "temperature", husbandry.Range{Low: 0, High: 50, Measure: "°C"}},
	{"oxygen_mg_l", "oxygen", husbandry.Range{Low: 0, High: 30, Measure: "mg/l"}},
	{"ph", "ph", husbandry.Range{Low: 0, High: 14, Measure: "pH"}},
	{"nitrite_mg_l", "nitrite", husbandry.Range{Low: 0, High: 1000, Measure: "mg/l NO2-N"}},
	{"nitrate_mg_l", "nitrate", husbandry.Range{Low: 0, High: 10_000, Measure: "mg/l NO3-N"}},
}

// waterJudged holds measured water against its limits.
func waterJudged(w work, g group, p *checklists.Pack) {
	for _, m := range waterMeasured {
		v := g.maybe(m.key, m.in)
		limit, known := p.Husbandry.Limit(m.limit)
		if v == nil || !known {
			continue
		}
		verdict := "in-range"
		switch {
		case limit.Low != nil && *v < *limit.Low:
			verdict = "too-low"
			w.mind("water-too-low", text{limit.Name.EN, limit.Name.FR}.in(w.lang), *v, *limit.Low)
		case limit.High != nil && *v > *limit.High:
			verdict = "too-high"
			w.mind("water-too-high", text{limit.Name.EN, limit.Name.FR}.in(w.lang), *v, *limit.High)
		}
		w.put(m.key, verdict, "")
		w.basis(m.key, limit.Basis, p)
	}
}

// houseFeed answers the feed of a house by week, dry and fresh, the shell
// powder, and what its own crops do not give.
func houseFeed(w work, g group, p *checklists.Pack) {
	species := w.speciesOf(g, p)
	b, _ := p.BreedingOf(species.Key)
	dry := w.span(g, "dry_feed", ration.Share, b.DryFeed, p)
	fresh := w.span(g, "fresh_feed", ration.Share, b.FreshFeed, p)
	calcium := w.span(g, "calcium_of_dry_feed", ration.Share, b.CalciumOfDryFeed, p)
	own := ownCrops(w, g)
	kg := biomassOf(w, g)
	for _, a := range p.Husbandry.Avoid {
		w.caution("avoid-"+a.Key, text{a.Name.EN + ": " + a.Why.EN, a.Name.FR + " : " + a.Why.FR}.in(w.lang))
	}
	if !w.ok() {
		return
	}
	var weeks, dryKg, freshKg, calciumKg, gap []float64
	for i, each := range kg {
		n, err := ration.NeedOf(each, dry.Typical, fresh.Typical, calcium.Typical, own)
		g.blame(err)
		weeks, dryKg, freshKg = append(weeks, float64(i+1)), append(dryKg, n.Dry), append(freshKg, n.Fresh)
		calciumKg, gap = append(calciumKg, n.Calcium), append(gap, n.Gap)
	}
	w.put("dry_kg_week", dryKg[0], "kg")
	w.put("fresh_kg_week", freshKg[0], "kg")
	w.put("calcium_kg_week", calciumKg[0], "kg")
	w.put("own_kg_week", own, "kg")
	w.put("gap_kg_week", gap[0], "kg")
	if len(kg) > 1 {
		w.row("house_week", weeks)
		w.row("house_kg", kg)
		w.row("dry_kg_week", dryKg)
		w.row("fresh_kg_week", freshKg)
		w.row("calcium_kg_week", calciumKg)
		w.row("gap_kg_week", gap)
	}
}

// biomassOf is the weight of the animals in kg, week by week where a projection
// gives it.
func biomassOf(w work, g group) []float64 {
	if g.has("biomass_kg") {
		return g.numbers("biomass_kg", ration.Kilos, 1, 104)
	}
	animals, meanG := g.number("animals", ration.Animals), g.number("mean_g", ration.Grams)
	return []float64{animals * meanG / 1000}
}

// ownCrops is the fresh feed in kg a week that the unit's own crops give, as
// entered: an estimate of whoever wrote it.
func ownCrops(w work, g group) float64 {
	var kg float64
	for _, each := range g.parts("own_crops", 100) {
		each.text("crop")
		kg += each.number("kg_week", ration.Kilos)
		each.done()
	}
	if g.has("own_crops") {
		w.source(Source{For: "own_kg_week", Grade: asEntered})
	}
	return kg
}
