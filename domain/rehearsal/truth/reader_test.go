package truth

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tendfold/domain/calendar"
)

var quiet = Quiet{Before: 21, After: 16}

// What the reader calls four in five likely is true about four times in five
// or more: he is no better and no worse than his word. He is asked of every
// farm, whether it has the fault or not.
func TestReaderIsAsGoodAsHisWord(t *testing.T) {
	laws := NewLaws()
	for _, kind := range []Kind{LatePlanting, LateTraining, SlowCover} {
		said, right := 0, 0
		for i := range 300 {
			f := NewLand(99, Fair, newYear).Farm(i)
			step := f.Plan.At(kind.Step())
			if step < 0 {
				continue
			}
			c := f.Run(f.Inject([]Kind{LatePlanting, LateTraining, SlowCover}, 540))
			k := Case{Fault: Fault{Kind: kind}, Complete: c.Done[step] + 15}
			if _, ok := f.Detectable(k, c.Evidence(540), quiet, laws, 540); !ok {
				continue
			}
			said++
			own := c.Done[step] - c.begun[step]
			if own-round(f.typical(step, c.begun[step])) >= 7 {
				right++
			}
		}
		require.Greater(t, said, 20, kind)
		require.Greater(t, float64(right), .72*float64(said), "%s: %d of %d", kind, right, said)
	}
}

// typical is the median of a step that begins on a day.
func (f *Farm) typical(i, begun int) float64 {
	b := belief{reader: newReader(f, nil)}
	return b.typical(i, begun)
}

func TestReaderOfGrowthIsAsGoodAsHisWord(t *testing.T) {
	laws := NewLaws()
	said, right := 0, 0
	for i := range 200 {
		f := NewLand(98, Fair, newYear).Farm(i)
		c := f.Run(f.Inject([]Kind{SlowGrowth}, 540))
		k := Case{Fault: Fault{Kind: SlowGrowth}, Complete: c.Harvest()}
		if _, ok := f.Detectable(k, c.Evidence(540), quiet, laws, 540); !ok {
			continue
		}
		said++
		usual := f.rates.after(float64(c.growFrom), f.Plan.Steps[f.Plan.At(Harvest)].Median-1.5)
		if float64(c.growFrom+len(c.growth)-1)-usual >= 5 {
			right++
		}
	}
	require.Greater(t, said, 40)
	require.Greater(t, float64(right), .72*float64(said), "%d of %d", right, said)
}

// Silence can be called on the day after the limit, counted from the last day
// that an entry states, and not before.
func TestReaderOfSilence(t *testing.T) {
	f := farmOf(t, land(Fair), "catfish", "grow-out")
	on := func(day int) calendar.Date { return f.Start.Add(day) }
	heard := []Entry{
		{Sort: StepDone, Step: Stocked, Stated: on(40), Received: on(41)},
		{Sort: Daybook, Stated: on(90), Received: on(91)},
		{Sort: Daybook, Stated: on(95), Received: on(101)}, // a phone that sends in bursts
	}
	k := Case{Fault: Fault{Kind: SilentFarm}, Start: 96, Complete: 150}
	day, ok := f.Detectable(k, heard, quiet, NewLaws(), 540)
	require.True(t, ok)
	require.Equal(t, 95+16+1, day)

	day, ok = f.Detectable(k, heard[1:], quiet, NewLaws(), 540)
	require.True(t, ok)
	require.Equal(t, 95+21+1, day, "before stocking the limit is wider")

	k.Complete = 95 + 16 + 2
	_, ok = f.Detectable(k, heard, quiet, NewLaws(), 540)
	require.False(t, ok, "less than two days before the loss is complete is too late")
	k.Complete = 150
	_, ok = f.Detectable(k, heard, quiet, NewLaws(), 111)
	require.False(t, ok, "not within the days watched")
}

func TestReaderOfASkippedGoAhead(t *testing.T) {
	f := farmOf(t, land(Fair), "catfish", "grow-out")
	heard := []Entry{{Sort: StepDone, Step: Stocked, Stated: f.Start.Add(30), Received: f.Start.Add(34)}}
	day, ok := f.Detectable(Case{Fault: Fault{Kind: GoAheadSkipped}, Start: 30, Complete: 90}, heard, quiet, NewLaws(), 540)
	require.True(t, ok)
	require.Equal(t, 34, day)
}

// The reader's answer hangs on what was received and on nothing of the farm's
// luck: two farms with one face and other luck are one to him.
func TestReaderKnowsNoLuck(t *testing.T) {
	f := farmOf(t, land(Fair), "snail", "grow-out")
	c := f.Run([]Fault{{Kind: SlowCover, Factor: .5}})
	k, heard := c.Cases()[0], c.Evidence(540)
	other := *f
	other.luck, other.days, other.keeper = NewStream(1, 1), slices.Repeat([]float64{1}, len(f.days)), keeper{}
	other.fromG, other.frailty, other.sale = 1, 1, 1
	day, ok := f.Detectable(k, heard, quiet, NewLaws(), 540)
	same, also := other.Detectable(k, heard, quiet, NewLaws(), 540)
	require.Equal(t, ok, also)
	require.Equal(t, day, same)
}

// Without any evidence that it is late the reader does not say so.
func TestReaderBelievesGoodNews(t *testing.T) {
	f := farmOf(t, land(Fair), "snail", "grow-out")
	on := func(day int) calendar.Date { return f.Start.Add(day) }
	heard := []Entry{
		{Sort: StepDone, Step: Built, Stated: on(0), Received: on(0)},
		{Sort: StepDone, Step: WaterDone, Stated: on(4), Received: on(5)},
		{Sort: StepDone, Step: Planted, Stated: on(10), Received: on(11)},
	}
	_, ok := f.Detectable(Case{Fault: Fault{Kind: LatePlanting}, Complete: 90}, heard, quiet, NewLaws(), 540)
	require.False(t, ok)
}
