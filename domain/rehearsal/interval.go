package rehearsal

import (
	"math"
	"slices"
)

// Share is a count out of so many.
type Share struct{ Of, All int }

// Value is the share itself, 0 when there is nothing to take a share of.
func (s Share) Value() float64 {
	if s.All == 0 {
		return 0
	}
	return float64(s.Of) / float64(s.All)
}

// z95 is the normal quantile of a two-sided interval of 95 %.
const z95 = 1.959963984540054

// Wilson is the 95 % score interval of a share (Wilson 1927), which stays
// honest for small counts and shares near 0 and 1; 0 to 1 for no cases.
func (s Share) Wilson() (low, high float64) {
	if s.All == 0 {
		return 0, 1
	}
	n, p := float64(s.All), s.Value()
	mid := p + z95*z95/(2*n)
	half := z95 * math.Sqrt(p*(1-p)/n+z95*z95/(4*n*n))
	whole := 1 + z95*z95/n
	return max(0, (mid-half)/whole), min(1, (mid+half)/whole)
}

// middle is the median of days of which some never came (missed): those
// count as endless. False when the median itself is endless or there is
// nothing.
func middle(days []float64, missed int) (float64, bool) {
	n := len(days) + missed
	if n == 0 {
		return 0, false
	}
	sorted := slices.Sorted(slices.Values(days))
	lower, upper := (n-1)/2, n/2
	if upper >= len(sorted) {
		return 0, false
	}
	return (sorted[lower] + sorted[upper]) / 2, true
}

// quantile is the smallest count that is not below a share p of the counts
// (nearest rank), 0 for none.
func quantile(counts []int, p float64) int {
	if len(counts) == 0 {
		return 0
	}
	sorted := slices.Sorted(slices.Values(counts))
	rank := int(math.Ceil(p * float64(len(sorted))))
	return sorted[max(0, rank-1)]
}
