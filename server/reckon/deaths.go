package reckon

import (
	"math"

	"tendfold/checklists"
	"tendfold/domain/husbandry"
	"tendfold/domain/husbandry/deaths"
)

// reckonDeaths answers how sure a rate of deaths is, and whether it has doubled.
func reckonDeaths(w work) {
	if w.has("count") || w.has("exposure") || w.has("against") {
		deathRate(w)
	}
	if g, ok := w.part("chart"); ok {
		deathChart(w, g)
		g.done()
	}
}

const perExposure = "deaths per unit of exposure"

func deathRate(w work) {
	count, exposure := w.whole("count", deaths.Deaths), w.number("exposure", deaths.Exposure)
	if !w.ok() {
		return
	}
	r, err := deaths.RateOf(count, exposure)
	w.blame(err)
	w.put("rate", r.Rate, perExposure)
	w.put("rate_low", r.Low, perExposure)
	w.put("rate_high", r.High, perExposure)
	w.formula("rate_low", garwood)
	if g, ok := w.part("against"); ok {
		deathRatio(w, g, count, exposure)
	}
}

func deathRatio(w work, g group, count int, exposure float64) {
	other, otherExposure := g.whole("count", deaths.Deaths), g.number("exposure", deaths.Exposure)
	g.done()
	if !w.ok() {
		return
	}
	r, err := deaths.RatioOf(count, exposure, other, otherExposure)
	w.blame(err)
	w.put("ratio_low", r.Low, "times")
	if r.Bounded {
		w.put("ratio", r.Ratio, "times")
		w.put("ratio_high", r.High, "times")
	}
	w.formula("ratio_low", clopperPearson)
}

// mostChartWeeks bounds a chart: two years of weeks stand in a sheet.
const mostChartWeeks = 260

// deathChart answers whether the rate has doubled, week by week.
func deathChart(w work, g group) {
	p := w.packOf(g, "snail")
	f := chartFigures(w, g, p)
	prior := chartPrior(w, g, p, f)
	var weeks []deaths.Week
	for _, each := range g.parts("weeks", mostChartWeeks) {
		weeks = append(weeks, weekOf(each))
	}
	if len(weeks) == 0 && w.ok() {
		g.refuse("weeks", "missing", "is empty; give a list of weeks with deaths, animals and covered_days")
	}
	if !w.ok() {
		return
	}
	points, learned, err := deaths.Chart(prior, weeks, f.Figures)
	g.blame(err)
	if err != nil {
		return
	}
	last, week := points[len(points)-1], weeks[len(weeks)-1]
	w.put("reference_pc_week", 100*learned.Mean, "% a week")
	w.put("signal", signalWord(last.Signal), "")
	w.put("open", last.Open, "")
	w.put("too_small_to_chart", last.TooSmall, "")
	chartDesign(w, learned, week.Animals, f.Figures)
	chartRows(w, points, weeks)
	w.formula("limit", pageLucas)
	w.mind("dormant-are-alive")
	if last.TooSmall {
		w.mind("too-small")
	}
	if last.Open || last.Signal != deaths.None {
		w.mindPack("dead-stock", p)
		w.mindPack("disease", p)
	}
}

func signalWord(s deaths.Signal) string {
	if s == deaths.None {
		return "no-signal"
	}
	return string(s)
}

func chartDesign(w work, prior deaths.Prior, animals float64, f deaths.Figures) {
	if d, err := deaths.DesignOf(prior, animals, f); err == nil { // an empty house has no design
		w.put("limit", d.Limit, "")
		w.put("run_weeks", d.RunWeeks, "weeks")
		w.put("see_weeks", d.SeeWeeks, "weeks")
	}
}

func chartRows(w work, points []deaths.Point, weeks []deaths.Week) {
	var n, died, expected, climb, limit []float64
	for i, p := range points {
		n, died, expected = append(n, float64(i+1)), append(died, weeks[i].Deaths), append(expected, p.Expected)
		climb, limit = append(climb, p.Climb), append(limit, p.Limit)
	}
	w.row("week", n)
	w.row("deaths", died)
	w.row("expected", expected)
	w.row("climb", climb)
	w.row("limit", limit)
}

