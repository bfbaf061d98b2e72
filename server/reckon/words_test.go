package reckon

import (
	"testing"

	"tendfold/checklists"
	"tendfold/domain/calendar"

	"github.com/stretchr/testify/require"
)

// Nothing that a template's answer holds is left without words.
func TestEverythingHasWords(t *testing.T) {
	set, err := checklists.Embedded()
	require.NoError(t, err)
	for _, topic := range Topics() {
		a, err := Do(topic, []byte(Template(topic, English)), set, English)
		require.NoError(t, err)
		for name, o := range a.Outputs {
			require.Contains(t, names, name)
			require.Contains(t, measures, o.Measure, name)
			if v, word := o.Value.(string); word && !isDay(v) {
				require.Contains(t, verdicts, v)
			}
		}
		for name := range a.Series {
			require.Contains(t, names, name)
		}
		for _, s := range a.Sources {
			require.NotEmpty(t, s.Says, s.For)
		}
	}
	for _, words := range []map[string]text{names, measures, verdicts, cautionWords} {
		for key, said := range words {
			if key == "" {
				continue // a value without a measure
			}
			require.NotEmpty(t, said.en, key)
			require.NotEmpty(t, said.fr, key)
		}
	}
}

func isDay(s string) bool {
	_, err := calendar.ParseDate(s)
	return err == nil
}

func TestDecimal(t *testing.T) {
	for want, v := range map[string]float64{
		"0": 0, "3.881": 3.8805, "0.04227": 0.0422743, "1235": 1234.56, "12346": 12345.6, "-2.5": -2.5, "0.000006": 5.6e-6, "1.235e+12": 1.23456e12,
	} {
		require.Equal(t, want, decimal(v, English))
	}
	require.Equal(t, "0,5", decimal(.5, French))
}
