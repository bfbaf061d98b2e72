package rehearsal

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tendfold/domain/rehearsal/truth"
)

// The packs that ship, on a run small enough for every test run: wide bounds
// around what docs/decisions/020-rehearsal.md reports of large ones. Whoever
// changes a rule or a figure and breaks this has to look at that page again.
func TestHeadlineFigures(t *testing.T) {
	r, err := Run(Config{Farms: 110, Days: 420, Seeds: []uint64{20}, World: truth.Fair, Plans: shippedPlans(t)}, nil, nil)
	require.NoError(t, err)
	s := r.Score()
	got := r.Report(s)
	require.Greater(t, got.Faults.Major, 30, "enough to speak of shares")
	require.GreaterOrEqual(t, got.Recall, .78)
	require.GreaterOrEqual(t, got.Precise, .70)
	require.LessOrEqual(t, *got.Median, 5.)
	require.LessOrEqual(t, got.Clean, 1.8)
	require.LessOrEqual(t, got.Unexpl, 1.)
	require.LessOrEqual(t, got.Load, 1.5)
	require.LessOrEqual(t, got.LoadP95, 6)
	require.LessOrEqual(t, got.Flap, .10)
	require.Greater(t, got.Plain.Precision, got.Naive.Precision+.10, "better than a date check")
	require.Less(t, float64(got.Faults.Undetectable), .35*float64(got.Faults.Major+got.Faults.Minor+got.Faults.Undetectable))
}
