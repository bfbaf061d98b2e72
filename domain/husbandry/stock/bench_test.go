package stock

import (
	"syscall"
	"testing"
)

// BenchmarkSnailUnit is the figure of a unit's nightly projection: 1,000 runs
// of 104 weeks, within 30 ms on one core.
func BenchmarkSnailUnit(b *testing.B) {
	m, err := NewModel(marginata())
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	before := spent()
	for b.Loop() {
		if _, err := m.Project(house(104), Seen{}, DrawSeed, Runs); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric((spent()-before)*1000/float64(b.N), "cpu-ms/op")
}

// spent is the seconds of processor time that this process has used: on a
// machine that others use too, the clock on the wall says little.
func spent() float64 {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	of := func(t syscall.Timeval) float64 { return float64(t.Sec) + float64(t.Usec)/1e6 }
	return of(u.Utime) + of(u.Stime)
}
