package programme

import "math"

// A reading says how far a living milestone is, and so how long it will take
// in all: where the curve passes the reading after share x of the duration,
// the duration is the days gone divided by x. The posterior of the duration
// is worked out on a grid of its own and each draw moves to the same level
// of it. So the draws keep their order and their equal weights, however
// sharp or odd the readings are, and all that follows stays one forward pass.

// mark is a reading placed on its milestone's clock.
type mark struct {
	gone  float64 // days since the start
	value float64
	n     float64 // animals weighed
	sd    float64 // spread in the sample, 0 = not known
}

// readOpen conditions an open milestone on its readings and the pace it
// carries on as well as on the days waited; false when it has neither.
func (r *run) readOpen(i int, start, waited float64) bool {
	x := &r.net.nodes[i]
	curve, ok := r.net.curve(i, r.sight.known.StockedG)
	if !ok {
		return false
	}
	marks := r.marks(i, curve, start)
	before, carried := r.paceBefore(i)
	if len(marks) == 0 && !carried {
		return false
	}
	fit := func(t float64) float64 { return curve.fit(t, marks) }
	if carried {
		fit = func(t float64) float64 { return curve.fit(t, marks) + tie(curve.Carry, x.law.normal(t), before) }
	}
	levels := posterior(x.law, waited, fit).levels(r.s.row())
	out := r.s.row()
	for k, rank := range r.draws.order(x.Key) {
		out[k] = levels[rank]
	}
	r.took[i] = column{each: out}
	if curve.Reading == Weight {
		r.slump = curve.slump(marks, x.law.quantile(0.5), levels[len(levels)/2])
	}
	return true
}

// curve is the milestone's curve, false when it has none. What was stocked is
// the better first reading when the milestone follows on stocking alone.
// Animals stocked at their last weight leave no curve to read.
func (n *Network) curve(i int, stockedG float64) (Curve, bool) {
	x := &n.nodes[i]
	if x.Curve == nil {
		return Curve{}, false
	}
	c := *x.Curve
	if c.Reading == Weight && stockedG > 0 && len(x.after) == 1 && x.after[0] == n.stocking {
		c.From = stockedG
	}
	return c, c.To > c.From
}

// marks are the readings of a curve taken since its milestone started.
func (r *run) marks(i int, c Curve, start float64) []mark {
	var out []mark
	begin := r.clocks[i].count(start)
	for _, x := range r.sight.known.Readings {
		if x.Kind != c.Reading || x.On > r.sight.on || !within(x.Value, 0, math.MaxFloat32) {
			continue
		}
		if gone := r.clocks[i].count(float64(x.On)) - begin; gone > 0 {
			out = append(out, mark{gone: gone, value: x.Value, n: float64(x.N), sd: x.SD})
		}
	}
	return out
}

// fit is the logarithm of how well duration t fits the readings, up to a
// constant. Errors follow Student's t with five degrees of freedom rather
// than a normal law, so that one mistyped weight is doubted before all others
// are (common practice in robust statistics; five is our choice).
func (c Curve) fit(t float64, marks []mark) float64 {
	var log float64
	product := 1.0 // one logarithm for many readings: this is the inner loop
	for _, m := range marks {
		mean := c.From + (c.To-c.From)*c.share(m.gone/t)
		variance := c.variance(mean, m)
		miss := m.value - mean
		q := 1 + miss*miss/(5*variance)
		product *= q * q * q * math.Sqrt(variance)
		if product > 1e100 || product < 1e-100 {
			log, product = log-math.Log(product), 1
		}
	}
	return log - math.Log(product)
}

// variance of one reading: its own error, and that of a mean of n animals.
func (c Curve) variance(mean float64, m mark) float64 {
	out := c.SD*c.SD + c.CV*c.CV*mean*mean
	if m.n > 0 {
		spread := m.sd
		if spread <= 0 {
			spread = c.SpreadCV * mean
		}
		out += spread * spread / m.n
	}
	return max(out, 1e-12)
}

// share is the share of the way after share x of the time, straight between
// the points.
func (c Curve) share(x float64) float64 {
	if x >= 1 {
		return 1
	}
	if len(c.Shape) == 0 {
		return max(x, 0)
	}
	i := 1
	for c.Shape[i].Time < x {
		i++
	}
	a, b := c.Shape[i-1], c.Shape[i]
	return a.Share + (b.Share-a.Share)*(x-a.Time)/(b.Time-a.Time)
}

