// Package deaths owns what a count of deaths says: how sure the rate is, and
// when it has doubled.
package deaths

import (
	"tendfold/domain/husbandry"

	"gonum.org/v1/gonum/stat/distuv"
)

// What the inputs may be.
var (
	Deaths   = husbandry.Range{Low: 0, High: 1e7, Measure: "deaths"}
	Exposure = husbandry.Range{Low: 1e-6, High: 1e12, Measure: "animal-weeks, or whatever is lived through"}
)

// Rate is a rate of deaths with its interval, per unit of the exposure.
type Rate struct {
	Rate, Low, High float64
}

// RateOf is the rate of a count of deaths over an exposure (animals times the
// weeks that they were watched), with the exact 95 % interval of Garwood
// (1936), Biometrika 28:437.
func RateOf(count int, exposure float64) (Rate, error) {
	if err := husbandry.Refuse(Deaths.Within("count", float64(count)), Exposure.Within("exposure", exposure)); err != nil {
		return Rate{}, err
	}
	low, high := garwood(float64(count))
	return Rate{float64(count) / exposure, low / exposure, high / exposure}, nil
}

// garwood is the exact 95 % interval of a Poisson mean of which n were seen.
func garwood(n float64) (low, high float64) {
	const tail = 0.025
	if n > 0 {
		low = distuv.ChiSquared{K: 2 * n}.Quantile(tail) / 2
	}
	return low, distuv.ChiSquared{K: 2*n + 2}.Quantile(1-tail) / 2
}

// Ratio is how many times as high one rate is as another.
type Ratio struct {
	Ratio, Low, High float64
	// Bounded is false where the other rate is 0: then there is no upper end,
	// and Ratio and High are 0.
	Bounded bool
}

// RatioOf compares two rates with the exact 95 % interval: given the deaths of
// both together, those of the first are binomial (Clopper and Pearson 1934).
func RatioOf(count int, exposure float64, otherCount int, otherExposure float64) (Ratio, error) {
	err := husbandry.Refuse(
		Deaths.Within("count", float64(count)), Exposure.Within("exposure", exposure),
		Deaths.Within("against.count", float64(otherCount)), Exposure.Within("against.exposure", otherExposure))
	if err != nil {
		return Ratio{}, err
	}
	x, y := float64(count), float64(otherCount)
	if count+otherCount == 0 {
		return Ratio{}, husbandry.Refuse(husbandry.Wrong("count", "is 0 deaths, and so is the other; two rates without a death cannot be compared"))
	}
	odds := func(p float64) float64 { return p / (1 - p) * otherExposure / exposure }
	r := Ratio{Bounded: otherCount > 0}
	if count > 0 {
		r.Low = odds(distuv.Beta{Alpha: x, Beta: y + 1}.Quantile(0.025))
	}
	if r.Bounded {
		r.Ratio = x / exposure / (y / otherExposure)
		r.High = odds(distuv.Beta{Alpha: x + 1, Beta: y}.Quantile(0.975))
	}
	return r, nil
}
