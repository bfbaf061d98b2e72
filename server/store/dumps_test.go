package store_test

import (
	"context"
	"testing"

	"tendfold/server/store"
	"tendfold/server/store/storetest"

	"github.com/stretchr/testify/require"
)

func TestDumpsHaveEveryTableOfTheFirm(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		rows := map[string]int{}
		for _, d := range w.Dumps() {
			require.NoError(t, d.Rows(ctx, func(cells []any) error {
				require.Len(t, cells, len(d.Columns), d.Name)
				rows[d.Name]++
				return nil
			}), d.Name)
		}
		for _, name := range []string{"branches", "people", "roles", "clients", "farms", "units", "cycles"} {
			require.NotZero(t, rows[name], name)
		}
		for _, d := range w.Dumps() {
			require.NotContains(t, d.Columns, "hash", "no secret leaves by an export")
			require.NotContains(t, d.Columns, "secret")
		}
	})
}

func TestADumpStopsWithItsReader(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		stop, cancel := context.WithCancel(ctx)
		cancel()
		require.Error(t, w.Dumps()[0].Rows(stop, func([]any) error { return nil }))
	})
}
