package truth

import (
	"math"

	"tendfold/domain/calendar"
)

// Face is what everybody may know of a farm on its first day.
type Face struct {
	Seed  uint64
	Index int
	Plan  *Plan
	World World
	Start calendar.Date // handover of the finished house or tank
}

// Farm is a face and the luck behind it. The luck is private to this package.
type Farm struct {
	Face
	luck     Stream
	days     []float64 // duration of each step without faults; growth in average days
	sale     float64   // days from grown to sold
	fromG    float64   // mean weight at which growth begins
	stockG   float64   // mean weight of what is stocked
	count    int       // animals to be stocked
	frailty  float64   // of deaths
	keeper   keeper
	rates    rates // animals' growth possible since Start, by day
	leaves   rates // the same for plants
	faultier bool  // one of the farms that may get faults
}

// rho is the share of a step's spread that the whole farm has in common: a
// slow farm is slow in everything.
const rho = 0.3

// horizon is how many days a course may take before it is cut short.
const horizon = 1600

// faultless is the share of farms that never get a fault.
const faultless = 0.45

// Land is a firm's farms: the same seed gives the same land.
type Land struct {
	Seed  uint64
	World World
	First calendar.Date // the first farm's start at the earliest
	plans []*Plan
}

// NewLand prepares the laws that its farms share.
func NewLand(seed uint64, world World, first calendar.Date) *Land {
	return &Land{Seed: seed, World: world, First: first, plans: Plans()}
}

// mix of plans: two thirds snail houses, the rest catfish tanks; a quarter of
// the snail houses breed (guess).
var shares = []float64{0.50, 0.17, 0.33}

// Farm is the farm of an index. Farms without faults are spread evenly over
// the indices by the golden ratio, so that any run of them has its share.
func (l *Land) Farm(index int) *Farm {
	luck := NewStream(l.Seed, index)
	f := &Farm{Face: Face{Seed: l.Seed, Index: index, World: l.World}, luck: luck}
	f.Plan = l.plans[choose(luck.Sub("plan").U(0), shares)]
	f.Start = l.First.Add(startDay(f.Plan, luck.Sub("start")))
	_, golden := math.Modf(float64(index) * math.Phi)
	f.faultier = golden >= faultless
	f.rates = sums(&f.Plan.Season.Rate, f.Start, horizon)
	f.leaves = sums(&f.Plan.Season.Plants, f.Start, horizon)
	f.draw()
	return f
}

// choose is the place at which the cumulative weights pass u of their sum.
func choose(u float64, weights []float64) int {
	sum := 0.0
	for _, w := range weights {
		sum += w
	}
	for i, w := range weights {
		if u -= w / sum; u < 0 {
			return i
		}
	}
	return len(weights) - 1
}

// planting is how willingly snail houses are finished in each month: pens are
// prepared shortly before the rains (snail reference section 8); by month a
// guess.
var planting = []float64{.6, 1.2, 1.5, 1.3, 1.1, 1, 1, .9, .7, .4, .2, .3}

// startDay is a day of the first year.
func startDay(p *Plan, s Stream) int {
	if p.Enterprise != "snail" {
		return int(s.Between(0, 0, 365))
	}
	month := choose(s.U(0), planting)
	return int((float64(month) + s.U(1)) * 365 / 12)
}

// draw is the farm's luck without faults.
func (f *Farm) draw() {
	s, w := f.luck.Sub("steps"), f.World.factor()
	effect := f.luck.Sub("farm").N(0)
	f.days = make([]float64, len(f.Plan.Steps))
	for i := range f.Plan.Steps {
		st := &f.Plan.Steps[i]
		z := math.Sqrt(rho)*effect + math.Sqrt(1-rho)*s.N(i)
		if st.Nature == Fixed {
			z = s.N(i)
		}
		f.days[i] = (st.median(f.World) - st.sale(f.World)) * math.Exp(st.Sigma*z)
		if st.Sale > 0 {
			f.sale = f.luck.Sub("sale").LogNormal(0, st.sale(f.World), .5)
		}
	}
	h, herd := f.Plan.Herd, f.luck.Sub("herd")
	f.fromG = herd.LogNormal(0, h.FromG, h.FromSD)
	f.stockG = f.fromG
	if h.AdultG > 0 {
		f.stockG = herd.LogNormal(3, h.AdultG, h.FromSD)
	}
	f.count = max(20, int(herd.LogNormal(1, h.Count, h.CountSD)))
	f.frailty = herd.LogNormal(2, w, h.Frailty)
	f.keeper = newKeeper(f.luck.Sub("keeper"))
}

// StockedCount is how many animals the farm means to stock.
func (f *Farm) StockedCount() int { return f.count }