// cells is the fineness of the grid: with it, levels agree with brute force
// within a tenth of a day.
const cells = 192

// grid holds a law of durations as the mass of cells.
type grid struct {
	edge [cells + 1]float64
	mass [cells]float64
}

// posterior is the law of a duration beyond e days given a log-likelihood:
// a rough grid first, fine where the law is thin and coarse where it is
// thick alike, then a fine one where the mass turned out to be.
func posterior(l law, e float64, fit func(float64) float64) *grid {
	low := max(e, l.min)
	full := 1.0 // P(T >= low): all of it, were it not for what is past e
	if e > l.min {
		full = l.survival(e)
	}
	g := &grid{}
	for j := range g.edge {
		x := float64(j) / cells
		g.edge[j] = max(low, l.beyond(e, -math.Expm1(-deepest*x*x)))
	}
	g.weigh(l, full, fit)
	first, last := g.core()
	if first > 0 {
		full = l.survival(g.edge[first])
	}
	from, to := g.edge[first], g.edge[last+1]
	for j := range g.edge {
		g.edge[j] = from + (to-from)*float64(j)/cells
	}
	g.weigh(l, full, fit)
	return g
}

// deepest is how far into the tail the grid goes: to where e^-21, one in a
// thousand million, outlives.
const deepest = 21

// weigh fills in the masses: the law's of each cell times the likelihood at
// its middle. full is the law's mass from the first edge on, which counts
// what a law without width puts on a single day.
func (g *grid) weigh(l law, full float64, fit func(float64) float64) {
	best := math.Inf(-1)
	for j := range g.mass {
		g.mass[j] = fit((g.edge[j] + g.edge[j+1]) / 2)
		best = max(best, g.mass[j])
	}
	before := full
	for j := range g.mass {
		after := l.survival(g.edge[j+1])
		g.mass[j] = max(0, before-after) * math.Exp(g.mass[j]-best)
		before = after
	}
}

// core is the first and last cell that matter, with one beside them.
func (g *grid) core() (first, last int) {
	var most float64
	for _, m := range g.mass {
		most = max(most, m)
	}
	first, last = 0, cells-1
	for first < last && g.mass[first] <= most*1e-6 {
		first++
	}
	for last > first && g.mass[last] <= most*1e-6 {
		last--
	}
	return max(first-1, 0), min(last+1, cells-1)
}

// levels fills out with the durations at the midpoints of equal slices of
// probability, ascending.
func (g *grid) levels(out []float64) []float64 {
	var total float64
	for _, m := range g.mass {
		total += m
	}
	j, upTo := 0, 0.0
	for r := range out {
		want := (float64(r) + 0.5) / float64(len(out)) * total
		for j < cells-1 && upTo+g.mass[j] < want {
			upTo += g.mass[j]
			j++
		}
		within := 0.0
		if g.mass[j] > 0 {
			within = min((want-upTo)/g.mass[j], 1)
		}
		out[r] = g.edge[j] + within*(g.edge[j+1]-g.edge[j])
	}
	return out
}

// coverLate is P(the open milestone read by cover ends CoverLateDays or more
// after its own P50).
func (r *run) coverLate() float64 {
	var worst float64
	for i := range r.net.nodes {
		if !r.read[i] || r.net.nodes[i].Curve.Reading != Cover {
			continue
		}
		start := r.s.quantile(r.start(i), 0.5)
		limit := r.end(i, start, r.net.nodes[i].law.quantile(0.5)) + CoverLateDays
		late := make([]bool, r.draws.n)
		for k := range late {
			late[k] = r.done[i].at(k) >= limit
		}
		worst = max(worst, share(late))
	}
	return worst
}

// growthLate is by how many days the weights move the P50 of the harvest
// against what the law says from the actual stocking.
func (r *run) growthLate(own *pass, toStocking float64) int {
	weighed := false
	for i := range r.net.nodes {
		weighed = weighed || (r.read[i] && r.net.nodes[i].Curve.Reading == Weight)
	}
	if !weighed {
		return 0
	}
	return whole(r.exchanged(own, func(i int) bool {
		x := &r.net.nodes[i]
		return !x.toStocking && (x.Curve == nil || x.Curve.Reading != Weight)
	}) - toStocking)
}
