package cluster_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"tendfold/domain/calendar"
	"tendfold/domain/cluster"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

var today = calendar.MustDate("2026-03-12")

// village is a hundred farms about Buea, each with its own habit of reporting,
// and a season that makes some weeks busier: what the test must not be fooled
// by. No two reports know of each other.
func village(seed uint64, reports int) []cluster.Case {
	r := rand.New(rand.NewPCG(seed, 1))
	var out []cluster.Case
	for range reports {
		farm := int(100 * r.Float64() * r.Float64()) // some report far more often
		day := int(60 * math.Sqrt(r.Float64()))      // and lately everybody more
		out = append(out, at(farm, today.Add(day-59)))
	}
	return out
}

func at(farm int, on calendar.Date) cluster.Case {
	return cluster.Case{Place: fmt.Sprintf("f%03d", farm), Lat: 4 + float64(farm/10)*0.08, Lng: 9 + float64(farm%10)*0.08, On: on}
}

// An example worked out by hand: 10 reports of 4 farms in 30 days, of which 4
// of the 5 of the two neighbours a and b came in the last two days, in which
// there were 5 of all. Expected are 5 x 5 / 10 = 2.5; the score is 4 ln(4/2.5)
// + 6 ln(6/7.5) = 1.8800 - 1.3389 = 0.5411.
func TestAnExampleByHand(t *testing.T) {
	place := func(p string, lat float64, daysAgo ...int) (out []cluster.Case) {
		for _, d := range daysAgo {
			out = append(out, cluster.Case{Place: p, Lat: lat, Lng: 9, On: today.Add(-d)})
		}
		return out
	}
	var cases []cluster.Case
	cases = append(cases, place("a", 4.00, 0, 1, 20)...)
	cases = append(cases, place("b", 4.01, 0, 1)...)
	cases = append(cases, place("c", 6.00, 1, 15, 18)...)
	cases = append(cases, place("d", 8.00, 22, 25)...)
	cases = append(cases, place("e", 8.00)...)
	c, ok := cluster.Scan(cases, today, cluster.Config{MaxKm: 25, MaxDays: 2, Runs: 99, Seed: 1})
	require.True(t, ok)
	require.Equal(t, []string{"a", "b"}, c.Places)
	require.Equal(t, 4, c.Cases)
	require.InDelta(t, 2.5, c.Expected, 1e-12)
	require.InDelta(t, 4*math.Log(1.6)+6*math.Log(0.8), c.Score, 1e-12)
	require.InDelta(t, 0.5411, c.Score, 0.0001)
	require.Equal(t, today.Add(-1), c.From)
	require.InDelta(t, 1.11, c.Km, 0.01)
}

// The stated false-alarm rate: where nothing is, at most a share p of the
// scans say p or less. Four hundred invented years of nothing; the bound is the
// binomial's (gonum) at one in a thousand.
func TestFalseAlarmsAreNoMoreThanStated(t *testing.T) {
	const worlds = 400
	said := map[float64]int{0.01: 0, 0.05: 0, 0.2: 0}
	for seed := range uint64(worlds) {
		c, ok := cluster.Scan(village(seed, 60), today, cluster.Config{MaxKm: 25, MaxDays: 7, Runs: 99, Seed: seed + 7})
		for p := range said {
			if ok && c.P <= p {
				said[p]++
			}
		}
	}
	for p, n := range said {
		b := distuv.Binomial{N: worlds, P: p}
		require.Greater(t, 1-b.CDF(float64(n)-1), 0.001, "%d false alarms of %d at p = %g", n, worlds, p)
	}
	require.Positive(t, said[0.2], "a test that never says anything is none")
}

// A real outbreak among the same reports is found: five neighbours with two
// reports each within four days are seen at p <= 0.01 in about seven of ten
// worlds (29 of these 40), with three reports each nearly always.
func TestAnOutbreakIsFound(t *testing.T) {
	for reports, least := range map[int]int{2: 26, 3: 36} {
		hits := 0
		for seed := range uint64(40) {
			cases := village(seed, 60)
			for i, farm := range []int{44, 45, 54, 55, 56} {
				for k := range reports {
					cases = append(cases, at(farm, today.Add(-(i+k)%4)))
				}
			}
			c, ok := cluster.Scan(cases, today, cluster.Config{MaxKm: 25, MaxDays: 7, Runs: 199, Seed: seed})
			if ok && c.P <= 0.01 {
				hits++
				require.Contains(t, c.Places, "f055")
			}
		}
		require.GreaterOrEqual(t, hits, least, "of 40, with %d reports each", reports)
		t.Logf("%d reports each: %d of 40", reports, hits)
	}
}

func TestScanIsTheSameForTheSameSeedAndOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cases := village(rapid.Uint64Range(0, 1000).Draw(t, "world"), rapid.IntRange(0, 40).Draw(t, "reports"))
		cfg := cluster.Config{MaxKm: 30, MaxDays: 10, Runs: 19, Seed: rapid.Uint64().Draw(t, "seed"), Enough: 5}
		first, ok := cluster.Scan(cases, today, cfg)
		again, ok2 := cluster.Scan(rapid.Permutation(cases).Draw(t, "order"), today, cfg)
		require.Equal(t, ok, ok2)
		require.Equal(t, first, again)
		if !ok {
			return
		}
		require.False(t, math.IsNaN(first.P+first.Score+first.Expected+first.Km))
		require.True(t, first.P > 0 && first.P <= 1)
		require.Greater(t, float64(first.Cases), first.Expected)
		require.LessOrEqual(t, first.Km, 30.0)
		require.GreaterOrEqual(t, len(first.Places), 2)
	})
}

// The distance from Buea to Douala airport, both by their coordinates, and a
// degree of a meridian by the sphere's own figure: 111.195 km.
func TestKm(t *testing.T) {
	require.InDelta(t, 111.195, cluster.Km(4, 9, 5, 9), 0.001)
	require.InDelta(t, math.Pi*6371.0088, cluster.Km(0, 0, 0, 180), 1e-6, "half way round")
	require.Zero(t, cluster.Km(4, 9, 4, 9))
}

func TestNothingToSay(t *testing.T) {
	for name, cases := range map[string][]cluster.Case{
		"no case":       nil,
		"two":           {at(1, today), at(2, today)},
		"one farm":      {at(1, today), at(1, today.Add(-1)), at(1, today.Add(-2)), at(9, today.Add(-50))},
		"all at once":   {at(1, today), at(2, today), at(3, today)},
		"after the day": {at(1, today.Add(1)), at(2, today.Add(1)), at(3, today.Add(1))},
		"nowhere":       {{Place: "x", Lat: math.NaN(), On: today}, {Place: "y", Lat: 200, On: today}, {Place: "z", Lng: math.Inf(1), On: today}},
	} {
		_, ok := cluster.Scan(cases, today, cluster.Defaults(1))
		require.False(t, ok, name)
	}
}
