package programme

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"tendfold/domain/calendar"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

func coverCurve() Curve  { return *house().Milestones[3].Curve }
func weightCurve() Curve { return *house().Milestones[12].Curve }

// The posterior's levels against brute force: draw durations from the law,
// weigh each by the readings' density as gonum's distuv.StudentsT has it,
// and read the weighted quantiles off.
func TestPosteriorAgreesWithBruteForce(t *testing.T) {
	for _, x := range []struct {
		name   string
		law    law
		curve  Curve
		waited float64
		marks  []mark
	}{
		{"one look at slow cover", newLaw(Days{28, 42, 56}, 0.05), coverCurve(), 20, []mark{{gone: 21, value: 17}}},
		{"many looks", newLaw(Days{28, 42, 56}, 0.05), coverCurve(), 30, []mark{{gone: 7, value: 10}, {gone: 14, value: 14}, {gone: 21, value: 22}, {gone: 28, value: 27}}},
		{"past the likely day", newLaw(Days{28, 42, 56}, 0.05), coverCurve(), 47, []mark{{gone: 47, value: 66}}},
		{"past the longest", newLaw(Days{28, 42, 56}, 0.05), coverCurve(), 60, []mark{{gone: 60, value: 62}}},
		{"fast", newLaw(Days{28, 42, 56}, 0.05), coverCurve(), 0, []mark{{gone: 14, value: 33}, {gone: 21, value: 58}}},
		{"weights far in the tail", newLaw(Days{180, 240, 330}, 0.05), weightCurve(), 120, []mark{{gone: 60, value: 55, n: 30}, {gone: 120, value: 72, n: 30, sd: 20}}},
		{"no tail", newLaw(Days{180, 240, 330}, 0), weightCurve(), 0, []mark{{gone: 60, value: 75, n: 10}}},
	} {
		t.Run(x.name, func(t *testing.T) {
			got := posterior(x.law, x.waited, func(d float64) float64 { return x.curve.fit(d, x.marks) }).levels(make([]float64, 1000))
			want := bruteForce(x.law, x.curve, x.waited, x.marks)
			for i, p := range []float64{0.1, 0.5, 0.9} {
				require.InDelta(t, want[i], quantileOf(slices.Clone(got), 0, 1000, p), 0.01*x.law.likely, "quantile %g", p)
			}
		})
	}
}

func bruteForce(l law, c Curve, waited float64, marks []mark) [3]float64 {
	rng := rand.New(rand.NewPCG(1, 2))
	type drawn struct{ days, weight float64 }
	draws := make([]drawn, 100000)
	var total float64
	for i := range draws {
		d := l.beyond(waited, rng.Float64())
		w := 1.0
		for _, m := range marks {
			mean := c.From + (c.To-c.From)*c.share(m.gone/d)
			sd := math.Hypot(c.SD, c.CV*mean)
			if m.n > 0 {
				spread := m.sd
				if spread == 0 {
					spread = c.SpreadCV * mean
				}
				sd = math.Hypot(sd, spread/math.Sqrt(m.n))
			}
			w *= distuv.StudentsT{Mu: mean, Sigma: sd, Nu: 5}.Prob(m.value)
		}
		draws[i] = drawn{d, w}
		total += w
	}
	slices.SortFunc(draws, func(a, b drawn) int { return cmp.Compare(a.days, b.days) })
	var out [3]float64
	var sum float64
	for _, d := range draws {
		sum += d.weight
		for i, p := range []float64{0.1, 0.5, 0.9} {
			if out[i] == 0 && sum >= p*total {
				out[i] = d.days
			}
		}
	}
	return out
}

func TestPosteriorProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := newLaw(someDays(t), rapid.SampledFrom([]float64{0, 0.05}).Draw(t, "pi"))
		waited := rapid.Float64Range(0, 600).Draw(t, "waited")
		c := rapid.SampledFrom([]Curve{coverCurve(), weightCurve()}).Draw(t, "curve")
		var marks []mark
		for range rapid.IntRange(1, 80).Draw(t, "readings") {
			marks = append(marks, mark{gone: rapid.Float64Range(0.5, 700).Draw(t, "gone"), value: rapid.Float64Range(0, 1e5).Draw(t, "value"), n: 10})
		}
		levels := posterior(l, waited, func(d float64) float64 { return c.fit(d, marks) }).levels(make([]float64, 100))
		require.True(t, slices.IsSorted(levels))
		for _, d := range levels {
			require.False(t, math.IsNaN(d) || math.IsInf(d, 0))
			require.GreaterOrEqual(t, d, max(waited, l.min)-1e-9)
		}
	})
}

func TestOneMistypedReadingIsDoubted(t *testing.T) {
	l := newLaw(Days{180, 240, 330}, 0.05)
	c := weightCurve()
	var marks []mark
	for day := 30.0; day <= 120; day += 30 {
		marks = append(marks, mark{gone: day, value: c.From + (c.To-c.From)*day/240, n: 30})
	}
	middle := func(marks []mark) float64 {
		x := posterior(l, 120, func(d float64) float64 { return c.fit(d, marks) }).levels(make([]float64, 500))
		return x[250]
	}
	right := middle(marks)
	require.InDelta(t, 240, right, 6)
	require.InDelta(t, right, middle(append(marks, mark{gone: 125, value: 1020, n: 30})), 5, "a nought too many")
	require.InDelta(t, right, middle(append(marks, mark{gone: 125, value: 10, n: 30})), 5, "a nought too few")
}