func weekOf(g group) deaths.Week {
	w := deaths.Week{
		Deaths: float64(g.whole("deaths", deaths.Deaths)), Animals: g.number("animals", deaths.Animals),
		Covered: g.number("covered_days", deaths.CoveredDays), Foul: g.numberOr("foul", deaths.Deaths, 0), Worst: g.numberOr("worst_day", deaths.Deaths, 0),
	}
	g.done()
	return w
}

// figuresOf are a chart's figures, and the cap of what another farm lends.
type figuresOf struct {
	deaths.Figures
	shape float64
}

func chartFigures(w work, g group, p *checklists.Pack) figuresOf {
	d := p.Husbandry.Deaths
	f := figuresOf{
		Figures: deaths.Figures{
			RunWeeks: w.figure(g, "run_weeks", deaths.RunWeeks, d.RunWeeks, p),
			SeeWeeks: w.figure(g, "see_weeks", deaths.RunWeeks, d.SeeWeeks, p),
		},
		shape: w.figure(g, "shape", husbandry.Range{Low: 0.1, High: 4, Measure: "(deaths' worth of knowing)"}, d.Shape, p),
	}
	if d.AtOnce.Grade != "" || g.has("at_once") {
		f.AtOnce = w.figure(g, "at_once", husbandry.Range{Low: 1, High: 1e6, Measure: "foul deaths a week"}, d.AtOnce, p)
	}
	if d.AtOncePc.Grade != "" || g.has("at_once_pc") {
		f.AtOncePc = w.figure(g, "at_once_pc", husbandry.Range{Low: 0.01, High: 100, Measure: "% of the animals on a day"}, d.AtOncePc, p)
	}
	return f
}

// chartPrior is the pack's rate of the stage, or the sheet's, updated by what
// the firm's other farms saw (and lent no more certain than before), then by
// this farm's own quiet weeks.
func chartPrior(w work, g group, p *checklists.Pack, f figuresOf) deaths.Prior {
	prior := deaths.Prior{Shape: f.shape, Mean: weekly(monthlyLoss(w, g, p))}
	for _, from := range []string{"firm", "farm"} {
		seen, ok := g.part(from)
		if !ok {
			continue
		}
		died, exposure := seen.number("deaths", deaths.Deaths), seen.number("animal_weeks", deaths.Exposure)
		seen.done()
		if !w.ok() {
			return prior
		}
		prior = prior.After(died, exposure)
		if from == "firm" {
			prior = prior.Lent(f.shape)
		}
	}
	return prior
}

// lossRange is a share of animals a month.
var lossRange = husbandry.Range{Low: 0.01, High: 99, Measure: "% a month"}

// monthlyLoss is the loss of a stage in % a month.
func monthlyLoss(w work, g group, p *checklists.Pack) float64 {
	if g.has("month_pc") || p.Stock == nil {
		return g.number("month_pc", lossRange)
	}
	if f := p.Stock.Growing; f != nil {
		g.echo["month_pc"] = 100 * (1 - math.Pow(f.Survival.Typical, daysPerMonth/f.SurvivalDays))
		w.basis("month_pc", f.Survival.Basis, p)
		return g.echo["month_pc"].(float64)
	}
	b, _ := p.BreedingOf(w.speciesOf(g, p).Key)
	stage := g.wordOr("stage", "adults", "hatchlings", "young", "adults")
	loss := map[string]checklists.Span{"hatchlings": b.HatchlingLoss, "young": b.JuvenileLoss, "adults": b.AdultLoss}[stage]
	g.echo["month_pc"] = 100 * loss.Typical
	w.basis("month_pc", loss.Basis, p)
	return 100 * loss.Typical
}

// daysPerMonth is the mean month of the civil calendar.
const daysPerMonth = 30.4375

// weekly is the share lost a week of a loss in % a month.
func weekly(monthPc float64) float64 { return 1 - math.Pow(1-monthPc/100, 7/daysPerMonth) }
