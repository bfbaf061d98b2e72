package programme

import (
	"fmt"
	"math"
	"testing"

	"tendfold/domain/calendar"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"
)

// sixty farms of one network, all stocked on the same day.
func sixty(t *testing.T, branches int) ([]Holding, calendar.Date) {
	n := compiled(t, house(), GrowOut, Season{})
	on := day1.Add(60)
	draws := n.HarvestDraws(Known{Start: day1, Done: doneAfter(map[string]int{"stocked": 60})}, on, shared)
	var out []Holding
	for i := range 60 {
		out = append(out, Holding{FarmID: fmt.Sprint("farm ", i), BranchID: fmt.Sprint(i % branches), Amount: 1, Harvest: draws})
	}
	return out, on
}

// Sixty farms that are even odds to have harvested by a day: independent,
// their number is binomial (gonum's distuv.Binomial).
func TestFarmsDoNotMoveAsOne(t *testing.T) {
	holdings, on := sixty(t, 1)
	median := calendar.Date(math.Floor(quantileOf(append([]float64(nil), holdings[0].Harvest...), 0, DrawCount, 0.5)))
	share := 0.0
	for _, h := range holdings[0].Harvest {
		if math.Floor(h+0.5) <= float64(median) {
			share += 1.0 / DrawCount
		}
	}
	ref := distuv.Binomial{N: 60, P: share}
	got := shared.Due(holdings, on, 0, []calendar.Date{on, median, on.Add(9999)})
	require.Equal(t, Band{0, 0, 0}, got[0])
	require.Equal(t, Band{60, 60, 60}, got[2])
	require.InDelta(t, ref.Mean(), got[1].Likely, 1)
	require.InDelta(t, 2*1.2816*ref.StdDev(), got[1].High-got[1].Low, 2)
}

func TestWhatABranchSharesWidensTheBand(t *testing.T) {
	holdings, on := sixty(t, 1)
	apart, _ := sixty(t, 20)
	day := []calendar.Date{on.Add(250)}
	width := func(h []Holding, spread float64) float64 {
		b := shared.Due(h, on, spread, day)[0]
		return b.High - b.Low
	}
	require.Greater(t, width(holdings, 0.1), 1.5*width(holdings, 0))
	require.Greater(t, width(holdings, 0.1), width(apart, 0.1), "twenty branches share less than one")
	require.Equal(t, shared.Due(holdings, on, 0.1, day), NewDraws(DrawSeed, DrawCount).Due(holdings, on, 0.1, day))
}

func TestDueCountsWhatIsDone(t *testing.T) {
	n := compiled(t, row(), GrowOut, Season{})
	on := day1.Add(200)
	draws := n.HarvestDraws(Known{Start: day1, Done: doneAfter(map[string]int{"harvest": 140})}, on, shared)
	h := []Holding{{FarmID: "a", BranchID: "b", Amount: 300, Harvest: draws}}
	got := shared.Due(h, on, 0.5, []calendar.Date{day1.Add(139), day1.Add(140)})
	require.Equal(t, []Band{{0, 0, 0}, {300, 300, 300}}, got, "the past is not stretched")

	undone := n.HarvestDraws(Known{Start: day1}, on, shared)
	for _, d := range undone {
		require.GreaterOrEqual(t, d, float64(on))
	}
}
