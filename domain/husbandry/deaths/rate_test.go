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
