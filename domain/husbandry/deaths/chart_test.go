package deaths_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"tendfold/domain"
	"tendfold/domain/husbandry/deaths"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

// NIST/SEMATECH e-Handbook 6.3.2.3: target 325, k 0.3175, h 4.1959.
func TestClimbOfNIST(t *testing.T) {
	x := []float64{
		324.925, 324.675, 324.725, 324.350, 325.350, 325.225, 324.125, 324.525, 325.225, 324.600,
		324.625, 325.150, 328.325, 327.250, 327.825, 328.500, 326.675, 327.775, 326.875, 328.350,
	}
	high := []float64{0, 0, 0, 0, 0.03, 0, 0, 0, 0, 0, 0, 0, 3.01, 4.94, 7.45, 10.63, 11.99, 14.44, 16.00, 19.04}
	low := []float64{0, 0.01, 0, 0.33, 0, 0, 0.56, 0.72, 0.17, 0.25, 0.31, 0, 0, 0, 0, 0, 0, 0, 0, 0}
	var up, down float64
	first := 0
	for i, v := range x {
		up, down = deaths.Climb(up, v-325, 0.3175), deaths.Climb(down, 325-v, 0.3175)
		require.InDelta(t, high[i], up, 0.006, "group %d", i+1)
		require.InDelta(t, low[i], down, 0.006, "group %d", i+1)
		if up > 4.1959 && first == 0 {
			first = i + 1
		}
		require.LessOrEqual(t, down, 4.1959)
	}
	require.Equal(t, 14, first)
}

// NIST/SEMATECH e-Handbook 6.3.2.4: target 50, weight 0.3, limits 52.5884 and 47.4115.
func TestEWMAOfNIST(t *testing.T) {
	x := []float64{52, 47, 53, 49.3, 50.1, 47, 51, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1}
	want := []float64{
		50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99,
	}
	for i, v := range deaths.EWMA(x, 50, 0.3) {
		require.InDelta(t, want[i], v, 0.006, "%d", i)
		require.Less(t, v, 52.5884)
		require.Greater(t, v, 47.4115)
	}
}

// montgomery are the data of Montgomery, Introduction to SQC, table 9.1 (memory).
var montgomery = []float64{
	9.45, 7.99, 9.29, 11.66, 12.16, 10.18, 8.04, 11.46, 9.20, 10.34, 9.03, 11.47, 10.51, 9.40, 10.08,
	9.37, 10.62, 10.31, 8.52, 10.84, 10.90, 9.33, 12.29, 11.50, 10.60, 11.08, 10.38, 11.62, 11.31, 10.52,
}

// Table 9.2 (memory): target 10, K 0.5, H 5; the first signal is at 29.
func TestClimbOfMontgomery(t *testing.T) {
	want := []float64{1.79, 2.79, 2.89, 3.47, 3.35, 4.47, 5.28, 5.30} // from 23
	var up, down, deepest float64
	first := 0
	for i, v := range montgomery {
		up, down = deaths.Climb(up, v-10, 0.5), deaths.Climb(down, 10-v, 0.5)
		deepest = max(deepest, down)
		if i >= 22 {
			require.InDelta(t, want[i-22], up, 0.006)
		}
		if up > 5 && first == 0 {
			first = i + 1
		}
	}
	require.Equal(t, 29, first)
	require.InDelta(t, 1.77, deepest, 0.006)
	ewma := deaths.EWMA(montgomery, 10, 0.1)
	for at, want := range map[int]float64{1: 9.945, 28: 10.5731, 29: 10.6468, 30: 10.6341} {
		require.InDelta(t, want, ewma[at-1], 6e-5)
	}
}

var figures = deaths.Figures{RunWeeks: 250, SeeWeeks: 8, AtOnce: 3, AtOncePc: 5}

