package api_test

import (
	"encoding/json"
	"os"
	"testing"

	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

// What phones of each release wrote must be taken for as long as one of them
// may come back. The files are kept as they were; they are not made anew.
func TestEntriesOfEverySchemaAreTaken(t *testing.T) {
	for _, file := range []string{"schema-1.json", "schema-2.json"} {
		t.Run(file, func(t *testing.T) {
			raw, err := os.ReadFile("testdata/entries/" + file)
			require.NoError(t, err)
			var entries []any
			require.NoError(t, json.Unmarshal(raw, &entries))
			housetest.Each(t, func(t *testing.T, h *housetest.House) {
				for _, r := range receipts(h, "care", entries...) {
					require.Equal(t, app.Kept, r.State, "%s: %v", r.ID, r.Problem)
				}
				for _, r := range receipts(h, "care", entries...) {
					require.Equal(t, app.KeptBefore, r.State, r.ID)
				}
			})
		})
	}
}
