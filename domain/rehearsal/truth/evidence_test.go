package truth

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestEvidenceArrivesInOrderAndAfterTheFact(t *testing.T) {
	for i := range 60 {
		f := land(Fair).Farm(i)
		c := f.Run(f.Inject(Kinds(), 540))
		heard := c.Evidence(540)
		require.NotEmpty(t, heard)
		require.True(t, slices.IsSortedFunc(heard, func(a, b Entry) int { return int(a.Received) - int(b.Received) }))
		for _, e := range heard {
			require.GreaterOrEqual(t, e.Received, e.Made)
			require.LessOrEqual(t, e.Received, f.Start.Add(540))
			if !e.ClockOff {
				require.LessOrEqual(t, e.Stated, e.Made, "only a wrong clock knows the future")
			}
			require.False(t, !e.Staff && c.silent(e.Made.Sub(f.Start)), "nobody is there to write")
		}
	}
}

// Readings err as the law says: most within two standard deviations, and
// without a bias over all farms.
func TestReadingsErrAsTheLawSays(t *testing.T) {
	var cover, weight []float64
	for i := range 300 {
		f := land(Fair).Farm(i)
		c := f.Run(nil)
		for _, e := range c.Evidence(400) {
			day := e.Made.Sub(f.Start)
			switch {
			case e.Sort == Looked && c.CoverAt(day) > 20 && c.CoverAt(day) < 75:
				cover = append(cover, e.Value-c.CoverAt(day))
			case e.Sort == Weighed:
				weight = append(weight, math.Log(e.Value/c.Weight(day)))
			}
		}
	}
	middle, within := spreadOf(cover, 15)
	require.InDelta(t, 0, middle, 1.5)
	require.InDelta(t, .95, within, .04)
	middle, within = spreadOf(weight, .14)
	require.InDelta(t, 0, middle, .01)
	require.InDelta(t, .97, within, .03)
}

// spreadOf is the median and the share within plus or minus width.
func spreadOf(x []float64, width float64) (middle, within float64) {
	slices.Sort(x)
	n := 0
	for _, v := range x {
		if math.Abs(v) <= width {
			n++
		}
	}
	return x[len(x)/2], float64(n) / float64(len(x))
}

// Forgotten steps are found by the next visit, so in the end nearly all are
// known; the skipped go-ahead never is.
func TestVisitsFindWhatWasForgotten(t *testing.T) {
	done, told := 0, 0
	for i := range 100 {
		f := land(Fair).Farm(i)
		c := f.Run(nil)
		heard := c.Evidence(400)
		for s, st := range f.Plan.Steps {
			if c.Done[s] > 300 {
				continue
			}
			done++
			if slices.ContainsFunc(heard, func(e Entry) bool { return e.Sort == StepDone && e.Step == st.Name }) {
				told++
			}
		}
	}
	require.Greater(t, float64(told), .985*float64(done))

	f := farmOf(t, land(Fair), "snail", "grow-out")
	for _, e := range f.Run([]Fault{{Kind: GoAheadSkipped, Days: 10, Factor: 2}}).Evidence(400) {
		require.NotEqual(t, Ready, e.Step)
	}
}

func TestCallsReachOnlyWhoIsThere(t *testing.T) {
	f := farmOf(t, land(Fair), "catfish", "grow-out")
	c := f.Run([]Fault{{Kind: SilentFarm, From: 60, Days: 30, Factor: 1}})
	require.Empty(t, c.CallOn(70))
	spoke := 0
	for day := 5; day < 60; day++ {
		for _, e := range c.CallOn(day) {
			spoke++
			for _, open := range e.Open {
				require.Greater(t, c.Done[f.Plan.At(open)], day)
			}
		}
	}
	require.Positive(t, spoke)
}

func TestHandlingIsInOrder(t *testing.T) {
	f := land(Fair).Farm(3)
	idle, settled := 0, 0
	for n := range 500 {
		h := f.Handle(n)
		require.Equal(t, h, f.Handle(n))
		if h.Take < 0 {
			idle++
			require.Equal(t, Handling{Take: -1, Act: -1, Settle: -1, Visit: h.Visit}, h)
			continue
		}
		require.Greater(t, h.Act, h.Take)
		if h.Settle >= 0 {
			settled++
			require.Greater(t, h.Settle, h.Act)
		}
	}
	require.InDelta(t, 50, idle, 25)
	require.InDelta(t, 225, settled, 50)
}
