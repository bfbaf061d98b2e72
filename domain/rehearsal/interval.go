package rehearsal

import (
	"math"
	"slices"

	"tendfold/domain/share"
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

// Wilson is the 95 % score interval of the share; see share.Wilson.
func (s Share) Wilson() (low, high float64) { return share.Wilson(s.Of, s.All) }

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
