package truth

import "math"

// herds is how many growths of the animals the reader imagines.
const herds = 600

// rear is one imagined growth: its length in average days, and a fault.
type rear struct {
	kind   Kind // SlowGrowth, PoorFeed or "" for none
	days   float64
	factor float64
	from   int // PoorFeed: days after the start of growth
	span   int
	weight float64 // its chance in relation to the others
}

// seesGrowth says whether the animals are held to be seven days late at the
// harvest (slow growth), or a drop of their rate to have cost as much (poor
// feed), by the weights and by the time gone.
func (r *reader) seesGrowth(k Case, day int) bool {
	from, ok := r.growsFrom()
	if !ok || day < from {
		return false
	}
	if r.flock == nil {
		r.flock = r.imagineGrowth(from)
	}
	usual := r.usualGrowth()
	sum, late := 0.0, 0.0
	for n := range r.flock {
		x := &r.flock[n]
		if x.progress(day-from-15, r.rates, from) >= 1 {
			continue // it would have been sold, and told, by now
		}
		sum += x.weight
		if x.late(k.Kind, usual, day-from, r.rates, from) {
			late += x.weight
		}
	}
	return sum > 0 && late >= sure*sum
}

// usualGrowth is the median of the growth, in average days.
func (r *reader) usualGrowth() float64 {
	st := &r.Plan.Steps[r.Plan.At(Harvest)]
	return st.median(r.World) - st.sale(r.World)
}

// imagineGrowth draws growths and weighs them by the samples.
func (r *reader) imagineGrowth(from int) []rear {
	mean, variance := r.effect()
	sigma, dice := r.Plan.Steps[r.Plan.At(Harvest)].Sigma, r.luck.Sub("rear")
	all, like, best := make([]rear, herds), make([]float64, herds), math.Inf(-1)
	for n := range all {
		all[n] = r.rear(dice.At(n), r.usualGrowth(), sigma, mean, math.Sqrt(variance))
		like[n] = r.likeWeights(&all[n], from)
		best = max(best, like[n])
	}
	for n := range all {
		all[n].weight *= math.Exp(like[n] - best)
	}
	return all
}

// growsFrom is the day from which animals grow, when the server knows it.
func (r *reader) growsFrom() (int, bool) {
	harvest := r.Plan.At(Harvest)
	return r.start(harvest)
}

// rear draws one growth; faults are drawn more often than they strike and
// weighed back, so that the few thousand imagined suffice.
func (r *reader) rear(s Stream, usual, sigma, mean, sd float64) rear {
	z := math.Sqrt(rho)*(mean+sd*s.N(0)) + math.Sqrt(1-rho)*s.N(1)
	x := rear{days: usual * math.Exp(sigma*z), factor: 1, weight: (1 - 2*faultPrior) * 3}
	switch u := s.U(2); {
	case u < 1./3:
		x.kind, x.factor, x.weight = SlowGrowth, s.Between(3, growthLow, growthHigh), faultPrior*3
	case u < 2./3:
		x.kind, x.factor, x.weight = PoorFeed, s.Between(3, feedLow, feedHigh), faultPrior*3
		x.from = 15 + int(s.U(4)*usual*.8)
		x.span = int(s.Between(5, feedShort, feedLong))
	}
	return x
}

// lost is how many average days poor feed has cost by a day of the growth.
func (x *rear) lost(since int, rates rates, from int) float64 {
	a, b := min(since, x.from), min(since, x.from+x.span)
	return (1 - x.factor) * (rates.at(float64(from+b)) - rates.at(float64(from+a)))
}

// progress is the share of the growth done on a day of it.
func (x *rear) progress(since int, rates rates, from int) float64 {
	gone := rates.at(float64(from+since)) - rates.at(float64(from))
	switch x.kind {
	case SlowGrowth:
		gone *= x.factor
	case PoorFeed:
		gone -= x.lost(since, rates, from)
	}
	return gone / x.days
}

// late says whether the growth fits what is asked: for slow growth a harvest
// seven days after the usual, for poor feed a drop that costs seven.
func (x *rear) late(k Kind, usual float64, since int, rates rates, from int) bool {
	cost := 0.0
	switch {
	case x.kind == SlowGrowth:
		cost = x.days/x.factor - x.days
	case x.kind == PoorFeed && x.from < since:
		cost = x.lost(farAway, rates, from)
	}
	if k == PoorFeed {
		return cost >= 7
	}
	return x.days+cost-usual >= 7
}

// likeWeights is the log-likelihood of the samples.
func (r *reader) likeWeights(x *rear, from int) float64 {
	like := 0.0
	herd := &r.Plan.Herd
	for _, w := range r.weighs {
		if w.day <= from || w.value <= 0 {
			continue
		}
		want := herd.Weight(r.fromG, x.progress(w.day-from, r.rates, from))
		v := weighErr*weighErr + weighScale*weighScale + herd.Spread*herd.Spread/float64(w.n)
		z := math.Log(w.value / want)
		like += math.Log((1-slip)*math.Exp(-z*z/(2*v))/math.Sqrt(2*math.Pi*v) + slip/4)
	}
	return like
}
