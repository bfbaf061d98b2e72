package programme

import (
	"math"
	"math/rand/v2"
	"testing"

	"tendfold/domain/calendar"

	"github.com/stretchr/testify/require"
)

// truth is a farm whose durations come from the pack's own laws, by
// independent draws and a day-by-day clock: on such farms the forecast's
// shares must come true on any day.
type truth struct {
	took map[string]float64
	done map[string]float64
}

func draw(n *Network, rng *rand.Rand) truth {
	x := truth{map[string]float64{}, map[string]float64{}}
	for i := range n.nodes {
		m := &n.nodes[i]
		if m.early {
			x.done[m.Key] = float64(day1)
			continue
		}
		start := 0.0
		for _, a := range m.After {
			start = max(start, x.done[a])
		}
		x.took[m.Key] = m.law.quantile(rng.Float64())
		x.done[m.Key] = m.gate.next(m.clock(nil).after(start, x.took[m.Key]))
	}
	return x
}

// knownOn is what the farm tells by a day: every done date, daily evidence
// and, if read, weekly cover and monthly weights with the pack's errors.
func (x truth) knownOn(n *Network, on calendar.Date, read bool, rng *rand.Rand) Known {
	k := Known{Start: day1, Done: map[string]calendar.Date{}, LastEvidence: heardDaily(day1, on)}
	for key, day := range x.done {
		if day <= float64(on) {
			k.Done[key] = dateOf(day)
		}
	}
	for i := range n.nodes {
		m := &n.nodes[i]
		if !read || m.Curve == nil {
			continue
		}
		every := map[string]int{Cover: 7, Weight: 30}[m.Curve.Reading]
		clk, start := m.clock(nil), 0.0
		for _, a := range m.After {
			start = max(start, x.done[a])
		}
		for day := int(math.Ceil(start)) + every; day <= min(int(on), int(x.done[m.Key])); day += every {
			mean := m.Curve.From + (m.Curve.To-m.Curve.From)*m.Curve.share((clk.count(float64(day))-clk.count(start))/x.took[m.Key])
			r := Reading{Kind: m.Curve.Reading, On: calendar.Date(day), Value: mean + rng.NormFloat64()*math.Sqrt(m.Curve.variance(mean, mark{n: 30}))}
			if m.Curve.Reading == Weight {
				r.N = 30
			}
			k.Readings = append(k.Readings, r)
		}
	}
	return k
}

// Of 700 farms, one share in ten must lie below P10, half below P50, nine
// in ten below P90; the band is four standard errors and, with readings, a
// little more for the farms whose readings the heavier tail doubts.
func TestForecastsComeTrue(t *testing.T) {
	const farms = 700
	p := house()
	p.LagDays = 0
	for _, x := range []struct {
		name  string
		day   int
		read  bool
		extra float64
	}{{"at the start", 0, false, 0}, {"mid-cover", 30, false, 0}, {"mid-cover, read", 30, true, 0.02}, {"growing", 200, false, 0}, {"growing, weighed", 200, true, 0.02}} {
		t.Run(x.name, func(t *testing.T) {
			n := compiled(t, p, GrowOut, wet())
			b := n.Baseline(day1, shared)
			rng := rand.New(rand.NewPCG(42, 1))
			var below [3]float64
			counted := 0.0
			for range farms {
				f := draw(n, rng)
				if f.done["harvest"] <= float64(day1)+float64(x.day) {
					continue
				}
				on := day1.Add(x.day)
				got := n.Forecast(f.knownOn(n, on, x.read, rng), b, on, shared, Options{}).Harvest
				counted++
				for i, q := range []calendar.Date{got.P10, got.P50, got.P90} {
					if f.done["harvest"] <= float64(q) {
						below[i]++
					}
				}
			}
			for i, want := range []float64{0.1, 0.5, 0.9} {
				slack := 4*math.Sqrt(want*(1-want)/counted) + x.extra
				require.InDelta(t, want, below[i]/counted, slack, "share below quantile %g of %g farms", want, counted)
			}
		})
	}
}
