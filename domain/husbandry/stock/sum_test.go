package stock

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Husbandry facts W1 (a blog's batch) and W2 (Enugu East, 70 farms): the
// printed figures to the last unit of money.
func TestMoneyIsExact(t *testing.T) {
	eggs := BareSum(10, 1, 300, 1, Span{1, 1, 1}, 1).Animals
	require.Equal(t, 3000.0, eggs)
	sold := int64(eggs * 0.9)
	require.Equal(t, int64(2700), sold)
	w1 := Money{Revenue: sold * 150, Variable: 10 * 90}
	require.Equal(t, int64(405_000), w1.Revenue)
	require.Equal(t, int64(404_100), w1.Result().Net)

	w2 := Money{Revenue: 70_879_00, Variable: 15_923_23, Fixed: 7_588_52}.Result()
	require.Equal(t, int64(54_955_77), w2.GrossMargin)
	require.Equal(t, int64(47_367_25), w2.Net)
	require.Equal(t, int64(23_511_75), w2.TotalCost)
	require.InDelta(t, 2.0146, w2.PerCost, 5e-5)
	require.InDelta(t, 152.43, 70_879.0/465, 0.005)
	require.InDelta(t, 118.18, float64(w2.GrossMargin)/100/465, 0.005)
	require.Zero(t, Money{}.Result().PerCost)
}

// Husbandry facts L1 (UNCW, Emslie) and L2 (MUN, Carr).
func TestLifeTables(t *testing.T) {
	l1 := LifeTableOf([]float64{1, 0.45, 0.15, 0.05}, []float64{0, 2, 2.5, 2.5})
	require.InDelta(t, 1.400, l1.R0, 1e-9)
	require.InDelta(t, 1.4464, l1.T, 5e-5)
	require.InDelta(t, 0.2326, l1.R, 5e-5)
	for s, want := range map[float64]float64{0.5: 2.0, 0.75: 4.03125, 0.25: 0.71875} {
		require.InDelta(t, want, LifeTableOf([]float64{1, s, s * s, s * s * s}, []float64{0, 2, 3, 2}).R0, 1e-9)
	}
	require.Zero(t, LifeTableOf(nil, nil))
}

// 1,000 adults that lay three times 250 eggs are 750,000 snails on paper; a
// house of 40 m2 carries 267 to 427 of 150 g.
func TestTheBareSumStandsBesideTheRoom(t *testing.T) {
	b := BareSum(1000, 3, 250, 40, Span{1, 1.25, 1.6}, 150)
	require.Equal(t, 750_000.0, b.Animals)
	require.InDelta(t, 266.7, b.Room.Low, 0.1)
	require.InDelta(t, 426.7, b.Room.High, 0.1)
	require.Equal(t, "floor", b.Reason)
	require.InDelta(t, 2250, b.Times, 1)
	require.Empty(t, BareSum(1, 1, 8, 40, Span{1, 1.25, 1.6}, 150).Reason)
}
