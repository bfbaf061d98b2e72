package stock

import (
	"math"
	"testing"

	"tendfold/domain/calendar"

	"github.com/stretchr/testify/require"
)

// clarias are figures like those of the catfish pack.
func clarias() FishFigures {
	return FishFigures{
		Ration: []RationPoint{{8, 0.05}, {45, 0.038}, {122, 0.03}, {250, 0.02}, {1000, 0.01}},
		FCR:    Span{1, 1.2, 1.6}, Survival: Span{0.767, 0.85, 0.9}, SurvivalDays: 185, Unseen: Span{0.002, 0.01, 0.03},
		WeightCV: 0.25, Classes: []float64{500, 800, 1000},
	}
}

// Catfish facts 4b: the curve between its anchors, as per cent a day.
func TestTheRationIsThePublishedCurve(t *testing.T) {
	f := clarias()
	for grams, want := range map[float64]float64{
		10: 4.84, 20: 4.36, 30: 4.08, 50: 3.72, 75: 3.39, 100: 3.16, 150: 2.71, 200: 2.31, 300: 1.87, 500: 1.50, 750: 1.21, 1000: 1.00,
	} {
		require.InDelta(t, want, 100*f.RationAt(grams), 0.0051, "%g g", grams)
	}
	require.Equal(t, 0.05, f.RationAt(1))
	require.Equal(t, 0.01, f.RationAt(5000))
}

// Catfish facts 4b: from 8.5 g to 1 kg in 195, 234 and 291 days at a feed
// conversion of 1.0, 1.2 and 1.5.
func TestDaysToAKilogram(t *testing.T) {
	for fcr, want := range map[float64]int{1: 195, 1.2: 234, 1.5: 291} {
		r, g := fishRun{fcr: fcr, ration: 1}, fishGroup{n: 1, grams: 8.5}
		weeks := 0
		for g.grams < 1000 {
			r.grow(&g, clarias())
			weeks++
		}
		require.InDelta(t, want, 7*weeks, 7, "FCR %g", fcr)
		require.InDelta(t, fcr, r.fed/r.gained, 1e-9)
	}
}

func tank() Plan {
	from := calendar.NewDate(2026, 3, 2)
	return Plan{
		FloorM2: 20, From: from, Today: from, Weeks: 40,
		Batches: []Batch{{On: from, Count: 1000, MeanG: 8.5}}, Harvest: Harvest{MarketG: 800},
	}
}

func TestATankIsProjectedByWeightClass(t *testing.T) {
	out, err := ProjectFish(clarias(), tank(), Seen{}, DrawSeed, Runs)
	require.NoError(t, err)
	require.Len(t, out.Points, 40)
	last := out.Points[39]
	var fish, kg float64
	for _, c := range last.Classes {
		fish += c.Fish.Likely
		kg += c.Kg.Likely
	}
	require.Len(t, last.Classes, 4)
	require.InEpsilon(t, last.Fish.Likely, fish, 0.15, "classes add up, but for medians")
	require.InEpsilon(t, last.Kg.Likely, kg, 0.2)
	require.NotNil(t, out.ReadyLikely)
	require.Less(t, *out.ReadyEarly, *out.ReadyLikely)
	require.InDelta(t, 1.2, out.FCR.Likely, 0.05)
	// Four weeks from 8.5 g at about 5 in 100 a day: E1 of the catfish facts is
	// 10,000 fish of 10 g at 7 in 100, 7 kg a day.
	require.InDelta(t, 0.07*10_000*10/1000, 7.0, 1e-12)
	require.Greater(t, out.Feed.Likely, 28*1000*8.5e-3*0.045)
	require.Less(t, out.Feed.High, 28*1000*50e-3*0.05)
	for _, p := range out.Points {
		for _, b := range []Band{p.Fish, p.MeanG, p.Kg, p.FeedKg} {
			require.False(t, math.IsNaN(b.Low+b.High))
			require.LessOrEqual(t, b.Low, b.High)
		}
	}
}

func TestASampleWeighingUpdatesTheTank(t *testing.T) {
	p := tank()
	p.Today = p.From.Add(84)
	before, err := ProjectFish(clarias(), p, Seen{}, DrawSeed, Runs)
	require.NoError(t, err)
	light := before.Points[0].MeanG.Low
	after, err := ProjectFish(clarias(), p, Seen{Weighings: []Weighing{{On: p.From.Add(80), MeanG: light, N: 30}}}, DrawSeed, Runs)
	require.NoError(t, err)
	require.True(t, after.Learned.Used)
	require.Less(t, after.Points[0].MeanG.Likely, before.Points[0].MeanG.Likely)
	require.Less(t, after.Points[0].MeanG.High-after.Points[0].MeanG.Low, before.Points[0].MeanG.High-before.Points[0].MeanG.Low)
	require.Greater(t, *after.ReadyLikely, *before.ReadyLikely, "a light sample puts the harvest off")
}
