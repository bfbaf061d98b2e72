package stock

import (
	"math"
	"math/bits"
	"math/rand/v2"
)

// chance is a run's own stream of random numbers.
type chance struct{ pcg rand.PCG }

// uniform lies in (0, 1).
func (c *chance) uniform() float64 { return (float64(c.pcg.Uint64()>>11) + 0.5) / (1 << 53) }

// normal is nearly standard normal and costs little: 64 fair coins (mean 32,
// standard deviation 4), with the steps between their counts smoothed.
func (c *chance) normal() float64 {
	coins := c.pcg.Uint64()
	return (float64(bits.OnesCount64(coins)) - 32.5 + c.uniform()) / 4
}

// manyExpected is from where a count is drawn as normal.
const manyExpected = 4

// fading is exp(-x) for x = i/perFading, the part of a draw that costs most.
var fading = func() (t [manyExpected*perFading + 1]float64) {
	for i := range t {
		t[i] = math.Exp(-float64(i) / perFading)
	}
	return t
}()

const perFading = 64

// fade is exp(-x) for x from 0 to manyExpected, to 1e-8.
func fade(x float64) float64 {
	i := int(x * perFading)
	d := x - float64(i)/perFading
	return fading[i] * (1 - d*(1-d/2*(1-d/3)))
}

// gone is 1 - exp(-h), to 1e-6 for the hazards of a month or less.
func gone(h float64) float64 {
	if h < 0.25 {
		return h * (1 - h/2*(1-h/3*(1-h/4*(1-h/5))))
	}
	return -math.Expm1(-h)
}

// lost draws how many of n animals a hazard takes: binomial with
// p = 1 - exp(-hazard), by inversion where few are expected.
func (c *chance) lost(n, hazard float64) float64 {
	if n*hazard < manyExpected {
		return c.few(n, hazard)
	}
	return c.many(n, gone(hazard))
}

// chosen draws how many of n a probability chooses.
func (c *chance) chosen(n, p float64) float64 {
	if n*p < manyExpected && p < 1 {
		if hazard := -math.Log1p(-p); n*hazard < manyExpected {
			return c.few(n, hazard)
		}
	}
	return c.many(n, p)
}

func (c *chance) few(n, hazard float64) float64 {
	u, mean := c.uniform(), n*hazard
	if u <= 1-mean { // below exp(-mean) for certain
		return 0
	}
	p := fade(mean)
	if u <= p {
		return 0
	}
	// P(k+1)/P(k) = (n - k)/(k + 1) x odds.
	share := gone(hazard)
	odds := share / (1 - share)
	k, left := 0.0, n*odds
	for u > p && k < n {
		u -= p
		k++
		p *= left / k
		left -= odds
	}
	return k
}

// many draws as normal, or, where few are left over, how many those are.
func (c *chance) many(n, p float64) float64 {
	if n*(1-p) < manyExpected && p > 0.5 {
		if hazard := -math.Log(p); n*hazard < manyExpected {
			return n - c.few(n, hazard)
		}
	}
	return min(max(math.Floor(n*p+0.5+c.normal()*math.Sqrt(n*p*(1-p))), 0), n)
}

// events draws a Poisson count of a mean.
func (c *chance) events(mean float64) float64 {
	if mean < manyExpected {
		u, p := c.uniform(), fade(mean)
		var k float64
		for u > p && k < 200 {
			u -= p
			k++
			p *= mean / k
		}
		return k
	}
	return max(math.Floor(mean+0.5+c.normal()*math.Sqrt(mean)), 0)
}

// whole rounds x to a whole number that is right on average.
func (c *chance) whole(x float64) float64 { return math.Floor(x + c.uniform()) }
