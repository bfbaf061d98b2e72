package truth

import (
	"math"
	"slices"
)

// Course is what really happens on a farm, from its start to the first
// harvest and a little beyond.
type Course struct {
	Farm   *Farm
	Faults []Fault
	// Done is the day after Start on which each step ended, by its place.
	Done     []int
	begun    []int     // the day on which each step's predecessors were done
	coverAt  coverLaw  // zero for plans without plants
	growFrom int       // day from which animals grow
	growth   []float64 // progress at the start of each day from growFrom
	alive    []int     // animals at the start of each day from stocking
	deaths   []int     // on each day from stocking
	silences []span
}

type span struct{ from, to int } // to is the first day after

func (s span) has(day int) bool { return s.from <= day && day < s.to }

// Run is the farm's course with these faults. The luck is the same whatever
// the faults are.
func (f *Farm) Run(faults []Fault) *Course {
	n := len(f.Plan.Steps)
	c := &Course{Farm: f, Faults: faults, Done: make([]int, n), begun: make([]int, n)}
	for _, x := range faults {
		if x.Kind == SilentFarm {
			c.silences = append(c.silences, span{x.From, x.From + x.Days})
		}
	}
	for i := range f.Plan.Steps {
		c.walk(i)
	}
	c.live()
	return c
}

// walk works out the end of one step; those before it are known.
func (c *Course) walk(i int) {
	f, st := c.Farm, &c.Farm.Plan.Steps[i]
	for _, p := range st.After {
		c.begun[i] = max(c.begun[i], c.Done[p])
	}
	switch st.Nature {
	case Doing:
		c.Done[i] = c.work(c.begun[i], f.days[i]+c.delay(st.Name))
	case Fixed:
		c.Done[i] = c.begun[i] + max(1, round(f.days[i]))
	case Covers:
		c.coverAt = coverLaw{from: c.begun[i], days: f.days[i] / c.factor(SlowCover), rates: f.leaves}
		c.Done[i] = c.coverAt.ready()
	case Waits:
		c.Done[i] = round(f.rates.after(float64(c.begun[i]), f.days[i]))
	case Passes:
		c.Done[i] = c.passes(f.Plan.Herd.SortedAt)
	case Fattens:
		c.grow(c.begun[i], f.days[i])
		c.Done[i] = c.growFrom + len(c.growth) - 1 + max(0, round(f.sale))
	}
	if x := c.fault(GoAheadSkipped); x != nil && st.Name == Stocked {
		c.Done[i] = max(c.Done[f.Plan.At(f.Plan.stockStep())]+1, c.Done[i]-x.Days)
	}
	if st.Closed {
		c.Done[i] = int(f.Plan.Season.open(f.Start, float64(c.Done[i])))
	}
}

// stockStep is the step without which there is nothing to stock.
func (p *Plan) stockStep() string {
	if p.At(Ordered) >= 0 {
		return Ordered
	}
	return Filled
}

func round(x float64) int { return int(math.Floor(x + 0.5)) }

// work is the day on which work of so many days ends: it stands still while
// nobody is there.
func (c *Course) work(from int, days float64) int {
	end := from + max(0, round(days))
	silences := slices.Clone(c.silences)
	slices.SortFunc(silences, func(a, b span) int { return a.from - b.from })
	for _, s := range silences {
		if start := max(s.from, from); start < end && start < s.to {
			end += s.to - start
		}
	}
	return end
}

// fault is the course's fault of a kind, nil when it has none.
func (c *Course) fault(k Kind) *Fault {
	for i := range c.Faults {
		if c.Faults[i].Kind == k {
			return &c.Faults[i]
		}
	}
	return nil
}

func (c *Course) factor(k Kind) float64 {
	if x := c.fault(k); x != nil {
		return x.Factor
	}
	return 1
}

// delay is how much longer the faults make a step of work.
func (c *Course) delay(step string) float64 {
	days := 0
	for _, x := range c.Faults {
		if k := x.Kind; k.Step() == step && k != SlowCover && k != GoAheadSkipped {
			days += x.Days
		}
	}
	return float64(days)
}

// coverLaw is the growth of plants from a day on, in so many average days.
type coverLaw struct {
	from  int
	days  float64
	rates rates
}

func (l coverLaw) ready() int { return round(l.rates.after(float64(l.from), l.days)) }

func (l coverLaw) progress(day float64) float64 {
	return (l.rates.at(day) - l.rates.at(float64(l.from))) / l.days
}

