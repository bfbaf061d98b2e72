package rank_test

import (
	"slices"
	"testing"

	"tendfold/domain/rank"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Held to sorting by the standard library.
func TestPickIsWhatSortingPutsThere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.SliceOfN(rapid.Float64Range(-5, 5), 1, 40).Draw(t, "x")
		r := rapid.IntRange(0, len(x)-1).Draw(t, "rank")
		sorted := slices.Sorted(slices.Values(x))
		rank.Pick(x, 0, len(x), r)
		require.InDelta(t, sorted[r], x[r], 0)
		require.LessOrEqual(t, slices.Max(x[:r+1]), x[r])
		require.GreaterOrEqual(t, slices.Min(x[r:]), x[r])
		require.Equal(t, sorted, slices.Sorted(slices.Values(x)), "nothing is lost")
	})
}