// simulated is the mean run of a climb on negative binomial weeks, by chance.
func simulated(limit, allowed, shape, mean float64, runs int) float64 {
	src := rand.New(rand.NewPCG(1, 2))
	var weeks int
	for range runs {
		var s float64
		for s <= limit {
			rate := distuv.Gamma{Alpha: shape, Beta: shape / mean, Src: src}.Rand()
			s = deaths.Climb(s, distuv.Poisson{Lambda: rate, Src: src}.Rand()*math.Ln2, allowed)
			weeks++
		}
	}
	return float64(weeks) / float64(runs)
}

// The design keeps its promise when it is played out.
func TestDesignOfPlayedOut(t *testing.T) {
	for _, c := range []struct{ shape, rate, animals float64 }{{4, .005, 400}, {30, .005, 400}, {200, .005, 2000}, {4, .01, 40}} {
		d, err := deaths.DesignOf(deaths.Prior{Shape: c.shape, Mean: c.rate}, c.animals, figures)
		require.NoError(t, err)
		require.GreaterOrEqual(t, d.RunWeeks, 250.0)
		mean := c.rate * c.animals
		require.InEpsilon(t, d.RunWeeks, simulated(d.Limit, mean, c.shape, mean, 2000), 0.15, "%v", c)
		require.InEpsilon(t, d.SeeWeeks, simulated(d.Limit, mean, c.shape, 2*mean, 2000), 0.15, "%v", c)
		require.Equal(t, d.SeeWeeks > 8, d.TooSmall)
	}
}

// Knowing more, or having more animals, shows a doubling sooner.
func TestDesignOfGetsBetter(t *testing.T) {
	see := func(shape, animals float64) float64 {
		d, err := deaths.DesignOf(deaths.Prior{Shape: shape, Mean: .005}, animals, figures)
		require.NoError(t, err)
		return d.SeeWeeks
	}
	require.Less(t, see(100, 1000), see(4, 1000))
	require.Less(t, see(100, 1000), see(100, 50))
	d, err := deaths.DesignOf(deaths.Prior{Shape: 4, Mean: .005}, 10, figures)
	require.NoError(t, err)
	require.True(t, d.TooSmall, "ten snails")
}

func weeks(n int, w deaths.Week) []deaths.Week {
	out := make([]deaths.Week, n)
	for i := range out {
		out[i] = w
	}
	return out
}

// A house of 1,000 that loses 5 a week, known well; then 12 a week; then 5.
func TestChartCallsADoublingAndClears(t *testing.T) {
	usual := deaths.Week{Deaths: 5, Animals: 1000, Covered: 7}
	high := deaths.Week{Deaths: 12, Animals: 1000, Covered: 7}
	all := append(append(weeks(20, usual), weeks(8, high)...), weeks(20, usual)...)
	points, learned, err := deaths.Chart(deaths.Prior{Shape: 4, Mean: .005}, all, figures)
	require.NoError(t, err)
	first, cleared := -1, -1
	for i, p := range points {
		if p.Signal == deaths.Doubled && first < 0 {
			first = i
		}
		if first >= 0 && !p.Open && cleared < 0 {
			cleared = i
		}
		if i < 20 {
			require.Equal(t, deaths.None, p.Signal)
			require.False(t, p.Open)
		}
	}
	require.GreaterOrEqual(t, first, 20)
	require.Less(t, first, 28, "within the eight weeks")
	require.Greater(t, cleared, 28)
	require.InEpsilon(t, .005, learned.Mean, .1, "weeks of the signal do not become the rule")
}

// After a signal the climb stands at half the limit, and 14 covered days below
// it clear; days without an entry clear nothing.
func TestChartClearsByCoveredDays(t *testing.T) {
	quiet := deaths.Week{Animals: 1000, Covered: 7}
	nobody := deaths.Week{Animals: 1000}
	all := []deaths.Week{{Deaths: 60, Worst: 60, Animals: 1000, Covered: 7}, quiet, nobody, nobody, nobody, quiet, quiet}
	points, _, err := deaths.Chart(deaths.Prior{Shape: 4, Mean: .005}, all, figures)
	require.NoError(t, err)
	require.Equal(t, deaths.AtOnce, points[0].Signal, "6 in 100 on a day")
	open := []bool{true, true, true, true, true, false, false}
	for i, p := range points {
		require.Equal(t, open[i], p.Open, "week %d", i)
	}
}

