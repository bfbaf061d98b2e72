package server_test

import (
	"context"
	"database/sql"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"slices"
	"sync"
	"testing"
	"time"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/housetest"
	"tendfold/server/store/storetest"

	"github.com/stretchr/testify/require"
)

// The benchmarks of a whole house: farms as a firm would have them, one in
// five with two units, each somewhere between its start and its harvest, with
// news in the last weeks. Invented from a fixed seed.

// bigHouse is a house of n farms, 1.2 n units and about 17 n milestones.
func bigHouse(b *testing.B, n int) *housetest.House {
	b.Helper()
	h := housetest.Open(b, storetest.Folder(b))
	ctx := context.Background()
	r := rand.New(rand.NewPCG(1, uint64(n)))
	today := calendar.FromTime(h.Now())
	g := &growing{h: h, today: today, r: r}
	require.NoError(b, h.Store.InTx(ctx, func(ctx context.Context) error {
		require.NoError(b, h.Store.AddBranches(ctx, farm.Branch{ID: "b", Name: "Branch", Zone: "Africa/Douala", Country: "CM", Version: 1}))
		return h.Store.AddPeople(ctx, h.Now(), farm.Person{ID: "adm", Name: "Ada", Language: "en", Active: true, Grants: []farm.Grant{{Role: farm.Administrator}}, Version: 1})
	}))
	for from := 0; from < n; from += 500 {
		require.NoError(b, h.Store.InTx(ctx, func(ctx context.Context) error { return g.farms(ctx, from, min(from+500, n)) }))
	}
	return h
}

// growing adds farms in batches.
type growing struct {
	h     *housetest.House
	today calendar.Date
	r     *rand.Rand
}

