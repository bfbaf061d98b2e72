package stock

import "math"

// Bare is the sum that the trade makes, beside what the floor can carry.
type Bare struct {
	Animals float64 `json:"animals"`  // adults x layings a year x eggs
	MarketG float64 `json:"market_g"` // weight at which the room is counted
	Room    Band    `json:"room"`     // animals of market weight that the floor carries
	Times   float64 `json:"times"`    // the sum against the likely room
	// Reason is why the sum cannot come true: "floor" when the room is the
	// smaller, "" when it is not.
	Reason string `json:"reason,omitempty"`
}

// BareSum is adults x layings x eggs: no egg fails, nothing dies, nothing
// crowds. It is never a prior of anything.
func BareSum(adults, layings, eggs, floorM2 float64, capacity Span, marketG float64) Bare {
	room := func(kg float64) float64 { return kg * floorM2 * 1000 / marketG }
	b := Bare{
		Animals: adults * layings * eggs, MarketG: marketG,
		Room: Band{room(capacity.Low), room(capacity.Likely), room(capacity.High)},
	}
	if b.Room.Likely > 0 {
		b.Times = b.Animals / b.Room.Likely
	}
	if b.Animals > b.Room.High {
		b.Reason = "floor"
	}
	return b
}

// Money is what an owner has entered, in minor units of one currency
// (cents; whole francs where there are none).
type Money struct {
	Revenue  int64 `json:"revenue"`
	Variable int64 `json:"variable"` // costs that grow with the animals: stock, feed
	Fixed    int64 `json:"fixed"`    // costs that do not
}

// Result is what is left.
type Result struct {
	GrossMargin int64   `json:"gross_margin"` // revenue less variable costs
	TotalCost   int64   `json:"total_cost"`
	Net         int64   `json:"net"`
	PerCost     float64 `json:"net_per_cost"` // net for every one spent, 0 when nothing was
}

// Result works out what is left, exactly.
func (m Money) Result() Result {
	r := Result{GrossMargin: m.Revenue - m.Variable, TotalCost: m.Variable + m.Fixed}
	r.Net = m.Revenue - r.TotalCost
	if r.TotalCost != 0 {
		r.PerCost = float64(r.Net) / float64(r.TotalCost)
	}
	return r
}

// Prices are what an owner expects, in minor units of one currency.
type Prices struct {
	PerAnimal int64 `json:"per_animal"`
	PerKg     int64 `json:"per_kg"`
	DryFeedKg int64 `json:"dry_feed_kg"`
	Once      int64 `json:"once"`
	AMonth    int64 `json:"a_month"`
}

// Takings are what the sales of the points from a place on bring by these
// prices, as a band: each month's low, likely and high added up, which is
// wider than the sum can be. Costs use the likely feed.
func (p Prices) Takings(points []Point) (low, likely, high Result) {
	var m [3]Money
	for _, point := range points {
		for i, get := range [3]func(Band) float64{
			func(b Band) float64 { return b.Low }, func(b Band) float64 { return b.Likely }, func(b Band) float64 { return b.High },
		} {
			m[i].Revenue += whole(get(point.Sold)*float64(p.PerAnimal) + get(point.SoldKg)*float64(p.PerKg))
			m[i].Variable += whole(point.DryKg.Likely * float64(point.Weeks) * float64(p.DryFeedKg))
			m[i].Fixed += p.AMonth
		}
	}
	for i := range m {
		m[i].Fixed += p.Once
	}
	return m[0].Result(), m[1].Result(), m[2].Result()
}

func whole(x float64) int64 { return int64(math.Round(min(max(x, -9e15), 9e15))) }

// LifeTable is what survival and births by age say of a population.
type LifeTable struct {
	R0 float64 `json:"r0"` // births of one newborn in its life
	T  float64 `json:"t"`  // mean age of mothers at birth, in steps
	R  float64 `json:"r"`  // ln(R0) / T, near the rate of growth a step
}

// LifeTableOf reads survival to an age and births at it, from age 0. All zero
// when nothing is born.
func LifeTableOf(survival, births []float64) LifeTable {
	var l LifeTable
	for x := range min(len(survival), len(births)) {
		l.R0 += survival[x] * births[x]
		l.T += float64(x) * survival[x] * births[x]
	}
	if l.R0 > 0 {
		l.T /= l.R0
	}
	if l.T > 0 {
		l.R = math.Log(l.R0) / l.T
	}
	return l
}
