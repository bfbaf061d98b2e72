package server_test

import (
	"context"
	"fmt"
	"syscall"
	"testing"
	"time"

	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

// twoMonths are what a caretaker says in sixty days without a network, fifteen
// entries a day.
func twoMonths(h *housetest.House, run int) []app.Sent {
	kinds := []struct {
		kind, data string
		cycle      bool
	}{
		{"day", `{"deaths":1,"feed_kg":1.5,"watering":"once"}`, false},
		{"item", `{"item":"soil-clean","answer":"yes"}`, true},
		{"cover", `{"percent":60}`, true},
		{"note", `{"note":"Quiet night, no rats."}`, false},
		{"work", `{"work":"read-cover"}`, true},
	}
	var out []app.Sent
	for day := 59; day >= 0; day-- {
		for n := range 15 {
			k := kinds[n%len(kinds)]
			e := app.Event{
				ID: fmt.Sprintf("r%d-%02d-%02d", run, 60-day, n), FarmID: "f1", Kind: k.kind, On: h.Today().Add(-day),
				DeviceAt: h.Now().Add(-time.Duration(day) * 24 * time.Hour), Data: []byte(k.data),
			}
			if k.cycle {
				e.CycleID = "y1"
			} else {
				e.UnitID = "u1"
			}
			out = append(out, app.Sent{Event: e})
		}
	}
	return out
}

// BenchmarkSync900 is how long the server takes for sixty days of entries of
// one phone, in pages as a phone sends them: at most a second.
func BenchmarkSync900(b *testing.B) {
	h := housetest.Lite(b)
	care := app.Actor{PersonID: "care", Language: "en", Grants: []farm.Grant{{Role: farm.Caretaker}}}
	ctx := context.Background()
	before := cpu(b)
	for run := 0; b.Loop(); run++ {
		all := twoMonths(h, run)
		for from := 0; from < len(all); from += 200 {
			receipts, err := h.Entries.Sync(ctx, care, h.Now(), all[from:min(from+200, len(all))])
			require.NoError(b, err)
			for _, r := range receipts {
				require.Equal(b, app.Kept, r.State, "%v", r.Err)
			}
		}
	}
	b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N), "ms/900-entries")
	b.ReportMetric(float64((cpu(b)-before).Milliseconds())/float64(b.N), "cpu-ms/900-entries")
}

// cpu is what this process has computed so far: a measure that others on the
// machine do not lengthen.
func cpu(b *testing.B) time.Duration {
	b.Helper()
	var use syscall.Rusage
	require.NoError(b, syscall.Getrusage(syscall.RUSAGE_SELF, &use))
	return time.Duration(use.Utime.Nano() + use.Stime.Nano())
}