func (g *growing) farms(ctx context.Context, from, to int) error {
	var (
		clients []app.Client
		farms   []farm.Farm
		units   []farm.Unit
		cycles  []farm.Cycle
		marks   []app.Milestone
		people  []farm.Person
		work    []farm.Work
		events  []app.Event
		visits  []app.Visit
	)
	for i := from; i < to; i++ {
		id := fmt.Sprintf("f%06d", i)
		clients = append(clients, app.Client{Client: farm.Client{ID: "c" + id, Name: fmt.Sprintf("Client %d", i), Phone: fmt.Sprintf("+999%08d", i), Version: 1}})
		farms = append(farms, farm.Farm{ID: id, ClientID: "c" + id, BranchID: "b", Name: fmt.Sprintf("Farm %d", i), Town: "Town", Status: farm.Active, IntakeOn: g.today.Add(-400), WatchedOn: g.today.Add(-300), Version: 1})
		people = append(people, farm.Person{ID: "p" + id, Name: fmt.Sprintf("Carer %d", i), Phone: fmt.Sprintf("+998%08d", i), Language: "en", Active: true, Grants: []farm.Grant{{Role: farm.Caretaker}}, Version: 1})
		work = append(work, farm.Work{FarmID: id, PersonID: "p" + id, InCharge: true})
		for u := range 1 + b2i(i%5 == 0) {
			unit := fmt.Sprintf("u%s-%d", id, u)
			enterprise := []string{"snail", "snail", "catfish"}[(i+u)%3]
			units = append(units, farm.Unit{ID: unit, FarmID: id, Name: fmt.Sprintf("Unit %d", u), Enterprise: enterprise, Version: 1, Build: farm.BuildSheet{HandedOverOn: g.today.Add(-380)}})
			c := farm.Cycle{ID: "y" + unit, FarmID: id, UnitID: unit, Enterprise: enterprise, Purpose: "grow-out", StartedOn: g.today.Add(-10 - g.r.IntN(300)), Version: 1}
			cycles = append(cycles, c)
			marks = append(marks, g.milestones(ctx, c)...)
		}
		for d := 1; d < 60; d += 6 {
			events = append(events, app.Event{ID: fmt.Sprintf("e%s-%d", id, d), FarmID: id, Kind: "note", On: g.today.Add(-d), RecordedAt: g.h.Now(), Evidence: true})
		}
		visits = append(visits, app.Visit{ID: "v" + id, FarmID: id, OfficerID: "adm", On: g.today.Add(-12), State: app.VisitDone, DoneOn: g.today.Add(-12), PlannedBy: "adm", Version: 1})
	}
	s := g.h.Store
	for _, err := range []error{
		s.AddClients(ctx, clients...), s.AddFarms(ctx, g.h.Now(), farms...), s.AddPeople(ctx, g.h.Now(), people...), s.SetWork(ctx, work...),
		s.AddUnits(ctx, units...), s.AddCycles(ctx, cycles...), s.AddMilestones(ctx, marks...), s.AddVisits(ctx, visits...),
	} {
		if err != nil {
			return err
		}
	}
	_, err := s.AppendEvents(ctx, events...)
	return err
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// milestones are a cycle's, done as far as the plan had it, a few days off.
func (g *growing) milestones(ctx context.Context, c farm.Cycle) []app.Milestone {
	plan, err := g.h.Plans.Plan(ctx, c.Enterprise, c.Purpose, "b")
	if err != nil {
		panic(err)
	}
	var out []app.Milestone
	for _, w := range plan.Network.Baseline(c.StartedOn, plan.Draws) {
		m := app.Milestone{CycleID: c.ID, Window: w}
		if done := w.Target.Add(g.r.IntN(9) - 4); done < g.today {
			m.DoneOn, m.Grade = max(done, c.StartedOn), farm.StaffSaw
		}
		out = append(out, m)
	}
	return out
}

// BenchmarkLoadFacts loads what a sweep reads of 10,000 farms; ratio is to a
// bare database/sql scan of the same rows and columns in the same run (at
// most 3).
func BenchmarkLoadFacts(b *testing.B) {
	h := bigHouse(b, 10_000)
	ctx := context.Background()
	today := calendar.FromTime(h.Now())
	var ours, bare time.Duration
	for b.Loop() {
		from := time.Now()
		q := app.FactQuery{On: today, Since: today.Add(-60), SettledSince: today.Add(-400), Limit: 1000}
		for {
			rows, err := h.Store.FactRows(ctx, q)
			require.NoError(b, err)
			if len(rows.Farms) == 0 {
				break
			}
			q.After = rows.Farms[len(rows.Farms)-1].ID
		}
		ours += time.Since(from)
		from = time.Now()
		rawScan(b, h.Store.SQL())
		bare += time.Since(from)
	}
	b.ReportMetric(float64(ours)/float64(bare), "ratio")
	b.ReportMetric(ours.Seconds()*1000/float64(b.N), "ms/load")
}

// rawScan reads the rows behind the facts with rows.Scan and nothing else.
func rawScan(b *testing.B, db *sql.DB) {
	b.Helper()
	var text [4]string
	var n [6]int64
	for _, q := range []struct {
		sql  string
		into []any
	}{
		{"SELECT id, branch_id, status, standing, watched_on, intake_on, swept_on, own_slip, changes FROM farms ORDER BY id", []any{&text[0], &text[1], &text[2], &text[3], &n[0], &n[1], &n[2], &n[3], &n[4]}},
		{"SELECT id, farm_id, enterprise, handed_over_on, defects_months FROM units ORDER BY farm_id", []any{&text[0], &text[1], &text[2], &n[0], &n[1]}},
		{"SELECT id, farm_id, unit_id, enterprise, started_on, outlook_hash FROM cycles ORDER BY farm_id", []any{&text[0], &text[1], &text[2], &text[3], &n[0], &n[1]}},
		{"SELECT c.farm_id, m.cycle_id, m.milestone, m.earliest, m.target, m.latest, m.done_on FROM cycles c JOIN cycle_milestones m ON m.cycle_id = c.id ORDER BY c.farm_id, c.id", []any{&text[0], &text[1], &text[2], &n[0], &n[1], &n[2], &n[3]}},
		{"SELECT farm_id, on_date FROM evidence_days ORDER BY farm_id, on_date", []any{&text[0], &n[0]}},
		{"SELECT farm_id, person_id, in_charge, since FROM farm_people ORDER BY farm_id", []any{&text[0], &text[1], &text[2], &n[0]}},
		{"SELECT farm_id, done_on FROM visits ORDER BY farm_id", []any{&text[0], &n[0]}},
	} {
		scanAll(b, db, q.sql, q.into)
	}
}

func scanAll(b *testing.B, db *sql.DB, query string, into []any) {
	rows, err := db.QueryContext(context.Background(), query)
	require.NoError(b, err)
	defer func() { require.NoError(b, rows.Close()) }()
	for rows.Next() {
		require.NoError(b, rows.Scan(into...))
	}
	require.NoError(b, rows.Err())
}

// BenchmarkSweepUnchanged is a sweep of 10,000 farms that changes nothing: at
// most 3 s on two cores. The first sweep is reported beside it.
func BenchmarkSweepUnchanged(b *testing.B) {
	h := bigHouse(b, 10_000)
	from := time.Now()
	h.Sweep()
	first := time.Since(from)
	h.Sweep()
	for b.Loop() {
		h.Sweep()
	}
	b.ReportMetric(first.Seconds(), "s/first-sweep")
	b.ReportMetric(b.Elapsed().Seconds()/float64(b.N), "s/sweep")
}

// BenchmarkSweepGrowth is the time per farm of a first sweep and of one that
// changes nothing at 1,000, 10,000 and 30,000 farms: no worse than n log n.
func BenchmarkSweepGrowth(b *testing.B) {
	for _, n := range []int{1_000, 10_000, 30_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			h := bigHouse(b, n)
			from := time.Now()
			h.Sweep()
			first := time.Since(from)
			h.Sweep()
			for b.Loop() {
				h.Sweep()
			}
			b.ReportMetric(float64(first.Microseconds())/float64(n), "µs/farm-first")
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(n), "µs/farm")
		})
	}
}

