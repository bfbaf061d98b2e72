package store_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"tendfold/server/app"
	"tendfold/server/store/storetest"
)

// BenchmarkWrite is one small change with its audit line in a transaction of
// its own, as most requests are.
func BenchmarkWrite(b *testing.B) {
	for name, db := range map[string]func(testing.TB) string{"sqlite": storetest.Folder, "postgres": storetest.Database} {
		b.Run(name, func(b *testing.B) {
			s := storetest.Open(b, db(b))
			w := newWorld(b, s)
			u := unit("u1", "f1")
			for b.Loop() {
				require.NoError(b, w.InTx(ctx, func(ctx context.Context) error {
					if err := w.CountChange(ctx, "f1"); err != nil {
						return err
					}
					if err := w.ChangeUnit(ctx, u); err != nil {
						return err
					}
					u.Version++
					return w.Record(ctx, w.fresh("a"), now, "ana", app.Change{Verb: "change", Thing: "unit", ThingID: "u1", FarmID: "f1"})
				}))
			}
		})
	}
}
