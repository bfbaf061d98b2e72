package stock

import "math"

// The dimensions of a run's parameters: each is a standard normal number.
const (
	zGrowth = iota
	zEggs
	zIncubation
	zHatch
	zHatchling
	zJuvenile
	zAdult
	zUnseen
	zMaturity
	zCapacity
	zTheta
	zPhi
	zBodies
	zFound
	zDry
	zFresh
	zCalcium
	zCount
	zLearned = zDry // what follows leaves no trace in counts, deaths, eggs or weights
)

// values is a run's place in the space of parameters.
type values [zCount]float64

// oldest is the growth age in steps after which an animal gains nothing.
const oldest = 159

// rates are a run's parameters, turned into what one step needs.
type rates struct {
	weight                 [oldest + 2]float64 // mean g at a growth age in steps
	eggs                   float64             // eggs an adult lays in a step
	clutch                 float64
	hatch                  float64
	wait                   int     // whole steps from laying to hatching
	later                  float64 // share that hatches a step after that
	infant                 float64 // growth age at which a hatchling is a juvenile
	young                  float64 // growth age at which a juvenile is a grower
	lays                   float64 // growth age at which the first of a cohort lay
	ramp                   float64 // 1 / steps from the first to the last
	hazard                 [3]float64
	unseen                 float64
	capacity               float64 // kg/m2
	theta                  float64
	phi                    float64
	foundBodies, foundEggs float64 // share found and written down
	dry                    float64 // kg a kg of animals in a step
	fresh                  float64
	calcium                float64 // kg a kg of dry feed
}

// Places in rates.hazard.
const (
	hatchling = iota
	juvenile
	adult
)

// prepared are the logarithms that every run would work out again.
type prepared struct {
	mid  [oldest + 1]float64
	low  [oldest + 1]float64 // spread of ln(weight) for one z, below and above
	high [oldest + 1]float64
}

// prepare lays the growth curve on steps of so many days.
func prepare(f Figures, days float64) *prepared {
	p := &prepared{}
	i := 1
	for k := range p.mid {
		months := float64(k) * days / DaysPerMonth
		for i < len(f.Growth)-1 && f.Growth[i].Months < months {
			i++
		}
		a, b := f.Growth[i-1], f.Growth[i]
		t := min((months-a.Months)/(b.Months-a.Months), 1)
		at := func(x, y float64) float64 { return math.Log(x)*(1-t) + math.Log(y)*t }
		p.mid[k] = at(a.Grams.Likely, b.Grams.Likely)
		p.low[k] = (p.mid[k] - at(a.Grams.Low, b.Grams.Low)) / at95
		p.high[k] = (at(a.Grams.High, b.Grams.High) - p.mid[k]) / at95
	}
	return p
}

// hazardOf turns a share lost in a month into a hazard a step.
func hazardOf(share, days float64) float64 { return -math.Log1p(-share) * days / DaysPerMonth }

// set makes the rates of one run of steps of so many days.
func (r *rates) set(f *Figures, p *prepared, z *values, days float64) {
	spread := &p.high
	if z[zGrowth] < 0 {
		spread = &p.low
	}
	for k := range p.mid {
		r.weight[k] = math.Exp(p.mid[k] + z[zGrowth]*spread[k])
	}
	r.weight[oldest+1] = r.weight[oldest]
	r.eggs = f.EggsYear.drawn(z[zEggs]) * days / 365.25
	r.clutch = f.ClutchEggs
	r.hatch = f.Hatch.share(z[zHatch])
	steps := min(f.IncubationDays.drawn(z[zIncubation])/days, nest-2)
	r.wait = int(steps)
	r.later = steps - float64(r.wait)
	r.infant = hatchlingMonths * DaysPerMonth / days
	r.young = f.JuvenileMonths * DaysPerMonth / days
	ripe := f.MaturityMonths.drawn(z[zMaturity]) * DaysPerMonth / days
	// Weight varies by the cv, and an animal lays at a weight more than at a
	// birthday: the first of a cohort lay that much earlier, the last later.
	r.ramp = 1 / max(2*f.WeightCV*ripe/2, 1)
	r.lays = ripe - 0.5/r.ramp
	r.hazard = [3]float64{
		hazardOf(f.HatchlingLoss.share(z[zHatchling]), days),
		hazardOf(f.JuvenileLoss.share(z[zJuvenile]), days),
		hazardOf(f.AdultLoss.share(z[zAdult]), days),
	}
	r.unseen = hazardOf(f.UnseenLoss.share(z[zUnseen]), days)
	r.capacity = f.CapacityKgM2.drawn(z[zCapacity])
	r.theta = f.Theta.drawn(z[zTheta])
	r.phi = f.Phi.drawn(z[zPhi])
	r.foundBodies = foundBodies.share(z[zBodies])
	r.foundEggs = foundEggs.share(z[zFound])
	r.dry = f.DryFeed.share(z[zDry]) * days
	r.fresh = f.FreshFeed.share(z[zFresh]) * days
	r.calcium = f.CalciumOfDryFeed.share(z[zCalcium])
}

// weightAt is the mean weight in grams at a growth age in steps.
func (r *rates) weightAt(age float64) float64 {
	age = min(age, oldest)
	k := int(age)
	return r.weight[k] + (age-float64(k))*(r.weight[k+1]-r.weight[k])
}

// ageOf is the growth age in steps at which a run's animals weigh so many
// grams, and the factor by which they are heavier than the curve's end.
func (r *rates) ageOf(grams float64) (age, scale float64) {
	if grams <= r.weight[0] {
		return 0, grams / r.weight[0]
	}
	lo, hi := 0, oldest
	if grams >= r.weight[hi] {
		return oldest, grams / r.weight[hi]
	}
	for hi-lo > 1 {
		if m := (lo + hi) / 2; r.weight[m] <= grams {
			lo = m
		} else {
			hi = m
		}
	}
	if r.weight[hi] == r.weight[lo] {
		return float64(lo), 1
	}
	return float64(lo) + (grams-r.weight[lo])/(r.weight[hi]-r.weight[lo]), 1
}

// ripe is the share of a cohort that lays.
func (r *rates) ripe(age float64) float64 {
	return min(max((age-r.lays)*r.ramp, 0), 1)
}