// BenchmarkReads asks for a farm's page, searches and lists at 50 connections.
// Beside it, in the same run, it asks for one row with net/http and
// database/sql alone, of whose throughput the page and the search are to reach
// a sixth (share); and for one row through the same door as they come by, with
// its sign-in and its router (share-door), which tells how much of the
// distance is the door's.
func BenchmarkReads(b *testing.B) {
	h := bigHouse(b, 10_000)
	h.Sweep()
	token := h.As("adm").Token()
	srv := httptest.NewServer(h.Handler())
	defer srv.Close()
	naked := httptest.NewServer(bareRead(h.Store.SQL()))
	defer naked.Close()
	for _, c := range []struct{ name, path string }{
		{"farm", "/api/farms/f%06d"}, {"search", "/api/search?limit=12&q=Farm+%d"}, {"list", "/api/farms?limit=50&q=Farm+%d"},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				alone := hammer(b, func(i int) string { return naked.URL + fmt.Sprintf("/%06d", i) }, "")
				one := hammer(b, func(int) string { return srv.URL + "/api/me" }, token)
				ours := hammer(b, func(i int) string { return srv.URL + fmt.Sprintf(c.path, i) }, token)
				b.ReportMetric(ours.rate/one.rate, "share-door")
				b.ReportMetric(ours.rate/alone.rate, "share")
				b.ReportMetric(ours.rate, "req/s")
				b.ReportMetric(ours.p99.Seconds()*1000, "ms-p99")
				b.ReportMetric(one.p99.Seconds()*1000, "ms-p99-door")
				b.ReportMetric(alone.p99.Seconds()*1000, "ms-p99-bare")
			}
		})
	}
}

// bareRead answers one row with net/http and database/sql alone.
func bareRead(db *sql.DB) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		var name string
		if err := db.QueryRowContext(r.Context(), "SELECT name FROM farms WHERE id = ?", "f"+r.URL.Path[1:]).Scan(&name); err != nil {
			http.Error(w, err.Error(), http.StatusInternalServerError)
			return
		}
		_, _ = fmt.Fprintf(w, `{"name":%q}`, name)
	})
}

type hammered struct {
	rate float64
	p99  time.Duration
}

// hammer sends 5,000 requests over 50 connections of this machine.
func hammer(b *testing.B, url func(i int) string, token string) hammered {
	b.Helper()
	const requests, connections = 5_000, 50
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: connections, MaxConnsPerHost: connections}}
	defer client.CloseIdleConnections()
	took := make([]time.Duration, requests)
	next := make(chan int, requests)
	for i := range requests {
		next <- i
	}
	close(next)
	var wg sync.WaitGroup
	from := time.Now()
	for range connections {
		wg.Go(func() {
			for i := range next {
				began := time.Now()
				req, err := http.NewRequestWithContext(context.Background(), http.MethodGet, url(i), nil)
				if err != nil {
					b.Error(err)
					return
				}
				if token != "" {
					req.Header.Set("Authorization", "Bearer "+token)
				}
				res, err := client.Do(req)
				if err != nil {
					b.Error(err)
					return
				}
				_, _ = io.Copy(io.Discard, res.Body)
				_ = res.Body.Close()
				if res.StatusCode != http.StatusOK {
					b.Errorf("%s: %s", url(i), res.Status)
					return
				}
				took[i] = time.Since(began)
			}
		})
	}
	wg.Wait()
	all := time.Since(from)
	slices.Sort(took)
	return hammered{rate: requests / all.Seconds(), p99: took[requests*99/100]}
}
