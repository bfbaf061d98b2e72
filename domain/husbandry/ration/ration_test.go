package ration_test

import (
	"math"
	"testing"

	"tendfold/domain/husbandry/ration"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Worked examples: FAO, New (1987), chapter 8.1 (10,000 fish of 10 g at 7 %);
// Harvest Money (45 g at 3.8 %, 122 g at 3 %); exercises (500 of 10 g at 10 %,
// 1,000 of 250 g at 2 %).
func TestDaily(t *testing.T) {
	for _, c := range []struct{ animals, meanG, share, kg float64 }{
		{10_000, 10, .07, 7}, {1, 45, .038, .00171}, {1, 122, .03, .00366}, {500, 10, .10, .5}, {1000, 250, .02, 5},
	} {
		kg, err := ration.Tank{Animals: c.animals, MeanG: c.meanG}.Daily(c.share)
		require.NoError(t, err)
		require.InDelta(t, c.kg, kg, 1e-12)
	}
}

// An exercise: 225 kg of feed, 175 kg harvested, the weight stocked left out:
// 1.286. A snail trial (ANI): 12.61 g eaten for a gain of 6.51 g is 1.937, and
// (DOD) 648.7 g for 128.96 g is 5.03.
func TestConversion(t *testing.T) {
	for _, c := range []struct{ feed, stocked, harvested, want float64 }{
		{225, 0, 175, 1.286}, {12.61, 1.84, 8.35, 1.937}, {12.14, 1.81, 8.36, 1.853}, {8.09, 1.80, 8.98, 1.127}, {14.16, 1.71, 10.04, 1.700}, {648.7, 160.31, 289.27, 5.03},
	} {
		got, err := ration.Conversion(c.feed, c.stocked, c.harvested)
		require.NoError(t, err)
		require.InDelta(t, c.want, got, 5e-3)
	}
	_, err := ration.Conversion(10, 5, 5)
	require.ErrorContains(t, err, "harvested_kg")
}

// curve is the ration put together from single published points.
func curve(g float64) float64 {
	grams, percent := []float64{8, 45, 122, 250, 1000}, []float64{5, 3.8, 3, 2, 1}
	for i, to := range grams {
		if g > to {
			continue
		}
		if i == 0 {
			return percent[0] / 100
		}
		x := math.Log(g/grams[i-1]) / math.Log(to/grams[i-1])
		return (percent[i-1] + x*(percent[i]-percent[i-1])) / 100
	}
	return percent[4] / 100
}

// The reference's own simulation of that curve: from 8.5 g to 1 kg in 195, 234
// and 291 days at a feed conversion of 1.0, 1.2 and 1.5.
func TestDaysTo(t *testing.T) {
	for fcr, want := range map[float64]int{1.0: 195, 1.2: 234, 1.5: 291} {
		got, ok, err := ration.Course{Ration: curve, FCR: fcr, Weekly: 1}.DaysTo(8.5, 1000)
		require.NoError(t, err)
		require.True(t, ok)
		require.InDelta(t, want, got, 1)
	}
	_, ok, err := ration.Course{Ration: func(float64) float64 { return 0 }, FCR: 1, Weekly: 1}.DaysTo(8.5, 1000)
	require.NoError(t, err)
	require.False(t, ok, "who eats nothing never grows")
}

// The feed of the weeks ahead, divided by the growth of those who live, is the
// feed conversion.
func TestAheadKeepsItsConversion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := ration.Course{Ration: curve, FCR: rapid.Float64Range(.8, 3).Draw(t, "fcr"), Weekly: 1}
		tank := ration.Tank{Animals: rapid.Float64Range(1, 1e5).Draw(t, "animals"), MeanG: rapid.Float64Range(1, 900).Draw(t, "g")}
		weeks, err := c.Ahead(tank, 4)
		require.NoError(t, err)
		var feed float64
		for _, w := range weeks {
			feed += w.FeedKg
		}
		require.InEpsilon(t, c.FCR, feed/(weeks[3].Kg-tank.Kg()), 1e-9)
	})
	weeks, err := ration.Course{Ration: curve, FCR: 1.2, Weekly: .9}.Ahead(ration.Tank{Animals: 1000, MeanG: 50}, 2)
	require.NoError(t, err)
	require.InDelta(t, 810, weeks[1].Animals, 1e-9)
}

// FAO T362 section 6.1: a quarter of the water a day above 1 kg/m2.
func TestWaterChange(t *testing.T) {
	changes := []ration.Change{{0, 0}, {1, 25}}
	require.Zero(t, ration.WaterChange(.9, changes))
	require.InDelta(t, 25, ration.WaterChange(1, changes), 0)
	require.InDelta(t, 25, ration.WaterChange(4, changes), 0)
	require.Zero(t, ration.WaterChange(4, nil))
}

func TestNeedOf(t *testing.T) {
	n, err := ration.NeedOf(100, .02, .10, .20, 30)
	require.NoError(t, err)
	require.InDelta(t, 14, n.Dry, 1e-12)
	require.InDelta(t, 70, n.Fresh, 1e-12)
	require.InDelta(t, 2.8, n.Calcium, 1e-12)
	require.InDelta(t, 40, n.Gap, 1e-12)
	n, err = ration.NeedOf(10, .02, .10, .20, 30)
	require.NoError(t, err)
	require.Zero(t, n.Gap, "what is left over is no gap")
	_, err = ration.NeedOf(-1, .02, .1, .2, 0)
	require.ErrorContains(t, err, "biomass_kg is -1; it must be 0 to 100000000 kg")
}

func TestRefusals(t *testing.T) {
	_, err := ration.Tank{Animals: 10, MeanG: 0}.Daily(.02)
	require.ErrorContains(t, err, "mean_g")
	_, err = ration.Tank{Animals: 10, MeanG: 10}.Daily(2)
	require.ErrorContains(t, err, "ration")
	_, err = ration.Course{Ration: curve, FCR: 0, Weekly: 1}.Ahead(ration.Tank{Animals: 1, MeanG: 1}, 4)
	require.ErrorContains(t, err, "fcr")
	_, err = ration.Course{Ration: curve, FCR: 1, Weekly: 1}.Ahead(ration.Tank{Animals: 1, MeanG: 1}, 0)
	require.ErrorContains(t, err, "weeks")
	_, _, err = ration.Course{Ration: curve, FCR: 1, Weekly: 1}.DaysTo(0, 5)
	require.ErrorContains(t, err, "mean_g")
}