func TestChartCallsAtOnce(t *testing.T) {
	for _, c := range []struct {
		week deaths.Week
		want deaths.Signal
	}{
		{deaths.Week{Deaths: 3, Foul: 3, Animals: 5000, Covered: 1}, deaths.AtOnce},
		{deaths.Week{Deaths: 3, Foul: 2, Animals: 5000, Covered: 1}, deaths.None},
		{deaths.Week{Deaths: 5, Worst: 5, Animals: 100, Covered: 2}, deaths.AtOnce},
		{deaths.Week{Deaths: 4, Worst: 4, Animals: 100, Covered: 7}, deaths.None},
	} {
		points, _, err := deaths.Chart(deaths.Prior{Shape: 4, Mean: .01}, []deaths.Week{c.week}, figures)
		require.NoError(t, err)
		require.Equal(t, c.want, points[0].Signal, "%+v", c.week)
	}
}

// A missing entry is not a week without deaths: nothing moves.
func TestChartLeavesMissingWeeksAlone(t *testing.T) {
	prior := deaths.Prior{Shape: 4, Mean: .005}
	points, learned, err := deaths.Chart(prior, weeks(50, deaths.Week{Animals: 1000}), figures)
	require.NoError(t, err)
	require.Equal(t, prior, learned)
	require.Zero(t, points[49].Expected)
}

// The gamma law learns as it should: 4 deaths' worth at 1 % and 6 deaths in
// 1,000 animal-weeks are 10 in 1,400.
func TestPriorLearns(t *testing.T) {
	got := deaths.Prior{Shape: 4, Mean: .01}.After(6, 1000)
	require.InDelta(t, 10, got.Shape, 1e-12)
	require.InDelta(t, 10.0/1400, got.Mean, 1e-12)
	require.Equal(t, deaths.Prior{Shape: 4, Mean: got.Mean}, got.Lent(4))
}

func TestChartGivesNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var all []deaths.Week
		for range rapid.IntRange(1, 12).Draw(t, "weeks") {
			animals := float64(rapid.IntRange(0, 20_000).Draw(t, "animals"))
			w := deaths.Week{Animals: animals, Covered: float64(rapid.IntRange(0, 7).Draw(t, "covered"))}
			if w.Covered > 0 {
				w.Deaths = float64(rapid.IntRange(0, int(animals)).Draw(t, "deaths"))
			}
			all = append(all, w)
		}
		points, learned, err := deaths.Chart(deaths.Prior{Shape: rapid.Float64Range(.1, 500).Draw(t, "shape"), Mean: rapid.Float64Range(1e-6, .5).Draw(t, "rate")}, all, figures)
		require.NoError(t, err)
		for _, p := range points {
			require.False(t, math.IsNaN(p.Climb+p.Limit+p.Expected) || math.IsInf(p.Climb+p.Limit+p.Expected, 0))
		}
		require.Greater(t, learned.Mean, 0.0)
	})
}

func TestChartRefuses(t *testing.T) {
	good := deaths.Prior{Shape: 4, Mean: .01}
	for path, w := range map[string]deaths.Week{
		"weeks.deaths":       {Deaths: 20, Animals: 10, Covered: 7},
		"weeks.covered_days": {Deaths: 2, Animals: 10},
		"weeks.animals":      {Animals: -1, Covered: 7},
	} {
		_, _, err := deaths.Chart(good, []deaths.Week{w}, figures)
		var e *domain.Error
		require.ErrorAs(t, err, &e)
		require.Equal(t, path, e.Fields[0].Path)
	}
	_, _, err := deaths.Chart(deaths.Prior{}, nil, figures)
	require.ErrorContains(t, err, "shape")
	_, err = deaths.DesignOf(good, 0, figures)
	require.ErrorContains(t, err, "animals")
}
