package programme

import "math"

// Animals that were slow while young stay slow. Where a milestone is read by
// weight and the next one too, both share the animals' pace: a Gaussian copula
// ties the levels that the two durations have in their laws (Sklar's theorem;
// a textbook result, from memory), so that the law of each alone stays what
// the pack says.

// paced is the milestone whose pace milestone i carries on, false when there
// is none.
func (n *Network) paced(i int) (int, bool) {
	x := &n.nodes[i]
	if x.Curve == nil || x.Curve.Carry == 0 {
		return 0, false
	}
	for _, a := range x.after {
		if c := n.nodes[a].Curve; c != nil && c.Reading == x.Curve.Reading {
			return a, true
		}
	}
	return 0, false
}

// paceBefore is the level of the milestone whose pace i carries on, false
// until that is done and both its days are known.
func (r *run) paceBefore(i int) (float64, bool) {
	a, ok := r.net.paced(i)
	if !ok || !r.sight.isFixed[a] || r.start(a).each != nil {
		return 0, false
	}
	took := r.clocks[a].count(r.sight.fixed[a]) - r.clocks[a].count(r.start(a).fixed)
	return r.net.nodes[a].law.normal(took), true
}

// carryOn draws milestone i, which lies ahead, at the pace that the readings
// of the one before it tell; false when they tell nothing.
func (r *run) carryOn(i int) bool {
	a, ok := r.net.paced(i)
	if !ok || !r.read[a] {
		return false
	}
	x, before := &r.net.nodes[i], &r.net.nodes[a].law
	own := math.Sqrt(1 - x.Curve.Carry*x.Curve.Carry)
	out := r.s.row()
	for k, rank := range r.draws.order(x.Key) {
		z := x.Curve.Carry*before.normal(r.took[a].at(k)) + own*normalAt(r.draws.level(rank))
		out[k] = x.law.atNormal(z)
	}
	r.took[i] = column{each: out}
	return true
}

// mostNormal bounds levels: beyond it a duration says no more of the pace.
const mostNormal = 6

// normal is the standard normal level of duration t in the law.
func (l law) normal(t float64) float64 {
	return min(max(math.Sqrt2*math.Erfcinv(2*l.survival(t)), -mostNormal), mostNormal)
}

// atNormal is the duration at a standard normal level, the inverse of normal.
func (l law) atNormal(z float64) float64 { return l.outlived(math.Erfc(z/math.Sqrt2) / 2) }

// normalAt is quantile u of the standard normal law.
func normalAt(u float64) float64 { return math.Sqrt2 * math.Erfinv(2*u-1) }

// tie is the logarithm of the Gaussian copula's density at levels x and y, up
// to a constant.
func tie(rho, x, y float64) float64 {
	return -(rho*rho*(x*x+y*y) - 2*rho*x*y) / (2 * (1 - rho*rho))
}
