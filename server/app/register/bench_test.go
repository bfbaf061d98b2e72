package register_test

import (
	"context"
	"testing"
	"time"

	"tendfold/server/store"

	"github.com/stretchr/testify/require"
)

// BenchmarkImport takes a messy register of 10,000 rows into an empty SQLite
// folder, and the same again.
func BenchmarkImport(b *testing.B) {
	_, data := messy(b, 10_000)
	ctx := context.Background()
	for b.Loop() {
		db, err := store.Open(ctx, store.Config{DB: b.TempDir()})
		require.NoError(b, err)
		require.NoError(b, db.Migrate(ctx))
		for _, name := range []string{"first-s", "again-s"} {
			start := time.Now()
			run(b, importsInto(b, db), data)
			b.ReportMetric(time.Since(start).Seconds(), name)
		}
		require.NoError(b, db.Close())
	}
}
