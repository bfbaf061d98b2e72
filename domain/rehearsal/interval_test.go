package rehearsal

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Newcombe 1998, Statistics in Medicine 17:857-872, Table I (from memory,
// recomputed elsewhere to four decimals), and two more recomputed values.
func TestWilsonAgainstNewcombe(t *testing.T) {
	for _, x := range []struct {
		of, all   int
		low, high float64
	}{
		{81, 263, .2553, .3662},
		{15, 148, .0624, .1605},
		{0, 20, 0, .1611},
		{1, 29, .0061, .1718},
		{8, 10, .4902, .9433},
		{5, 10, .2366, .7634},
	} {
		low, high := Share{x.of, x.all}.Wilson()
		require.InDelta(t, x.low, low, 5e-5, "%d of %d", x.of, x.all)
		require.InDelta(t, x.high, high, 5e-5, "%d of %d", x.of, x.all)
	}
}

func TestWilsonHoldsTheShare(t *testing.T) {
	low, high := Share{}.Wilson()
	require.Equal(t, []float64{0, 1}, []float64{low, high}, "nothing is known of no cases")
	rapid.Check(t, func(t *rapid.T) {
		all := rapid.IntRange(1, 5000).Draw(t, "all")
		s := Share{rapid.IntRange(0, all).Draw(t, "of"), all}
		low, high := s.Wilson()
		require.True(t, 0 <= low && low <= s.Value()+1e-12 && s.Value() <= high+1e-12 && high <= 1)
		mirrored, _ := Share{all - s.Of, all}.Wilson()
		require.InDelta(t, 1-high, mirrored, 1e-9)
	})
}

func TestMiddle(t *testing.T) {
	for _, x := range []struct {
		days   []float64
		missed int
		want   float64
		ok     bool
	}{
		{nil, 0, 0, false},
		{[]float64{3}, 0, 3, true},
		{[]float64{9, 1, 5}, 0, 5, true},
		{[]float64{1, 2, 3, 4}, 0, 2.5, true},
		{[]float64{1, 2, 3}, 2, 3, true},
		{[]float64{1, 2}, 2, 0, false}, // half are endless
		{[]float64{1}, 5, 0, false},
	} {
		got, ok := middle(x.days, x.missed)
		require.Equal(t, x.ok, ok, x)
		require.Equal(t, x.want, got, x)
	}
}

func TestQuantileIsNearestRank(t *testing.T) {
	counts := []int{5, 0, 1, 3, 2, 4, 7, 6, 9, 8}
	require.Equal(t, 9, quantile(counts, .95))
	require.Equal(t, 8, quantile(counts, .9))
	require.Equal(t, 4, quantile(counts, .5))
	require.Equal(t, 0, quantile(counts, 0))
	require.Zero(t, quantile(nil, .95))
}