// grow fills in the progress of the animals, day by day, until they have
// reached market weight.
func (c *Course) grow(from int, days float64) {
	c.growFrom = from
	c.growth = []float64{0}
	p := 0.0
	for d := from; p < 1 && d < from+horizon; d++ {
		step := c.Farm.rates.at(float64(d+1)) - c.Farm.rates.at(float64(d))
		p += step * c.feeding(d) / days
		c.growth = append(c.growth, p)
	}
}

// passes is the day on which the animals' progress reaches p.
func (c *Course) passes(p float64) int {
	day := c.growFrom
	for c.grown(day) < p && day < c.growFrom+len(c.growth) {
		day++
	}
	return day
}

// feeding is by how much faults slow the animals' growth on a day.
func (c *Course) feeding(day int) float64 {
	g := 1.0
	for _, x := range c.Faults {
		switch x.Kind {
		case SlowGrowth:
			g *= x.Factor
		case PoorFeed:
			if (span{c.growFrom + x.From, c.growFrom + x.From + x.Days}).has(day) {
				g *= x.Factor
			}
		case SilentFarm:
			if (span{x.From, x.From + x.Days}).has(day) {
				g *= silentGrowth
			}
		case GoAheadSkipped:
			if (span{c.stocked(), c.stocked() + skipSpan}).has(day) {
				g *= skipGrowth
			}
		case Overcrowding:
			g *= crowdedGrowth
		}
	}
	return g
}

// stocked is the day of stocking.
func (c *Course) stocked() int { return c.Done[c.Farm.Plan.At(Stocked)] }

// Stocked is the day of stocking, in days after Start.
func (c *Course) Stocked() int { return c.stocked() }

// Harvest is the day of the first harvest, in days after Start.
func (c *Course) Harvest() int { return c.Done[c.Farm.Plan.At(Harvest)] }

// live fills in the animals day by day until the first harvest.
func (c *Course) live() {
	from, to := c.stocked(), c.Harvest()
	n := c.Farm.count
	if x := c.fault(Overcrowding); x != nil {
		n = int(float64(n) * x.Factor)
	}
	luck := c.Farm.luck.Sub("deaths")
	for d := from; d <= to; d++ {
		dead := poissonQuantile(luck.U(d), float64(n)*c.hazard(d))
		if x := c.fault(DieOff); x != nil && d == from+x.From {
			dead += int(float64(n) * x.Factor)
		}
		dead = min(dead, n)
		c.alive, c.deaths = append(c.alive, n), append(c.deaths, dead)
		n -= dead
	}
}

// hazard is the share of animals that die on a day.
func (c *Course) hazard(day int) float64 {
	f := c.Farm
	h := f.Plan.Herd.Hazard * f.frailty * f.Plan.Season.Hazard[f.Start.Add(day).Month()-1]
	since := day - c.stocked()
	if since < 14 {
		h *= f.Plan.Herd.NewTimes
	}
	for _, x := range c.Faults {
		switch {
		case x.Kind == SilentFarm && (span{x.From, x.From + x.Days}).has(day):
			h *= silentHazard
		case x.Kind == GoAheadSkipped && since < skipSpan:
			h *= x.Factor
		case x.Kind == PumpFailure && (span{x.From, x.From + x.Days}).has(since):
			h *= x.Factor
		case x.Kind == Overcrowding:
			h *= crowdedHazard
		}
	}
	return min(h, 0.5)
}

// Alive is the number of animals at the end of a day.
func (c *Course) Alive(day int) int {
	i := day - c.stocked()
	if i < 0 {
		return 0
	}
	if i >= len(c.alive) {
		i = len(c.alive) - 1
	}
	return c.alive[i] - c.deaths[i]
}

// Deaths is the number of animals that die on a day.
func (c *Course) Deaths(day int) int {
	if i := day - c.stocked(); i >= 0 && i < len(c.deaths) {
		return c.deaths[i]
	}
	return 0
}

// grown is the progress of the animals at the start of a day.
func (c *Course) grown(day int) float64 {
	i := day - c.growFrom
	if i < 0 {
		return 0
	}
	return c.growth[min(i, len(c.growth)-1)]
}

// Weight is the true mean weight on a day, in g; 0 before there is growth to
// weigh.
func (c *Course) Weight(day int) float64 {
	if day < c.growFrom {
		return 0
	}
	return c.Farm.Plan.Herd.Weight(c.Farm.fromG, c.grown(day))
}

// CoverAt is the true plant cover on a day in per cent, 0 before planting.
func (c *Course) CoverAt(day int) float64 {
	if c.coverAt.days == 0 || day < c.coverAt.from {
		return 0
	}
	return Cover(c.coverAt.progress(float64(day)))
}

// silent says whether nobody is there on a day.
func (c *Course) silent(day int) bool {
	return slices.ContainsFunc(c.silences, func(s span) bool { return s.has(day) })
}
