package deaths_test

import (
	"testing"

	"tendfold/domain"
	"tendfold/domain/husbandry/deaths"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Garwood (1936), Biometrika 28:437; Pearson and Hartley, table 40; Ulm
// (1990), Am. J. Epidemiol. 131:373.
func TestRateOfGarwood(t *testing.T) {
	for n, want := range map[int][2]float64{
		0: {0, 3.688879}, 1: {0.025318, 5.571643}, 2: {0.242209, 7.224688}, 3: {0.618672, 8.767273}, 4: {1.089865, 10.241589},
		5: {1.623486, 11.668332}, 6: {2.201894, 13.059474}, 7: {2.814363, 14.422675}, 8: {3.453832, 15.763189}, 9: {4.115373, 17.084803},
		10: {4.795389, 18.390356}, 11: {5.491160, 19.682039}, 12: {6.200575, 20.961585}, 13: {6.921952, 22.230396}, 14: {7.653930, 23.489621},
		15: {8.395386, 24.740219}, 16: {9.145382, 25.982998}, 17: {9.903126, 27.218647}, 18: {10.667941, 28.447760}, 19: {11.439241, 29.670854},
		20: {12.216520, 30.888378}, 30: {20.240874, 42.826865},
	} {
		r, err := deaths.RateOf(n, 1)
		require.NoError(t, err)
		require.InDelta(t, want[0], r.Low, 5e-7, "%d", n)
		require.InDelta(t, want[1], r.High, 5e-7, "%d", n)
		require.InDelta(t, float64(n), r.Rate, 0)
	}
}

// R documentation of poisson.test: 137 events in 24.19893 (memory).
func TestRateOfAnExposure(t *testing.T) {
	r, err := deaths.RateOf(137, 24.19893)
	require.NoError(t, err)
	require.InDelta(t, 5.661407, r.Rate, 5e-7)
	require.InDelta(t, 4.753125, r.Low, 5e-7)
	require.InDelta(t, 6.692709, r.High, 5e-7)
}

func TestRateOfAnyCount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, exposure := rapid.IntRange(0, 1e7).Draw(t, "n"), rapid.Float64Range(1e-6, 1e12).Draw(t, "exposure")
		r, err := deaths.RateOf(n, exposure)
		require.NoError(t, err)
		require.LessOrEqual(t, r.Low, r.Rate)
		require.Less(t, r.Rate, r.High)
	})
}

func TestRateOfRefuses(t *testing.T) {
	for field, c := range map[string]struct {
		n        int
		exposure float64
	}{"count": {-1, 1}, "exposure": {1, 0}} {
		_, err := deaths.RateOf(c.n, c.exposure)
		var e *domain.Error
		require.ErrorAs(t, err, &e)
		require.Equal(t, field, e.Fields[0].Path)
	}
}

// R documentation of poisson.test (memory): 11 in 800 against 21 in 3011. The
// second row is that of Boice and Monson (1977), tuberculosis and breast cancer,
// 41 in 28010 against 15 in 19017 (exact interval worked out apart).
func TestRatioOf(t *testing.T) {
	for _, c := range []struct {
		x         int
		n         float64
		y         int
		m         float64
		want      deaths.Ratio
		tolerance float64
	}{
		{11, 800, 6 + 8 + 7, 1083 + 1050 + 878, deaths.Ratio{Ratio: 1.971488, Low: 0.8584264, High: 4.277266, Bounded: true}, 5e-7},
		{41, 28010, 15, 19017, deaths.Ratio{Ratio: 1.855759, Low: 1.00568, High: 3.60930, Bounded: true}, 5e-6},
	} {
		got, err := deaths.RatioOf(c.x, c.n, c.y, c.m)
		require.NoError(t, err)
		require.InDelta(t, c.want.Ratio, got.Ratio, c.tolerance)
		require.InDelta(t, c.want.Low, got.Low, c.tolerance)
		require.InDelta(t, c.want.High, got.High, c.tolerance)
		require.True(t, got.Bounded)
	}
	none, err := deaths.RatioOf(3, 10, 0, 10)
	require.NoError(t, err)
	require.False(t, none.Bounded)
	require.Positive(t, none.Low)
	_, err = deaths.RatioOf(0, 10, 0, 10)
	require.ErrorContains(t, err, "count")
}
