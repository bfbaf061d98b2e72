package programme

import (
	"testing"

	"tendfold/domain/calendar"

	"github.com/stretchr/testify/require"
)

func outlook(t *testing.T, f Forecast, key string) Outlook {
	t.Helper()
	for _, o := range f.Milestones {
		if o.Key == key {
			return o
		}
	}
	require.Fail(t, "no such milestone", key)
	return Outlook{}
}

func TestForecastOnDayOneIsTheBaseline(t *testing.T) {
	for _, purpose := range []Purpose{GrowOut, Breeding} {
		n := compiled(t, house(), purpose, wet())
		b := n.Baseline(day1, shared)
		f := n.Forecast(Known{Start: day1, LastEvidence: []calendar.Date{day1}}, b, day1, shared, Options{Account: true})
		for i, o := range f.Milestones {
			if o.State == Done {
				require.Equal(t, day1, o.DoneOn)
				continue
			}
			require.Equal(t, b[i], Window{o.Key, o.Expected.P10, o.Expected.P50, o.Expected.P90})
		}
		require.Equal(t, Slip{}, f.Slip)
		require.Empty(t, f.HoldUp)
		require.Empty(t, f.Lost)
	}
}

func TestStates(t *testing.T) {
	n := compiled(t, house(), GrowOut, Season{})
	k := Known{Start: day1, Done: map[string]calendar.Date{"stocked": day1.Add(60), "trained": day1.Add(20), "harvest": day1.Add(900)}}
	f := n.Forecast(k, n.Baseline(day1, shared), day1.Add(61), shared, Options{})
	want := map[string]State{
		"built": Done, "water": Done, "planted": Done, "covered": Implied, "trained": Done, "ordered": Implied, "ready": Implied,
		"stocked": Done, "two-week": Open, "half-year": Open, "harvest": Open, "next": Ahead,
	}
	for key, state := range want {
		require.Equal(t, state, outlook(t, f, key).State, key)
	}
	require.Len(t, f.Milestones, len(want))
	require.Zero(t, outlook(t, f, "covered").Expected)
	require.Equal(t, day1.Add(60), outlook(t, f, "stocked").Expected.P50)
}

// An implied milestone was done by the first day that needed it, and what
// else follows on it counts from there.
func TestImpliedIsDoneByTheFirstThatNeededIt(t *testing.T) {
	n := compiled(t, house(), GrowOut, Season{})
	k := Known{Start: day1, Done: doneAfter(map[string]int{"two-week": 200, "half-year": 39})}
	on := day1.Add(210)
	v := n.look(k, on, nil)
	require.Equal(t, Implied, v.states[n.stocking])
	require.Equal(t, float64(day1.Add(39)), v.bound[n.stocking])
	f := n.Forecast(k, n.Baseline(day1, shared), on, shared, Options{})
	require.Equal(t, day1.Add(39), outlook(t, f, "harvest").Since, "the cover alone takes 42 days, but it must have been by then")
}
