package truth

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestManyFarmsHaveNoFault(t *testing.T) {
	for _, n := range []int{20, 60, 600} {
		clean := 0
		for i := range n {
			if len(land(Fair).Farm(i).Inject(Kinds(), 540)) == 0 {
				clean++
			}
		}
		require.GreaterOrEqual(t, float64(clean), .40*float64(n), "%d farms", n)
	}
}

// Only faults are injected that somebody asked for, and by default only those
// for which a rule exists.
func TestInjectsWhatWasAskedFor(t *testing.T) {
	for i := range 200 {
		require.Empty(t, land(Fair).Farm(i).Inject(nil, 540))
		for _, x := range land(Fair).Farm(i).Inject([]Kind{SilentFarm, DieOff}, 540) {
			require.Contains(t, []Kind{SilentFarm, DieOff}, x.Kind)
		}
	}
	require.NotContains(t, DefaultKinds(), DieOff)
	require.NotContains(t, DefaultKinds(), PumpFailure)
	require.NotContains(t, DefaultKinds(), Overcrowding)
	require.False(t, Kind("gremlins").Known())
}

// Whoever has no fault has a twin that is himself: nothing costs anything.
func TestFaultlessFarmsCostNothing(t *testing.T) {
	for i := range 50 {
		f := land(Fair).Farm(i)
		c, twin := f.Run(nil), f.Run([]Fault{})
		require.Empty(t, c.Cases())
		require.Equal(t, twin.Done, c.Done)
		require.Equal(t, twin.alive, c.alive)
	}
}

// A fault without any strength costs nothing either, of every kind.
func TestEmptyFaultsCostNothing(t *testing.T) {
	empty := []Fault{
		{Kind: LatePlanting, Factor: 1},
		{Kind: LateTraining, Factor: 1},
		{Kind: MissedSeason, Factor: 1},
		{Kind: SlowCover, Factor: 1},
		{Kind: SlowGrowth, Factor: 1},
		{Kind: PoorFeed, Factor: 1, Days: 50},
		{Kind: SilentFarm, From: 30, Factor: 1},
		{Kind: PumpFailure, Days: 3, Factor: 1},
		{Kind: DieOff, Days: 1},
	}
	f := farmOf(t, land(Fair), "snail", "grow-out")
	for _, x := range empty {
		k := f.Run([]Fault{x}).Cases()[0]
		require.Zero(t, k.CostDays, x.Kind)
		require.Zero(t, k.CostStock, x.Kind)
	}
}

func TestFaultsCostWhatTheyDo(t *testing.T) {
	f := farmOf(t, land(Fair), "snail", "grow-out")
	twin := f.Run(nil)
	cost := func(x Fault) Case { return f.Run([]Fault{x}).Cases()[0] }

	late := cost(Fault{Kind: LatePlanting, Days: 30})
	require.Equal(t, twin.begun[f.Plan.At(Planted)], late.Start)
	require.Equal(t, twin.Done[f.Plan.At(Planted)]+30, late.Complete)
	require.True(t, late.Major())

	died := cost(Fault{Kind: DieOff, From: 20, Days: 1, Factor: .3})
	require.Zero(t, died.CostDays)
	require.InDelta(t, .3, died.CostStock, .02)

	slow := cost(Fault{Kind: SlowGrowth, Factor: .5})
	require.Greater(t, slow.CostDays, 200)
	require.Equal(t, twin.Stocked(), slow.Start)

	fed := cost(Fault{Kind: PoorFeed, From: 30, Days: 40, Factor: .5})
	require.InDelta(t, 20, fed.CostDays, 6)
	require.Equal(t, fed.Start+40, fed.Complete)

	skipped := cost(Fault{Kind: GoAheadSkipped, Days: 10, Factor: 5})
	require.Less(t, skipped.Start, twin.Stocked())
	require.GreaterOrEqual(t, skipped.CostStock, .05)
}

// Two faults on one farm: each costs what it adds to the other.
func TestCostIsByLeavingOneOut(t *testing.T) {
	f := farmOf(t, land(Fair), "snail", "grow-out")
	both := []Fault{{Kind: LateTraining, Days: 60}, {Kind: LatePlanting, Days: 20}}
	all, one := f.Run(both), f.Run(both[:1])
	require.Equal(t, all.Harvest()-one.Harvest(), all.Cases()[1].CostDays)
}

// The season that is missed lies between the delay and the stocking.
func TestMissedSeasonWaitsForTheNext(t *testing.T) {
	found := 0
	for i := range 3000 {
		f := land(Fair).Farm(i)
		for _, x := range f.Inject([]Kind{MissedSeason}, 540) {
			found++
			c := f.Run([]Fault{x})
			k := c.Cases()[0]
			require.Less(t, f.Run(nil).Stocked(), k.Complete, "without the fault it would have made it")
			require.Greater(t, c.Stocked(), k.Complete)
			require.GreaterOrEqual(t, k.CostDays, 14)
		}
	}
	require.Positive(t, found)
}

func TestMajorAndMinor(t *testing.T) {
	for _, x := range []struct {
		days         int
		stock        float64
		major, minor bool
	}{{14, 0, true, false}, {0, .05, true, false}, {13, .049, false, true}, {7, 0, false, true}, {0, .03, false, true}, {6, .029, false, false}} {
		k := Case{CostDays: x.days, CostStock: x.stock}
		require.Equal(t, x.major, k.Major(), x)
		require.Equal(t, x.minor, k.Minor(), x)
	}
}
