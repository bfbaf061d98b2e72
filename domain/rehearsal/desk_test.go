package rehearsal

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tendfold/domain/programme"
	"tendfold/domain/rehearsal/truth"
)

// Over a whole rehearsal no ticket is ever in two lives at once: what was
// opened ends before it is reopened, and nothing happens to what has ended.
func TestTicketsLiveInOrder(t *testing.T) {
	r, err := Run(small(t), nil, nil)
	require.NoError(t, err)
	lives := 0
	for _, run := range r.Runs {
		for _, tk := range run.Tickets {
			require.Equal(t, Opened, tk.Life[0].Doing)
			open := true
			for i, h := range tk.Life[1:] {
				require.GreaterOrEqual(t, h.Day, tk.Life[i].Day)
				switch h.Doing {
				case Cleared, Settled, Worsened:
					require.True(t, open, tk)
					open = h.Doing == Worsened
				case Reopened:
					require.False(t, open, tk)
					open = true
				case Opened:
					t.Fatal("opened twice")
				}
				lives++
			}
		}
	}
	require.Greater(t, lives, 20)
}

func TestRecordTakesInEntries(t *testing.T) {
	script, err := newScript(homePlans(t)[Way{"snail", "grow-out"}], truth.SnailGrowOut())
	require.NoError(t, err)
	f := farmOf(Way{"snail", "grow-out"})
	r, on := newRecord(f, script), f.Start
	for _, e := range []truth.Entry{
		{Sort: truth.StepDone, Step: truth.Trained, Stated: on.Add(20)},
		{Sort: truth.Daybook, Stated: on.Add(30)},
		{Sort: truth.Daybook, Stated: on.Add(12)}, // written late
		{Sort: truth.Looked, Stated: on.Add(30), Value: 40},
		{Sort: truth.Looked, Stated: on.Add(30), Value: 45}, // corrected
		{Sort: truth.Visit, Stated: on.Add(31)},
		{Sort: truth.Verified, Stated: on.Add(31), Value: .5},
		{Sort: truth.Verified, Stated: on.Add(40), Value: 1},
		{Sort: truth.StepDone, Step: truth.Stocked, Stated: on.Add(50), Value: 36, N: 500},
	} {
		r.take(e)
	}
	require.IsIncreasing(t, r.facts.Evidence)
	require.Len(t, r.facts.Evidence, 6)
	require.Equal(t, []programme.Reading{{Kind: programme.Cover, On: on.Add(30), Value: 45}}, r.cycle.Known.Readings)
	require.Equal(t, on.Add(31), r.facts.Visits[0])
	require.Equal(t, on.Add(31), r.cycle.Marks["a"].On)
	require.Equal(t, on.Add(40), r.cycle.Marks["b"].On)
	require.Equal(t, "care", r.facts.Caretakers[0].Passes[0].Module)
	require.InDelta(t, 36, r.cycle.Known.StockedG, 1e-9)
	require.True(t, r.knows(truth.Stocked, on.Add(50)))
	require.False(t, r.knows(truth.Stocked, on.Add(49)))
}

func farmOf(w Way) *truth.Farm {
	l := truth.NewLand(1, truth.Fair, 20000)
	for i := 0; ; i++ {
		if f := l.Farm(i); f.Plan.Enterprise == w.Enterprise && f.Plan.Purpose == w.Purpose {
			return f
		}
	}
}
