package density_test

import (
	"math"
	"testing"

	"tendfold/domain/farm"
	"tendfold/domain/husbandry/density"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// breeders are the published limits of adult snails: 8 to 10 a m2 (Wikibooks,
// Heliciculture) and 1.0 to 1.63 kg/m2 (the same, a third of a pound a ft2).
var breeders = density.Limit{Animals: 10, Kg: 1.6}

func load(t *testing.T, animals, meanG, area float64) density.Load {
	t.Helper()
	l, err := density.LoadOf(animals, meanG, area)
	require.NoError(t, err)
	return l
}

// Managing agrodiversity the traditional way, pp. 237-238: 100 snails of 50 g in
// a tray of 60 by 30 cm are 0.18 m2, 5 kg, 27.8 kg/m2 and 555.6 a m2.
func TestTheCrowdedTrayIsFlagged(t *testing.T) {
	l := load(t, 100, 50, 0.6*0.3)
	require.InDelta(t, 27.8, l.Kg, 0.05)
	require.InDelta(t, 555.6, l.Animals, 0.05)
	require.Equal(t, density.Over{Animals: true, Kg: true}, l.Beyond(density.Limit{Animals: 80, Kg: 1.6}))
}

// A third of a pound a ft2, 10 lb on 100 ft2, and 10 to 12 a ft2, as the
// reference turns them.
func TestOldMeasures(t *testing.T) {
	require.InDelta(t, 1.6275, density.PoundsPerFt2(1.0/3), 5e-5)
	require.InDelta(t, 0.4882, density.PoundsPerFt2(0.1), 5e-5)
	require.InDelta(t, 107.6, density.PerFt2(10), 0.05)
	require.InDelta(t, 129.2, density.PerFt2(12), 0.05)
}

// Stocking density trial of Archachatina marginata: 5, 10, 15 and 20 snails in
// cages of 0.5 by 0.5 m are 20, 40, 60 and 80 a m2.
func TestCagesOfTheTrial(t *testing.T) {
	for n, want := range map[float64]float64{5: 20, 10: 40, 15: 60, 20: 80} {
		require.InDelta(t, want, load(t, n, 30, 0.25).Animals, 1e-9)
	}
}

// An invented house of 40 m2 said to hold 1,000 adults of 120 g; and 2,000 in 15
// by 45 ft (common practice, no source).
func TestClaimsThatAreFlagged(t *testing.T) {
	l := load(t, 1000, 120, 40)
	require.InDelta(t, 25, l.Animals, 1e-9)
	require.InDelta(t, 3.0, l.Kg, 1e-9)
	require.True(t, l.Beyond(breeders).Any())
	room, known, err := breeders.Room(120, 40)
	require.NoError(t, err)
	require.True(t, known)
	require.InDelta(t, 400, room, 0, "10 a m2; by weight 533")
	pens, _, err := breeders.Pens(1000, 120, 25)
	require.NoError(t, err)
	require.InDelta(t, 4, pens, 0)

	area := farm.Length{Value: 15, Measure: "ft"}.Metres() * farm.Length{Value: 45, Measure: "ft"}.Metres()
	require.True(t, load(t, 2000, 150, area).Beyond(breeders).Any())
	require.False(t, load(t, 8, 120, 1).Beyond(breeders).Any(), "8 a m2 breed best")
}

// What the limit allows is never flagged, and one more is.
func TestRoomIsTheLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		most := density.Limit{Animals: rapid.Float64Range(.5, 200).Draw(t, "per m2"), Kg: rapid.Float64Range(.1, 10).Draw(t, "kg")}
		meanG, area := rapid.Float64Range(.1, 500).Draw(t, "g"), rapid.Float64Range(1, 500).Draw(t, "m2")
		room, known, err := most.Room(meanG, area)
		require.NoError(t, err)
		require.True(t, known)
		below, err := density.LoadOf(max(0, room-1), meanG, area)
		require.NoError(t, err)
		require.False(t, below.Beyond(most).Any())
		above, err := density.LoadOf(room+1, meanG, area)
		require.NoError(t, err)
		require.True(t, above.Beyond(most).Any())
		pens, ok, err := most.Pens(1000, meanG, area)
		require.NoError(t, err)
		require.False(t, math.IsNaN(pens) || math.IsInf(pens, 0))
		require.Equal(t, room > 0, ok)
	})
}

func TestRefusals(t *testing.T) {
	_, err := density.LoadOf(10, 120, 0)
	require.ErrorContains(t, err, "area_m2 is 0; it must be 0.01 to 1000000 m2")
	_, err = density.LoadOf(-1, 120, 1)
	require.ErrorContains(t, err, "animals")
	_, err = density.LoadOf(1, 0, 1)
	require.ErrorContains(t, err, "mean_g")
	_, known, err := density.Limit{}.Room(100, 40)
	require.NoError(t, err)
	require.False(t, known)
	_, _, err = breeders.Pens(-1, 100, 1)
	require.ErrorContains(t, err, "animals")
}
