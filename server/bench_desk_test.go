package server_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"tendfold/domain/calendar"
	"tendfold/domain/visit"
	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

// busyHouse is a big house after its first sweep, in which a farm in ten was
// promised a visit, one in twenty asked for one, caretakers hold modules, and
// half of the farms had a visit that dealt with something.
func busyHouse(b *testing.B, n int) *housetest.House {
	b.Helper()
	h := bigHouse(b, n)
	h.Sweep()
	ctx, today := context.Background(), calendar.FromTime(h.Now())
	for from := 0; from < n; from += 500 {
		var (
			promises []app.Promise
			visits   []app.Visit
			passes   []app.Pass
			marks    []app.Mark
		)
		require.NoError(b, h.Store.InTx(ctx, func(ctx context.Context) error {
			for i := from; i < min(from+500, n); i++ {
				id := fmt.Sprintf("f%06d", i)
				for _, m := range []string{"water", "feed", "cover", "handling", "hygiene"} {
					passes = append(passes, app.Pass{PersonID: "p" + id, Enterprise: "snail", Module: m, On: today.Add(-90), Until: today.Add(300), How: "in-person"})
				}
				for k := range 20 {
					marks = append(marks, app.Mark{CycleID: "yu" + id + "-0", Item: fmt.Sprintf("item-%d", k), Answer: "yes", Grade: "photo", On: today.Add(-9)})
				}
				if i%10 == 0 {
					promises = append(promises, app.Promise{ID: "r" + id, FarmID: id, Kind: "visit", Text: "we come", DueOn: today.Add(i%20 - 5), MadeBy: "adm", MadeOn: today.Add(-9)})
				}
				if i%20 == 0 {
					require.NoError(b, h.Store.AddVisitRequest(ctx, app.VisitRequest{ID: "w" + id, FarmID: id, PersonID: "adm", On: today.Add(-3), Text: "please come"}))
				}
				if i%2 == 0 {
					visits = append(visits, app.Visit{ID: "d" + id, FarmID: id, OfficerID: "adm", On: today.Add(-5), State: app.VisitDone, DoneOn: today.Add(-5), PlannedBy: "adm", Dealt: []visit.Dealt{{Key: "schedule", On: today.Add(-5), Size: 4}}})
				}
			}
			require.NoError(b, h.Store.AddPasses(ctx, passes...))
			require.NoError(b, h.Store.PutMarks(ctx, marks...))
			require.NoError(b, h.Store.AddPromises(ctx, promises...))
			return h.Store.AddVisits(ctx, visits...)
		}))
	}
	return h
}

// BenchmarkDesk asks through the router for what the desk reads of a house of
// 10,000 farms. For the needs all of them are weighed, and the first fifty
// shown: about a second is allowed.
func BenchmarkDesk(b *testing.B) {
	h := busyHouse(b, 10_000)
	list := housetest.Read[app.VisitNeedList](h.As("adm").Get("/api/visit-needs").OK())
	require.Equal(b, 10_000, list.Farms)
	h.Pass(9 * 24 * time.Hour)
	for _, q := range []struct{ name, path string }{
		{"needs", "/api/visit-needs"},
		{"needs-500", "/api/visit-needs?limit=500"},
		{"need-of-one", "/api/visit-needs?farm=f000001"},
		{"call-backs", "/api/call-backs"},
		{"load", "/api/load"},
		{"promises", "/api/promises?due=today"},
		{"search", "/api/search?q=carer+77"},
	} {
		b.Run(q.name, func(b *testing.B) {
			for b.Loop() {
				h.As("adm").Get(q.path).OK()
			}
		})
	}
}
