package daybook_test

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"tendfold/domain/daybook"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"
)

// cases are those that the phone is held to as well.
type cases struct {
	Judge []struct {
		Name   string         `json:"name"`
		Bounds daybook.Bounds `json:"bounds"`
		Stock  daybook.Stock  `json:"stock"`
		Value  float64        `json:"value"`
		Want   daybook.Ruling `json:"want"`
	} `json:"judge"`
	Sample []struct {
		Name    string         `json:"name"`
		Weights []float64      `json:"weights"`
		Want    daybook.Sample `json:"want"`
	} `json:"sample"`
	Standing []struct {
		Name  string      `json:"name"`
		Words [][2]string `json:"words"`
		Want  []string    `json:"want"`
	} `json:"standing"`
}

func read(t *testing.T) cases {
	t.Helper()
	src, err := os.ReadFile("testdata/judge.json")
	require.NoError(t, err)
	var out cases
	require.NoError(t, json.Unmarshal(src, &out))
	return out
}

func TestAValueIsFineUnlikelyOrImpossible(t *testing.T) {
	for _, c := range read(t).Judge {
		t.Run(c.Name, func(t *testing.T) {
			got := c.Bounds.Judge(c.Value, c.Stock)
			require.Equal(t, c.Want.Verdict, got.Verdict)
			require.Equal(t, c.Want.Why, got.Why)
			require.InDelta(t, c.Want.Limit, got.Limit, 1e-9)
		})
	}
	require.Equal(t, daybook.Impossible, daybook.Bounds{}.Judge(math.NaN(), daybook.Stock{}).Verdict)
}

func TestSampleOf(t *testing.T) {
	for _, c := range read(t).Sample {
		t.Run(c.Name, func(t *testing.T) {
			got := daybook.SampleOf(c.Weights)
			require.Equal(t, c.Want.N, got.N)
			require.InDelta(t, c.Want.Mean, got.Mean, 1e-5)
			require.InDelta(t, c.Want.SD, got.SD, 1e-5)
		})
	}
}

// gonum's stat is the reference: unbiased standard deviation.
func TestASampleAgreesWithGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ws := rapid.SliceOfN(rapid.Float64Range(0.1, 50_000), 2, 60).Draw(t, "weights")
		mean, sd := stat.MeanStdDev(ws, nil)
		got := daybook.SampleOf(ws)
		require.InEpsilon(t, mean, got.Mean, 1e-9)
		require.InDelta(t, sd, got.SD, 1e-7*mean)
	})
}

func TestTheLastWordStands(t *testing.T) {
	for _, c := range read(t).Standing {
		t.Run(c.Name, func(t *testing.T) {
			require.Equal(t, c.Want, standing(words(c.Words)))
		})
	}
}

func words(raw [][2]string) []daybook.Word {
	out := make([]daybook.Word, len(raw))
	for i, w := range raw {
		out[i] = daybook.Word{ID: w[0], Replaces: w[1]}
	}
	return out
}

func standing(ws []daybook.Word) []string {
	out := []string{}
	for _, i := range daybook.Standing(ws) {
		out = append(out, ws[i].ID)
	}
	return out
}

func TestTheOrderOfArrivalDoesNotMatter(t *testing.T) {
	id := rapid.SampledFrom([]string{"a", "b", "c", "d", "e", "f"})
	rapid.Check(t, func(t *rapid.T) {
		ids := rapid.SliceOfNDistinct(id, 1, 6, rapid.ID).Draw(t, "ids")
		ws := make([]daybook.Word, len(ids))
		for i, one := range ids {
			ws[i] = daybook.Word{ID: one, Replaces: rapid.OneOf(rapid.Just(""), id).Draw(t, "replaces")}
		}
		mixed := rapid.Permutation(ws).Draw(t, "mixed")
		require.ElementsMatch(t, standing(ws), standing(mixed))
		require.NotEmpty(t, standing(ws), "something always stands")
	})
}
