package deaths

import (
	"math"

	"tendfold/domain"
	"tendfold/domain/husbandry"
)

// What the inputs may be.
var (
	Shape       = husbandry.Range{Low: 0.1, High: 1e7, Measure: "(deaths' worth of knowing)"}
	WeeklyRate  = husbandry.Range{Low: 1e-7, High: 1, Measure: "(share that dies, a week)"}
	Animals     = husbandry.Range{Low: 0, High: 1e7, Measure: "animals"}
	CoveredDays = husbandry.Range{Low: 0, High: 7, Measure: "days with an entry"}
	RunWeeks    = husbandry.Range{Low: 2, High: 10_000, Measure: "weeks"}
)

// Prior is what is known of a rate of deaths before a week is looked at: a
// gamma law by its shape, which is how many deaths the knowing is worth, and
// its mean, the share that dies a week.
type Prior struct {
	Shape float64
	Mean  float64
}

// After is the prior once so many deaths were seen over an exposure in
// animal-weeks.
func (p Prior) After(deaths, exposure float64) Prior {
	shape := p.Shape + deaths
	return Prior{shape, shape / (p.Shape/p.Mean + exposure)}
}

// Lent is the prior as another farm may start from: its mean, and no more
// certain than the cap. What a firm's other farms lose says where to begin and
// not that this farm is the same.
func (p Prior) Lent(most float64) Prior { return Prior{min(p.Shape, most), p.Mean} }

// Figures are the figures of a chart.
type Figures struct {
	RunWeeks float64 // weeks without a change until a false call, on average
	SeeWeeks float64 // within which a doubling must show, on average
	AtOnce   float64 // foul deaths a week that are a signal by themselves; 0 = none
	AtOncePc float64 // deaths on a day, % of the animals, that are one
}

func (f Figures) check() []*domain.Field {
	return []*domain.Field{
		RunWeeks.Within("run_weeks", f.RunWeeks), RunWeeks.Within("see_weeks", f.SeeWeeks),
		husbandry.Range{Low: 0, High: 1e6, Measure: "deaths a week"}.Within("at_once", f.AtOnce),
		husbandry.Range{Low: 0, High: 100, Measure: "% of the animals on a day"}.Within("at_once_pc", f.AtOncePc),
	}
}

// Week is what entries say of a week. A day without an entry is not a day
// without deaths: only Covered days count. Dormant snails are alive and belong
// to Animals; an entry that says they sleep covers its day.
type Week struct {
	Deaths  float64
	Foul    float64 // of these found foul
	Worst   float64 // deaths of the worst single day
	Animals float64 // alive when the week began
	Covered float64 // days with an entry
}

// exposure is in animal-weeks.
func (w Week) exposure() float64 { return w.Animals * w.Covered / 7 }

// Signal is why a week calls.
type Signal string

// The signals.
const (
	None    Signal = ""
	Doubled Signal = "doubled" // the climb passed its limit
	AtOnce  Signal = "at-once" // so many that nobody waits for a chart
)

// Point is the chart at the end of a week.
type Point struct {
	Expected float64 // deaths that the reference rate expects of the covered days
	Climb    float64 // S, in units of evidence
	Limit    float64 // h
	Signal   Signal
	Open     bool // a signal stands that has not cleared
	TooSmall bool // a doubling would not show within the figure's weeks
}

// clearDays is how many covered days below half the limit clear a signal.
const clearDays = 14

// Climb is one step of a one-sided sum: what goes beyond the allowance adds up,
// and it never falls below nothing (Page 1954).
func Climb(sum, value, allowance float64) float64 { return max(0, sum+value-allowance) }

// EWMA is the exponentially weighted mean that starts at the target; weight is
// that of the newest value (Roberts 1959).
func EWMA(values []float64, target, weight float64) []float64 {
	out, mean := make([]float64, len(values)), target
	for i, v := range values {
		mean += weight * (v - mean)
		out[i] = mean
	}
	return out
}

