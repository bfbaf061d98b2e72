package truth

import "math"

// Cover of the ground by plants, in per cent, when the share p of the growth
// to a stockable house is done: Gompertz's curve through the bare bed and the
// ready one. Packs use broken lines; a family of its own keeps the rules from
// being tested against themselves. How late the leaves come is a guess.
const coverReady = 80.0

var plants = gompertz{5.5, 3.3}

// Cover is the true plant cover at progress p.
func Cover(p float64) float64 { return coverReady * plants.at(max(p, 0)) }

// gompertz is exp(-b exp(-a p)), moved and stretched to rise from 0 at p=0 to
// 1 at p=1; it goes on flattening beyond.
type gompertz struct{ b, a float64 }

func (g gompertz) at(p float64) float64 {
	low, high := math.Exp(-g.b), math.Exp(-g.b*math.Exp(-g.a))
	return (math.Exp(-g.b*math.Exp(-g.a*p)) - low) / (high - low)
}

// Herd is what is stocked and how it lives.
type Herd struct {
	Curve    gompertz // of the mean weight, on the way to market
	Young    gompertz // of home-bred young until they are sorted out
	SortedAt float64  // progress at which they are, 0 = no home-bred young
	FromG    float64  // median weight at which growth begins: at stocking, or at hatching
	FromSD   float64  // of its logarithm, between farms
	SortedG  float64  // weight at which the young are sorted out
	AdultG   float64  // median weight of stocked breeders
	MarketG  float64
	Count    float64 // median stocked
	CountSD  float64 // of its logarithm
	Spread   float64 // of single animals, as a share of the mean
	Hazard   float64 // share that dies in a day once settled, median farm
	Frailty  float64 // standard deviation of the logarithm between farms
	NewTimes float64 // hazard in the first two weeks, as a multiple
}

// growers: young Archachatina marginata of 35 g to 220 g; the curve is fitted
// to the planning curve of the snail reference (section 3b, 4 to 18 months).
// Deaths: 2 % a month for grown ones, 4 % for young ones (planning guesses of
// section 4; nothing published could be read).
var growers = Herd{
	Curve: gompertz{.3, .6}, FromG: 35, FromSD: .15, MarketG: 220, Count: 600, CountSD: .5,
	Spread: .22, Hazard: .0008, Frailty: .4, NewTimes: 2.5,
}

// breeders: adults are stocked; the young grow from 2.5 g at hatching to 35 g
// in four of eighteen months (curve fitted to the same table, 0 to 4 months)
// and on to market. Count and deaths are of the adults.
var breeders = Herd{
	Curve: gompertz{.3, .6}, Young: gompertz{5.1, 1.85}, SortedAt: 4. / 18,
	FromG: 2.5, FromSD: .10, SortedG: 35, AdultG: 250, MarketG: 220, Count: 120, CountSD: .4,
	Spread: .25, Hazard: .0006, Frailty: .4, NewTimes: 2.5,
}

// fish: Gompertz is the best shape for young Clarias (WAS paper 158986,
// catfish reference section 3), here fitted to the growth that the feed curve
// of section 4b gives at 1.2 kg of feed a kg. 85 % are alive after 185 days
// (section 5), more of the deaths in the first two weeks.
var fish = Herd{
	Curve: gompertz{5.7, 1.5}, FromG: 9, FromSD: .2, MarketG: 600, Count: 1500, CountSD: .5,
	Spread: .20, Hazard: .0007, Frailty: .4, NewTimes: 4,
}

// Weight is the true mean weight at progress p from a first weight.
func (h *Herd) Weight(from, p float64) float64 {
	p = max(p, 0)
	switch {
	case h.SortedAt == 0:
		return from + (h.MarketG-from)*h.Curve.at(p)
	case p < h.SortedAt:
		return from + (h.SortedG-from)*h.Young.at(p/h.SortedAt)
	default:
		return h.SortedG + (h.MarketG-h.SortedG)*h.Curve.at((p-h.SortedAt)/(1-h.SortedAt))
	}
}
