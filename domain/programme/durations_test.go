package programme

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

var triangles = []Days{{1, 4, 10}, {28, 42, 56}, {5, 5, 7}, {3, 9, 9}, {180, 240, 330}, {0, 0.5, 1}}

// Reference: gonum's distuv.Triangle (distribution function, inverse, mean
// and variance of the triangular law).
func TestTriangleAgreesWithGonum(t *testing.T) {
	for _, d := range triangles {
		t.Run(fmt.Sprint(d), func(t *testing.T) {
			l, ref := newLaw(d, 0), distuv.NewTriangle(d.Min, d.Max, d.Likely, nil)
			for p := 0.001; p < 1; p += 0.001 {
				require.InDelta(t, ref.Quantile(p), l.quantile(p), 1e-9)
			}
			for x := d.Min - 1; x < d.Max+1; x += (d.Max - d.Min) / 97 {
				require.InDelta(t, ref.Survival(x), l.survival(x), 1e-12)
			}
			taken := NewDraws(1, 20000).taken("x", l)
			mean, variance := stat.MeanVariance(taken, nil)
			require.InEpsilon(t, ref.Mean(), mean, 1e-4)
			require.InEpsilon(t, ref.Variance(), variance, 1e-3)
		})
	}
}

// The mixture by its definition: below max a triangle of weight 1 - pi, above
// it an exponential of weight pi (gonum's distuv.Exponential).
func TestMixtureIsWhatItSays(t *testing.T) {
	for _, d := range triangles {
		l := newLaw(d, 0.05)
		tri, tail := distuv.NewTriangle(d.Min, d.Max, d.Likely, nil), distuv.Exponential{Rate: 1 / l.tau}
		for x := d.Min; x < d.Max+5*l.tau; x += (d.Max - d.Min + l.tau) / 211 {
			want := 0.95*tri.Survival(x) + 0.05*tail.Survival(x-d.Max)
			if x < d.Max {
				want = 0.95*tri.Survival(x) + 0.05
			}
			require.InDelta(t, want, l.survival(x), 1e-12)
		}
		mean := stat.Mean(NewDraws(1, 200000).taken("x", l), nil)
		require.InEpsilon(t, 0.95*tri.Mean()+0.05*(d.Max+l.tau), mean, 1e-3)
	}
}

func TestTailFollowsTheDesign(t *testing.T) {
	require.Equal(t, 14.0, newLaw(Days{28, 42, 56}, 0.05).tau, "max - likely")
	require.Equal(t, 10.0, newLaw(Days{0, 28, 30}, 0.05).tau, "a third of max - min")
	require.Equal(t, 1.0, newLaw(Days{3, 3, 3}, 0.05).tau, "never under a day")
}

func TestContinuousAtMax(t *testing.T) {
	for _, d := range triangles {
		l := newLaw(d, 0.05)
		require.InDelta(t, 0.05, l.survival(d.Max-1e-9), 1e-6)
		require.InDelta(t, 0.05, l.survival(d.Max+1e-9), 1e-6)
		require.InDelta(t, d.Max, l.outlived(0.05+1e-12), 1e-3)
		require.InDelta(t, d.Max, l.outlived(0.05-1e-12), 1e-3)
		require.InDelta(t, l.beyond(d.Max-1e-9, 0.5), l.beyond(d.Max+1e-9, 0.5), 1e-3)
	}
}

// Draws beyond e days against brute force: draw from the whole law, keep
// what exceeds e, compare quantiles.
func TestBeyondAgreesWithBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	for _, d := range triangles {
		l := newLaw(d, 0.05)
		for _, e := range []float64{0, d.Min, (d.Min + d.Likely) / 2, (d.Likely + d.Max) / 2, d.Max, d.Max + l.tau} {
			var kept []float64
			for len(kept) < 5000 {
				if x := l.quantile(rng.Float64()); x > e {
					kept = append(kept, x)
				}
			}
			slices.Sort(kept)
			for _, p := range []float64{0.1, 0.5, 0.9} {
				// four standard errors of an order statistic, by the rank
				slack := int(4 * math.Sqrt(p*(1-p)*float64(len(kept))))
				r := int(p * float64(len(kept)))
				x := l.beyond(e, p)
				require.LessOrEqual(t, kept[r-slack], x, "%v beyond %g at %g", d, e, p)
				require.GreaterOrEqual(t, kept[r+slack], x, "%v beyond %g at %g", d, e, p)
			}
		}
	}
}

func TestBeyondKeepsItsHeadFarOut(t *testing.T) {
	require.InDelta(t, 1e6, newLaw(Days{1, 2, 3}, 0.05).beyond(1e6, 0.5), 1)
	require.Equal(t, 9.0, newLaw(Days{1, 2, 3}, 0).beyond(9, 0.5), "no tail: it ends now")
}

// someDays are days as a pack writes them, to the thousandth at most.
func someDays(t *rapid.T) Days {
	part := func(of string) float64 {
		most := rapid.SampledFrom([]float64{0, 1, 10, 100}).Draw(t, of)
		return most * float64(rapid.IntRange(0, 1000).Draw(t, "thousandths")) / 1000
	}
	low := rapid.Float64Range(0, 300).Draw(t, "min")
	likely := low + part("to likely")
	return Days{low, likely, likely + part("to max")}
}

func TestLawProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := newLaw(someDays(t), rapid.SampledFrom([]float64{0, 0.05, 0.3}).Draw(t, "pi"))
		e := rapid.Float64Range(0, 500).Draw(t, "e")
		u := rapid.Float64Range(0, 0.9999).Draw(t, "u")
		x := l.beyond(e, u)
		require.False(t, math.IsNaN(x) || math.IsInf(x, 0))
		require.GreaterOrEqual(t, x, e)
		require.LessOrEqual(t, x, l.beyond(e, u+(0.9999-u)/2)+1e-9, "more luck lost is never quicker")
		require.LessOrEqual(t, x, l.beyond(e+1, u)+1e-9, "more waited is never sooner")
		require.InDelta(t, l.survival(e)*(1-u), l.survival(x), 1e-6+atom(l, x))
	})
}

// atom is what a law without width puts on its one day, where the survival
// jumps.
func atom(l law, x float64) float64 {
	if l.max-l.min < 1e-6 && math.Abs(x-l.max) < 1e-6 {
		return 1
	}
	return 0
}
