package programme

import (
	"math"
	"slices"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// The greatest distance between the draws' steps and the law (Kolmogorov's
// statistic) is half a step for midpoint strata; 500 independent draws would
// allow 1.36/sqrt(500) = 0.061 (Kolmogorov's 5 % point, from memory).
func TestDrawsFollowTheLaw(t *testing.T) {
	for _, d := range triangles {
		taken := slices.Clone(shared.taken("some milestone", newLaw(d, 0)))
		slices.Sort(taken)
		ref := distuv.NewTriangle(d.Min, d.Max, d.Likely, nil)
		ks := stat.KolmogorovSmirnov(taken, nil, quantiles(ref, 100000), nil)
		require.Less(t, ks, 0.5/DrawCount+1e-4)
	}
}

func quantiles(ref distuv.Triangle, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = ref.Quantile((float64(i) + 0.5) / float64(n))
	}
	return out
}

func TestDrawsDependOnSeedAndNameAlone(t *testing.T) {
	again := NewDraws(DrawSeed, DrawCount)
	require.Equal(t, shared.order("stocked"), again.order("stocked"))
	require.NotEqual(t, shared.order("stocked"), shared.order("harvest"))
	require.NotEqual(t, shared.order("stocked"), NewDraws(1, DrawCount).order("stocked"))
	require.Equal(t, 2, NewDraws(1, -5).Count(), "a forecast needs two draws")
}

// Two columns must not lean on each other: the correlation of two random
// orders of 500 has standard deviation 1/sqrt(499).
func TestColumnsAreUnrelated(t *testing.T) {
	names := []string{"built", "planted", "covered", "trained", "ordered", "stocked", "harvest"}
	for i, a := range names {
		for _, b := range names[:i] {
			c := stat.Correlation(floats(shared.order(a)), floats(shared.order(b)), nil)
			require.Less(t, math.Abs(c), 4/math.Sqrt(499), "%s and %s", a, b)
		}
	}
}

func floats(x []int) []float64 {
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = float64(v)
	}
	return out
}

// A serial path of certain laws sums up: mean and variance of the whole are
// the sums of the triangular's (a+b+c)/3 and
// (a2+b2+c2-ab-ac-bc)/18 (gonum's distuv.Triangle).
func TestSerialPathSumsMeansAndVariances(t *testing.T) {
	p := Programme{Start: "0", Stocking: "0", Harvest: "6", Milestones: []Milestone{{Key: "0", Kind: Work}}}
	var mean, variance float64
	for i, d := range triangles {
		p.Milestones = append(p.Milestones, Milestone{Key: string(rune('1' + i)), After: []string{string(rune('0' + i))}, Kind: Work, Days: d})
		ref := distuv.NewTriangle(d.Min, d.Max, d.Likely, nil)
		mean, variance = mean+ref.Mean(), variance+ref.Variance()
	}
	n := compiled(t, p, GrowOut, Season{})
	many := NewDraws(3, 200000)
	s := many.borrow()
	defer many.giveBack(s)
	m, v := stat.MeanVariance(n.bareRun(0, many, s, false).done[n.harvest].each, nil)
	require.InEpsilon(t, mean, m, 1e-5, "strata make the mean exact")
	require.InEpsilon(t, variance, v, 0.02)

	small := shared.borrow()
	defer shared.giveBack(small)
	m, v = stat.MeanVariance(n.bareRun(0, shared, small, false).done[n.harvest].each, nil)
	require.InEpsilon(t, mean, m, 1e-3)
	require.InEpsilon(t, variance, v, 0.15, "chance leanings of 500 orders")
}

func TestManyMayShareDraws(t *testing.T) {
	d := NewDraws(5, DrawCount)
	n := compiled(t, house(), Breeding, wet())
	k := benchCases()["weighed"]
	want := n.Forecast(k, n.Baseline(day1, d), day1.Add(240), d, Options{Account: true})
	fresh := NewDraws(5, DrawCount)
	var wg sync.WaitGroup
	got := make([]Forecast, 16)
	for i := range got {
		wg.Go(func() {
			got[i] = n.Forecast(k, n.Baseline(day1, fresh), day1.Add(240), fresh, Options{Account: true})
		})
	}
	wg.Wait()
	for _, g := range got {
		require.Equal(t, want, g)
	}
}

func TestQuantilesAgreeWithSorting(t *testing.T) {
	for n := 2; n < 60; n++ {
		d := NewDraws(uint64(n), n)
		x := d.taken("x", newLaw(Days{1, 4, 10}, 0.05))
		sorted := slices.Clone(x)
		slices.Sort(sorted)
		s := d.borrow()
		q := s.tenFiftyNinety(column{each: x})
		for i, p := range []float64{0.1, 0.5, 0.9} {
			at := min(max(float64(n)*p-0.5, 0), float64(n-1))
			low := int(at)
			want := sorted[low] + (at-float64(low))*(sorted[min(low+1, n-1)]-sorted[low])
			require.InDelta(t, want, q[i], 1e-9, "n=%d p=%g", n, p)
			require.InDelta(t, want, s.quantile(column{each: x}, p), 1e-9)
		}
	}
}
