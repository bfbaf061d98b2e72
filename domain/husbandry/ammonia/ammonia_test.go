package ammonia_test

import (
	"math"
	"testing"

	"tendfold/domain"
	"tendfold/domain/husbandry/ammonia"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The table of UF/IFAS FA16 "calculated from Emerson et al. 1975", also Table
// 1.4 of Fundamentals of Aquatic Veterinary Medicine, 20 to 30 °C.
var published = map[float64][6]float64{
	7.0: {.0039, .0046, .0052, .0060, .0069, .0080},
	7.2: {.0062, .0072, .0083, .0096, .0110, .0126},
	7.4: {misprint, .0114, .0131, .0150, .0173, .0198},
	7.6: {.0155, .0179, .0206, .0236, .0271, .0310},
	7.8: {.0244, .0281, .0322, .0370, .0423, .0482},
	8.0: {.0381, .0438, .0502, .0574, .0654, .0743},
	8.2: {.0590, .0676, .0772, .0880, .0998, .1129},
	8.4: {.0904, .1031, .1171, .1326, .1495, .1678},
	8.6: {.1361, .1541, .1737, .1950, .2178, missing},
}

// At 20 °C and pH 7.4 the table prints .0096 where its own formula gives
// .0098; at 30 °C and pH 8.6 the copy that was read has no value.
const (
	misprint = -1
	missing  = -2
)

func TestFractionFitsThePublishedTable(t *testing.T) {
	cells := 0
	for ph, row := range published {
		for i, want := range row {
			temperature := 20 + 2*float64(i)
			got, err := ammonia.Fraction(temperature, ph)
			require.NoError(t, err)
			if want < 0 {
				continue
			}
			cells++
			require.InDelta(t, want, got, 1e-4, "%v °C, pH %v", temperature, ph)
		}
	}
	require.Equal(t, 52, cells)
}

// The worked examples of FA16 (figure 3), and the formula's values for cells
// that are not printed, as the reference works them out.
func TestOf(t *testing.T) {
	for _, c := range []struct{ tan, temperature, ph, fraction, nh3n, off float64 }{
		{1, 24, 8.0, .0502, .0502, 5e-5},
		{1, 20, 8.5, .1112, .1112, 5e-5}, // a test kit prints .1118, by Trussell (1972)
		{1, 25, 7.0, .0056, .0056, 5e-5},
		{2, 25, 8.5, .1521, .3042, 1e-4}, // a forum's .082 is wrong
		{1, 25, 9.0, .3619, .3619, 5e-5},
		{1, 28, 8.5, .1812, .1812, 5e-5},
		{1, 32, 8.0, .0842, .0842, 5e-5}, // FA16 prints .0877: its 32 °C column is that of 32.6
		{0, 27, 7.5, .0202, 0, 5e-5},
	} {
		got, err := ammonia.Of(ammonia.Water{TAN: c.tan, TemperatureC: c.temperature, PH: c.ph})
		require.NoError(t, err)
		require.InDelta(t, c.fraction, got.Fraction, c.off)
		require.InDelta(t, c.nh3n, got.NH3N, c.off)
	}
}

func TestOfRefuses(t *testing.T) {
	for field, w := range map[string]ammonia.Water{
		"tan_mg_l":      {TAN: -1, TemperatureC: 25, PH: 7},
		"temperature_c": {TAN: 1, TemperatureC: 77, PH: 7},
		"ph":            {TAN: 1, TemperatureC: 25, PH: math.NaN()},
	} {
		_, err := ammonia.Of(w)
		var e *domain.Error
		require.ErrorAs(t, err, &e)
		require.Len(t, e.Fields, 1)
		require.Equal(t, field, e.Fields[0].Path)
	}
	_, err := ammonia.Of(ammonia.Water{TAN: -1, TemperatureC: -1, PH: -1})
	var e *domain.Error
	require.ErrorAs(t, err, &e)
	require.Len(t, e.Fields, 3, "every wrong field is named")
}

// More heat and a higher pH free more ammonia, and the share stays a share.
func TestFractionRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		temperature, ph := rapid.Float64Range(0, 49).Draw(t, "temperature"), rapid.Float64Range(0, 13).Draw(t, "pH")
		at := func(temperature, ph float64) float64 {
			f, err := ammonia.Fraction(temperature, ph)
			require.NoError(t, err)
			return f
		}
		f := at(temperature, ph)
		require.Greater(t, f, 0.0)
		require.Less(t, f, 1.0)
		require.Greater(t, at(temperature+1, ph), f)
		require.Greater(t, at(temperature, ph+1), f)
	})
}
