package reckon

import (
	"tendfold/checklists"
	"tendfold/domain/husbandry"
	"tendfold/domain/husbandry/growth"
)

// mostWeights bounds a sample.
const mostWeights = 2000

// reckonGrowth answers what weights say.
func reckonGrowth(w work) {
	if g, ok := w.part("sample"); ok {
		growthSample(w, g)
	}
	if g, ok := w.part("gain"); ok {
		growthGain(w, g)
	}
	if g, ok := w.part("fit"); ok {
		growthFit(w, g)
	}
}

// interval is how often the interval of a mean holds it.
const interval = 0.90

// growthSample answers the interval of a mean, and holds it against the
// reference of a species where the pack has one.
func growthSample(w work, g group) {
	p := w.packOf(g, "snail")
	weights := g.numbers("weights_g", growth.Grams, 2, mostWeights)
	taken := growth.Taken{AgeMonths: g.maybe("age_months", growth.Months), Chosen: g.flag("chosen")}
	band, species := bandOf(w, g, p)
	market := w.span(g, "market_g", growth.Grams, species.MarketG, p)
	g.done()
	if !w.ok() {
		return
	}
	s, err := growth.SampleOf(weights, interval)
	g.blame(err)
	w.put("animals", float64(s.N), "animals")
	w.put("mean_g", s.Mean, "g")
	w.put("mean_low_g", s.Low, "g")
	w.put("mean_high_g", s.High, "g")
	w.put("sd_g", s.SD, "g")
	w.formula("mean_low_g", student)
	if band == nil || !w.ok() {
		return
	}
	judge(w, g, band, weights, taken)
	toMarket(w, g, band, s, market.Typical)
}

// bandOf is the reference of the species, nil where the pack has none.
func bandOf(w work, g group, p *checklists.Pack) (growth.Band, checklists.Species) {
	species := w.speciesOf(g, p)
	b, ok := p.BreedingOf(species.Key)
	if !ok {
		return nil, species
	}
	var band growth.Band
	for _, at := range b.Growth.Points {
		band = append(band, growth.Age{Months: at.Months, Low: at.Grams.Low, Typical: at.Grams.Likely, High: at.Grams.High})
	}
	w.basis("band_typical_g", b.Growth.Basis, p)
	return band, species
}

func judge(w work, g group, band growth.Band, weights []float64, taken growth.Taken) {
	j, err := band.Judge(weights, taken)
	g.blame(err)
	w.put("verdict", string(j.Verdict), "")
	if j.Verdict == growth.NotEnough {
		w.put("lacks", "lacks-"+j.Lacks, "")
		w.mind("not-enough-to-say", growth.FewestAnimals)
		return
	}
	w.put("band_low_g", j.Age.Low, "g")
	w.put("band_typical_g", j.Age.Typical, "g")
	w.put("band_high_g", j.Age.High, "g")
}

// toMarket answers the days to the weight of sale as far as the reference goes.
func toMarket(w work, g group, band growth.Band, s growth.Sample, market float64) {
	m, err := band.ToMarket(max(s.Low, growth.Grams.Low), s.Mean, s.High, market)
	g.blame(err)
	if err != nil {
		return
	}
	w.put("days_to_market_early", m.Early, "days")
	if !m.LikelyNever {
		w.put("days_to_market", m.Likely, "days")
	}
	if !m.Never {
		w.put("days_to_market_late", m.Late, "days")
	} else {
		w.mind("slow-never-reach", market)
	}
	w.mind("estimates")
}

// growthGain answers how fast animals grew between two weighings.
func growthGain(w work, g group) {
	from, to := g.number("from_g", growth.Grams), g.number("to_g", growth.Grams)
	days := g.number("days", growth.Days)
	warmth := g.maybe("temperature_c", growth.Warmth)
	g.done()
	if !w.ok() {
		return
	}
	sgr, err := growth.SGR(from, to, days)
	g.blame(err)
	w.put("gain_g_day", (to-from)/days, "g/day")
	w.put("sgr_pct_day", sgr, "% a day")
	w.formula("sgr_pct_day", specificGrowth)
	if warmth != nil {
		tgc, err := growth.TGC(from, to, days, *warmth)
		g.blame(err)
		w.put("tgc", tgc, "")
	}
}

// growthFit lays a curve through the farm's own samples.
func growthFit(w work, g group) {
	var names []string
	for _, c := range growth.Curves() {
		names = append(names, string(c))
	}
	curve := growth.Curve(g.word("curve", names...))
	times := g.numbers("times", husbandry.Range{Low: -1e6, High: 1e6, Measure: "days, months or what was counted"}, 1, mostWeights)
	weights := g.numbers("weights", husbandry.Range{Low: 1e-6, High: 1e6, Measure: "g, or what was measured"}, 1, mostWeights)
	g.done()
	if !w.ok() {
		return
	}
	f, err := growth.FitOf(curve, times, weights, nil)
	g.blame(err)
	if err != nil {
		return
	}
	for i, name := range curve.Names() {
		w.put("fit_"+name, f.Params[i], "")
		w.put("fit_"+name+"_se", f.Errors[i], "")
	}
	w.put("fit_rss", f.RSS, "")
	w.put("fit_sd", f.SD, "")
	w.formula("fit_a", leastSquares)
	w.mind("curve-ends-with-samples")
}
