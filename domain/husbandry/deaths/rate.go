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
