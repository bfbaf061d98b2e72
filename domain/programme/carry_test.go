package programme

import (
	"math"
	"testing"

	"tendfold/domain/calendar"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"
)

// nursery is house with young that are weighed on their own first.
func nursery(carry float64) Programme {
	p := house()
	young := Milestone{
		Key: "young", After: []string{"hatch"}, Kind: Living, Days: Days{100, 122, 180}, Purposes: []Purpose{Breeding}, OnWay: true, QuietDays: 16,
		Curve: &Curve{Reading: Weight, From: 3, To: 40, CV: 0.06, SpreadCV: 0.25},
	}
	i := len(p.Milestones) - 2
	p.Milestones[i].After = []string{"stocked", "young"}
	c := *p.Milestones[i].Curve
	c.Carry = carry
	p.Milestones[i].Curve = &c
	p.Milestones = append(p.Milestones[:i:i], append([]Milestone{young}, p.Milestones[i:]...)...)
	return p
}

// hatched is a breeding cycle whose young take days to be sorted out.
func hatched(n *Network, days float64, weighings int) (Known, calendar.Date) {
	hatch := day1.Add(180)
	c := n.nodes[n.index["young"]].Curve
	k := Known{
		Start: day1, LastEvidence: heardDaily(day1, hatch.Add(400)),
		Done: map[string]calendar.Date{"covered": day1.Add(42), "stocked": day1.Add(55), "two-week": day1.Add(69), "clutch": day1.Add(150), "hatch": hatch},
	}
	for m := 1; m <= weighings; m++ {
		k.Readings = append(k.Readings, Reading{Kind: Weight, On: hatch.Add(30 * m), Value: c.From + (c.To-c.From)*c.share(float64(30*m)/days), N: 30})
	}
	return k, hatch
}

func TestThePaceOfTheYoungIsCarriedOn(t *testing.T) {
	late := func(carry, days float64, sorted bool) int {
		n := compiled(t, nursery(carry), Breeding, Season{})
		k, hatch := hatched(n, days, 3)
		on := hatch.Add(95)
		if sorted {
			on = hatch.Add(int(days) + 5)
			k.Done["young"] = hatch.Add(int(days))
		}
		return n.Forecast(k, n.Baseline(day1, shared), on, shared, Options{}).GrowthLate
	}
	for _, sorted := range []bool{false, true} {
		require.Greater(t, late(0.8, 170, sorted), late(0, 170, sorted)+20, "slow young, sorted: %v", sorted)
		require.Less(t, late(0.8, 105, sorted), late(0, 105, sorted)-10, "quick young, sorted: %v", sorted)
		require.InDelta(t, 0, late(0.8, 131, sorted), 15, "young as the law has them, sorted: %v", sorted)
	}
}

// Levels go to the normal law's and back as gonum's distuv has them, and the
// tie is the density of one level given the other over that of it alone.
func TestLevelsAndTheTie(t *testing.T) {
	l := newLaw(Days{100, 122, 180}, 0.05)
	unit := distuv.UnitNormal
	for u := 0.01; u < 1; u += 0.07 {
		d := l.quantile(u)
		require.InDelta(t, unit.Quantile(u), l.normal(d), 1e-9)
		require.InDelta(t, unit.Quantile(u), normalAt(u), 1e-9)
		require.InDelta(t, d, l.atNormal(l.normal(d)), 1e-6)
	}
	require.InDelta(t, mostNormal, l.normal(1e5), 0)
	require.InDelta(t, -mostNormal, l.normal(0), 0)

	for _, z := range [][2]float64{{0, 0}, {1, 2}, {-1.5, 0.3}, {2.5, -2}} {
		x, y := z[0], z[1]
		given := distuv.Normal{Mu: 0.8 * y, Sigma: math.Sqrt(1 - 0.64)} // x when y is known
		want := given.LogProb(x) - unit.LogProb(x)
		require.InDelta(t, want, tie(0.8, x, y)-math.Log(1-0.64)/2, 1e-9)
	}
}
