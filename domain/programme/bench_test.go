package programme

import (
	"maps"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
	"testing"

	"tendfold/domain/calendar"
)

// cases are the stages at which a sweep meets a cycle.
func benchCases() map[string]Known {
	planted := Known{Start: day1, LastEvidence: heardDaily(day1, day1.Add(600))}
	stocked := planted
	stocked.Done = map[string]calendar.Date{"covered": day1.Add(45), "trained": day1.Add(20), "ordered": day1.Add(21), "ready": day1.Add(50), "stocked": day1.Add(55)}
	weighed := stocked
	weighed.StockedG = 40
	for i := range 6 {
		weighed.Readings = append(weighed.Readings, Reading{Kind: Weight, On: day1.Add(80 + 30*i), Value: 48 + 11*float64(i), N: 30})
	}
	paused := stocked
	paused.Pauses = []Pause{{From: day1.Add(30), Until: day1.Add(40), Ended: day1.Add(41)}}
	return map[string]Known{"planted": planted, "stocked": stocked, "weighed": weighed, "paused": paused}
}

func benchForecast(b *testing.B, o Options) {
	n := compiled(b, house(), Breeding, wet())
	g := compiled(b, house(), GrowOut, wet())
	for _, name := range []string{"planted", "stocked", "weighed", "paused"} {
		k := benchCases()[name]
		net, on := n, day1.Add(30)
		if name != "planted" {
			on = day1.Add(240)
		}
		if name == "weighed" {
			net = g
		}
		base := net.Baseline(day1, shared)
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				net.Forecast(k, base, on, shared, o)
			}
		})
	}
}

// One core; the aim is 100 microseconds without the account.
func BenchmarkForecast(b *testing.B) { benchForecast(b, Options{}) }

// The aim is 600 microseconds with it.
func BenchmarkForecastAccount(b *testing.B) { benchForecast(b, Options{Account: true}) }

func BenchmarkBaseline(b *testing.B) {
	n := compiled(b, house(), Breeding, wet())
	b.ReportAllocs()
	for b.Loop() {
		n.Baseline(day1, shared)
	}
}

// A sweep's share: 12,000 cycles at mixed stages on all cores; the aim is
// well under two seconds on two.
func BenchmarkTwelveThousandCycles(b *testing.B) {
	n := compiled(b, house(), GrowOut, wet())
	base := n.Baseline(day1, shared)
	stages := slices.Collect(maps.Values(benchCases()))
	for b.Loop() {
		var wg sync.WaitGroup
		var next atomic.Int64
		for range runtime.GOMAXPROCS(0) {
			wg.Go(func() {
				for i := next.Add(1); i <= 12000; i = next.Add(1) {
					n.Forecast(stages[i%4], base, day1.Add(30+int(i)%200), shared, Options{})
				}
			})
		}
		wg.Wait()
	}
}