// readCover is a cycle whose cover will truly take days, read weekly and
// told by the curve itself.
func readCover(n *Network, days float64, to int) Known {
	i := n.index["covered"]
	c, clk := n.nodes[i].Curve, n.nodes[i].clock(nil)
	k := Known{Start: day1, LastEvidence: heardDaily(day1, day1.Add(to)), Done: map[string]calendar.Date{"trained": day1.Add(20), "ordered": day1.Add(20)}}
	for d := 7; d <= to; d += 7 {
		gone := clk.count(float64(day1.Add(d))) - clk.count(float64(day1))
		k.Readings = append(k.Readings, Reading{Kind: Cover, On: day1.Add(d), Value: c.From + (c.To-c.From)*c.share(gone/days)})
	}
	return k
}

func TestCoverLate(t *testing.T) {
	for _, season := range []Season{{}, wet()} {
		n := compiled(t, house(), GrowOut, season)
		b := n.Baseline(day1, shared)
		late := func(days float64) Forecast {
			return n.Forecast(readCover(n, days, 28), b, day1.Add(28), shared, Options{})
		}
		slow, right, quick := late(75), late(42), late(34)
		require.Greater(t, slow.CoverLate, 0.8)
		require.Less(t, right.CoverLate, 0.3)
		require.Less(t, quick.CoverLate, 0.02)
		require.Greater(t, slow.Slip.Own, 10)
		require.Less(t, quick.Slip.Own, 0)

		tomorrow := readCover(n, 42, 28)
		tomorrow.Readings = append(tomorrow.Readings, Reading{Kind: Cover, On: day1.Add(29), Value: 6})
		require.Equal(t, right, n.Forecast(tomorrow, b, day1.Add(28), shared, Options{}))

		unread := readCover(n, 75, 28)
		unread.Readings = nil
		require.Zero(t, n.Forecast(unread, b, day1.Add(28), shared, Options{}).CoverLate)
		done := readCover(n, 75, 28)
		done.Done["covered"] = day1.Add(28)
		require.Zero(t, n.Forecast(done, b, day1.Add(28), shared, Options{}).CoverLate)
	}
}

// weighed is a stocked cycle that will truly take days from stocking to
// harvest, weighed monthly.
func weighed(n *Network, days float64, months int, stockedG float64) Known {
	c := *n.nodes[n.index["harvest"]].Curve
	if stockedG > 0 {
		c.From = stockedG
	}
	clk := n.nodes[n.index["harvest"]].clock(nil)
	stocked := day1.Add(55)
	k := Known{
		Start: day1, StockedG: stockedG, LastEvidence: heardDaily(day1, stocked.Add(30*months)),
		Done: map[string]calendar.Date{"covered": day1.Add(42), "stocked": stocked, "two-week": stocked.Add(14)},
	}
	for m := 1; m <= months; m++ {
		on := stocked.Add(30 * m)
		gone := clk.count(float64(on)) - clk.count(float64(stocked))
		k.Readings = append(k.Readings, Reading{Kind: Weight, On: on, Value: c.From + (c.To-c.From)*c.share(gone/days), N: 30})
	}
	return k
}

func TestGrowthLate(t *testing.T) {
	n := compiled(t, house(), GrowOut, wet())
	b := n.Baseline(day1, shared)
	at := day1.Add(55 + 120)
	for _, g := range []float64{0, 25} {
		slow := n.Forecast(weighed(n, 330, 4, g), b, at, shared, Options{})
		right := n.Forecast(weighed(n, 246, 4, g), b, at, shared, Options{})
		require.Greater(t, slow.GrowthLate, 28, "a third slower")
		require.InDelta(t, 0, right.GrowthLate, 10)
		require.Equal(t, slow.Slip.ToStocking, right.Slip.ToStocking, "lost before stocking or after: told apart")
		require.InDelta(t, slow.Slip.Own, slow.Slip.ToStocking+slow.GrowthLate, 1)
	}
	unweighed := weighed(n, 330, 4, 0)
	unweighed.Readings = nil
	require.Zero(t, n.Forecast(unweighed, b, at, shared, Options{}).GrowthLate)
}

// The stocked weight stands in for the curve's first only where the
// milestone follows on stocking alone.
func TestStockedWeightReplacesFrom(t *testing.T) {
	grow, breed := compiled(t, house(), GrowOut, Season{}), compiled(t, house(), Breeding, Season{})
	c, ok := grow.curve(grow.index["harvest"], 25)
	require.True(t, ok)
	require.Equal(t, 25.0, c.From)
	c, _ = breed.curve(breed.index["harvest"], 25)
	require.Equal(t, 40.0, c.From)
	_, ok = grow.curve(grow.index["harvest"], 200)
	require.False(t, ok, "stocked above market weight: nothing to read")
	_, ok = grow.curve(grow.index["ready"], 0)
	require.False(t, ok)
}
