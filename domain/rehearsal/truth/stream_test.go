package truth

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

func TestStreamIsItsNamesAndPlaces(t *testing.T) {
	s := NewStream(7, 3)
	require.Equal(t, s.Sub("a").U(5), NewStream(7, 3).Sub("a").U(5))
	seen := map[float64]string{}
	for what, u := range map[string]float64{
		"place": s.Sub("a").U(6), "name": s.Sub("b").U(5), "farm": NewStream(7, 4).Sub("a").U(5),
		"seed": NewStream(8, 3).Sub("a").U(5), "at": s.Sub("a").At(5).U(5), "base": s.Sub("a").U(5),
	} {
		require.Empty(t, seen[u], "%s and %s are one number", seen[u], what)
		seen[u] = what
	}
}

func TestStreamIsUniform(t *testing.T) {
	const n = 20_000
	var sum, squares float64
	bins := make([]int, 20)
	for i := range n {
		u := NewStream(1, i%50).Sub("test").U(i)
		require.True(t, u > 0 && u < 1)
		sum, squares = sum+u, squares+u*u
		bins[int(u*20)]++
	}
	require.InDelta(t, 0.5, sum/n, 0.01)
	require.InDelta(t, 1./3, squares/n, 0.01)
	for _, b := range bins {
		require.InDelta(t, n/20, b, 150)
	}
}

// Against gonum's distuv.Normal and distuv.Poisson.
func TestQuantiles(t *testing.T) {
	normal := distuv.Normal{Mu: 0, Sigma: 1}
	for _, p := range []float64{1e-6, .01, .2, .5, .8, .975, 1 - 1e-6} {
		require.InDelta(t, normal.Quantile(p), normalQuantile(p), 1e-8)
		require.InDelta(t, normal.CDF(normal.Quantile(p)), normalCDF(normal.Quantile(p)), 1e-12)
	}
	rapid.Check(t, func(t *rapid.T) {
		mean, u := rapid.Float64Range(.01, 300).Draw(t, "mean"), rapid.Float64Range(.001, .999).Draw(t, "u")
		k := poissonQuantile(u, mean)
		poisson := distuv.Poisson{Lambda: mean}
		require.GreaterOrEqual(t, poisson.CDF(float64(k)), u-1e-9)
		if k > 0 {
			require.Less(t, poisson.CDF(float64(k-1)), u+1e-9)
		}
	})
	require.InDelta(t, 1000, float64(poissonQuantile(.5, 1000)), 1)
	require.Zero(t, poissonQuantile(.9, 0))
	require.False(t, math.IsNaN(NewStream(0, 0).N(0)))
}
