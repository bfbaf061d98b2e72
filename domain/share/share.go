// Package share owns how sure a share of a count is.
package share

import "math"

// z95 is the normal quantile of a two-sided interval of 95 %.
const z95 = 1.959963984540054

// Wilson is the 95 % score interval of a share of so many out of all (Wilson
// 1927), which stays honest for small counts and shares near 0 and 1; 0 to 1
// for no cases.
func Wilson(of, all int) (low, high float64) {
	if all == 0 {
		return 0, 1
	}
	n, p := float64(all), float64(of)/float64(all)
	mid := p + z95*z95/(2*n)
	half := z95 * math.Sqrt(p*(1-p)/n+z95*z95/(4*n*n))
	whole := 1 + z95*z95/n
	return max(0, (mid-half)/whole), min(1, (mid+half)/whole)
}