// Chart follows a unit week by week: a Poisson climb designed for a doubling of
// the reference rate (Lucas 1985). Weeks that stand quietly below half the limit
// join the reference; while a signal stands it is frozen. After a signal the
// climb starts again at half the limit, so that a rate that stays high calls
// again soon.
func Chart(prior Prior, weeks []Week, f Figures) ([]Point, Prior, error) {
	if err := checkChart(prior, weeks, f); err != nil {
		return nil, prior, err
	}
	c := chart{prior: prior, figures: f, designs: designs{}}
	out := make([]Point, len(weeks))
	for i, w := range weeks {
		out[i] = c.week(w)
	}
	return out, c.prior, nil
}

// mostWeeks bounds a chart: ten years.
const mostWeeks = 520

func checkChart(prior Prior, weeks []Week, f Figures) error {
	wrong := append(f.check(), Shape.Within("shape", prior.Shape), WeeklyRate.Within("rate_week", prior.Mean))
	if len(weeks) > mostWeeks {
		wrong = append(wrong, husbandry.Wrong("weeks", "has %d weeks; at most %d are charted", len(weeks), mostWeeks))
	}
	for _, w := range weeks {
		wrong = append(wrong,
			Deaths.Within("weeks.deaths", w.Deaths), Deaths.Within("weeks.foul", w.Foul), Deaths.Within("weeks.worst_day", w.Worst),
			Animals.Within("weeks.animals", w.Animals), CoveredDays.Within("weeks.covered_days", w.Covered))
		switch {
		case w.Deaths > 0 && w.Covered == 0:
			wrong = append(wrong, husbandry.Wrong("weeks.covered_days", "is 0 days, and there are deaths; who wrote them covered a day"))
		case w.Deaths > w.Animals:
			wrong = append(wrong, husbandry.Wrong("weeks.deaths", "is %v deaths of %v animals", w.Deaths, w.Animals))
		case w.Foul > w.Deaths || w.Worst > w.Deaths:
			wrong = append(wrong, husbandry.Wrong("weeks.deaths", "is %v deaths, fewer than the foul ones or those of the worst day", w.Deaths))
		}
	}
	return husbandry.Refuse(wrong...)
}

type chart struct {
	prior   Prior
	figures Figures
	designs designs
	sum     float64
	open    bool
	quiet   float64 // covered days below half the limit since a signal
}

func (c *chart) week(w Week) Point {
	exposure := w.exposure()
	p := Point{Expected: c.prior.Mean * exposure, Open: c.open, Climb: c.sum}
	if w.Covered == 0 || w.Animals == 0 {
		return p
	}
	d := c.designs.of(c.prior, c.prior.Mean*w.Animals, c.figures)
	p.Limit, p.TooSmall = d.Limit, d.TooSmall
	c.sum = Climb(c.sum, w.Deaths*math.Ln2, p.Expected)
	p.Climb = c.sum
	switch {
	case c.figures.atOnce(w):
		p.Signal = AtOnce
	case c.sum > d.Limit && !d.TooSmall:
		p.Signal = Doubled
	}
	c.settle(p.Signal, w, exposure, d.Limit/2)
	p.Open = c.open
	return p
}

func (f Figures) atOnce(w Week) bool {
	return f.AtOnce > 0 && w.Foul >= f.AtOnce || f.AtOncePc > 0 && w.Worst > 0 && w.Worst >= f.AtOncePc/100*w.Animals
}

// settle opens, clears and learns.
func (c *chart) settle(s Signal, w Week, exposure, half float64) {
	if s != None {
		c.open, c.quiet, c.sum = true, 0, half
		return
	}
	if c.sum >= half {
		c.quiet = 0
		return
	}
	if c.open {
		c.quiet += w.Covered
		c.open = c.quiet < clearDays
		return
	}
	c.prior = c.prior.After(w.Deaths, exposure)
}
