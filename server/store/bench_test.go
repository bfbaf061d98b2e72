package store_test

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/store/storetest"

	"github.com/stretchr/testify/require"
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

// BenchmarkSearch is one search among 10,000 farms and 50,000 people; bare is
// the reading of one row by its key, for comparison in the same run.
func BenchmarkSearch(b *testing.B) {
	for name, db := range map[string]func(testing.TB) string{"sqlite": storetest.Folder, "postgres": storetest.Database} {
		b.Run(name, func(b *testing.B) {
			s := storetest.Open(b, db(b))
			w := newWorld(b, s)
			manyFarms(b, w, 10_000, 5)
			b.Run("bare", func(b *testing.B) {
				for b.Loop() {
					_, err := w.Branch(ctx, "buea")
					require.NoError(b, err)
				}
			})
			for what, c := range map[string]struct {
				sc app.Scope
				q  string
			}{
				"whole-phone":         {app.Everything, "+999 6700 12345"},
				"last-four":           {app.Everything, "2345"},
				"common-name":         {ana, "carer"},
				"two-words":           {ana, "carer 17 hill"},
				"words-of-all-farms":  {ana, "farm town"},
				"nothing":             {app.Everything, "xylophone"},
				"common-in-no-scope":  {carine, "farm town"},
				"ticket-number":       {app.Everything, "417/26"},
				"a-few-common-digits": {app.Everything, "999"},
			} {
				b.Run(what, func(b *testing.B) {
					for b.Loop() {
						_, err := w.Search(ctx, c.sc, c.q, 20)
						require.NoError(b, err)
					}
				})
			}
		})
	}
}

// manyFarms adds farms with a client and some people each.
func manyFarms(b *testing.B, w *world, farms, people int) {
	b.Helper()
	for from := 0; from < farms; from += 1000 {
		require.NoError(b, w.InTx(ctx, func(ctx context.Context) error {
			var cs []app.Client
			var fs []farm.Farm
			var ps []farm.Person
			var ws []farm.Work
			for i := from; i < from+1000; i++ {
				id := fmt.Sprintf("big%05d", i)
				cs = append(cs, client("c"+id, fmt.Sprintf("Client %d", i), fmt.Sprintf("+9996100%05d", i), ""))
				fs = append(fs, place(id, "c"+id, []string{"buea", "douala"}[i%2], fmt.Sprintf("Farm %d hill", i)))
				for p := range people {
					pid := fmt.Sprintf("%s-%d", id, p)
					ps = append(ps, person(pid, fmt.Sprintf("Carer %d of %d", p, i), fmt.Sprintf("+99967%d0%05d", p, i)))
					ws = append(ws, farm.Work{FarmID: id, PersonID: pid, InCharge: p == 0})
				}
			}
			return errors.Join(w.AddClients(ctx, cs...), w.AddFarms(ctx, now, fs...), w.AddPeople(ctx, now, ps...), w.SetWork(ctx, ws...))
		}))
	}
}
