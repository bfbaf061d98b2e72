package programme

import (
	"fmt"
	"testing"
	"time"

	"tendfold/domain/calendar"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// few draws keep the properties quick; they hold for any number.
var few = NewDraws(11, 60)

// someNetwork is a random programme in a random season, sound by making.
func someNetwork(t *rapid.T) *Network {
	n := rapid.IntRange(3, 9).Draw(t, "milestones")
	p := Programme{
		Start: "m0", Stocking: "m1", Harvest: fmt.Sprint("m", n-1), Pi: rapid.SampledFrom([]float64{0, 0.05}).Draw(t, "pi"),
		LagDays: rapid.IntRange(0, 3).Draw(t, "lag"),
	}
	season := Season{NotIn: map[string][]time.Month{}}
	for i := range n {
		m := Milestone{
			Key: fmt.Sprint("m", i), Kind: rapid.SampledFrom([]Kind{Work, Living}).Draw(t, "kind"),
			Seasonal: rapid.Bool().Draw(t, "seasonal"), Days: someDays(t),
		}
		if i > 0 {
			m.After = []string{fmt.Sprint("m", rapid.IntRange(0, i-1).Draw(t, "after"))}
		}
		if i > 2 { // stocking and the last always on the way
			m.After = append(m.After, fmt.Sprint("m", i-1))
		}
		if i == 2 {
			m.After = []string{"m1"}
		}
		for _, month := range rapid.SliceOfNDistinct(rapid.IntRange(1, 12), 0, 3, rapid.ID[int]).Draw(t, "shut") {
			season.NotIn[m.Key] = append(season.NotIn[m.Key], time.Month(month))
		}
		p.Milestones = append(p.Milestones, m)
	}
	if rapid.Bool().Draw(t, "rates") {
		for m := range season.Rate {
			season.Rate[m] = rapid.Float64Range(0.2, 2).Draw(t, "rate")
		}
	}
	net, err := Compile(p, GrowOut, season)
	require.NoError(t, err)
	return net
}

// someKnown is evidence of any sort, also of the impossible.
func someKnown(t *rapid.T, n *Network, on calendar.Date) Known {
	k := Known{Start: day1, Done: map[string]calendar.Date{}, StockedG: rapid.SampledFrom([]float64{0, 30}).Draw(t, "g")}
	for _, x := range n.nodes {
		if rapid.IntRange(0, 3).Draw(t, "done") == 0 {
			k.Done[x.Key] = day1.Add(rapid.IntRange(-20, 500).Draw(t, "on"))
		}
	}
	for range rapid.IntRange(0, 2).Draw(t, "pauses") {
		from := day1.Add(rapid.IntRange(0, 300).Draw(t, "from"))
		p := Pause{From: from, Until: from.Add(rapid.IntRange(0, 60).Draw(t, "until"))}
		if rapid.Bool().Draw(t, "ended") {
			p.Ended = from.Add(rapid.IntRange(0, 60).Draw(t, "ended after"))
		}
		k.Pauses = append(k.Pauses, p)
	}
	for d := day1; d <= on; d += calendar.Date(rapid.IntRange(1, 40).Draw(t, "quiet")) {
		k.LastEvidence = append(k.LastEvidence, d)
	}
	return k
}

func TestForecastProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := someNetwork(t)
		on := day1.Add(rapid.IntRange(0, 500).Draw(t, "day"))
		k := someKnown(t, n, on)
		b := n.Baseline(day1, few)
		f := n.Forecast(k, b, on, few, Options{Account: true})
		require.Equal(t, f, n.Forecast(k, b, on, NewDraws(11, 60), Options{Account: true}), "the same, whoever asks")
		require.Equal(t, f.Slip.Total, f.Slip.Own+f.Slip.Pause)
		require.GreaterOrEqual(t, f.MissSeason, 0.0)
		require.LessOrEqual(t, f.MissSeason, 1.0)
		for i, o := range f.Milestones {
			requireSane(t, k, f, o, n.nodes[i].early)
		}
	})
}

func requireSane(t *rapid.T, k Known, f Forecast, o Outlook, early bool) {
	day, given := k.Done[o.Key]
	switch o.State {
	case Done:
		if given && day <= f.On {
			require.Equal(t, day, o.DoneOn, "done keeps its date")
		} else {
			require.Equal(t, k.Start, o.DoneOn)
			require.True(t, early)
		}
		require.Equal(t, Quantiles{o.DoneOn, o.DoneOn, o.DoneOn}, o.Expected)
	case Implied:
		require.Zero(t, o.Expected)
	default:
		require.False(t, given && day <= f.On)
		require.GreaterOrEqual(t, o.Expected.P10, f.On, "nothing undone is before the day")
		require.LessOrEqual(t, o.Expected.P10, o.Expected.P50)
		require.LessOrEqual(t, o.Expected.P50, o.Expected.P90)
		require.Less(t, o.Expected.P90, f.On.Add(40*365), "no runaway")
	}
}

// What is reported is a middle of two draws where they lie apart, so only
// the draws themselves are sure to keep out of shut months.
func TestUndoneDrawsKeepOutOfShutMonths(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := someNetwork(t)
		on := day1.Add(rapid.IntRange(0, 500).Draw(t, "day"))
		s := few.borrow()
		defer few.giveBack(s)
		v := n.look(someKnown(t, n, on), on, nil)
		r := v.run(few, s)
		for i := range n.nodes {
			if v.states[i] != Open && v.states[i] != Ahead {
				continue
			}
			for k := range few.n {
				require.False(t, n.nodes[i].gate.isShut(r.done[i].at(k)))
				require.GreaterOrEqual(t, r.done[i].at(k), r.start(i).at(k))
			}
		}
	})
}

// One more day without it never brings the harvest nearer: neither a later
// done date nor a longer wait.
func TestDelayNeverHelps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := someNetwork(t)
		b := n.Baseline(day1, few)
		on := day1.Add(rapid.IntRange(30, 400).Draw(t, "day"))
		late := rapid.IntRange(1, 60).Draw(t, "late")
		k := Known{Start: day1, LastEvidence: heardDaily(day1, on.Add(late))}
		now := n.Forecast(k, b, on, few, Options{})
		later := n.Forecast(k, b, on.Add(late), few, Options{})
		require.GreaterOrEqual(t, later.Harvest.P50, now.Harvest.P50, "nothing happened")
		require.GreaterOrEqual(t, later.Harvest.P90, now.Harvest.P90)
		require.GreaterOrEqual(t, later.Slip.Total, now.Slip.Total)

		// Without evidence since: what has waited long may turn out slow,
		// and then an early start is bad news.
		early := Known{Start: day1, Done: map[string]calendar.Date{"m1": on.Add(-late)}}
		done := Known{Start: day1, Done: map[string]calendar.Date{"m1": on}}
		require.GreaterOrEqual(t, n.Forecast(done, b, on, few, Options{}).Harvest.P50, n.Forecast(early, b, on, few, Options{}).Harvest.P50)
	})
}

func TestPauseStopsOnlyWork(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := someNetwork(t)
		on := day1.Add(rapid.IntRange(1, 200).Draw(t, "day"))
		k := Known{Start: day1, LastEvidence: heardDaily(day1, on)}
		b := n.Baseline(day1, few)
		free := n.Forecast(k, b, on, few, Options{})
		k.Pauses = []Pause{{From: day1, Until: on.Add(rapid.IntRange(0, 90).Draw(t, "until"))}}
		held := n.Forecast(k, b, on, few, Options{})
		for i, x := range n.nodes {
			require.GreaterOrEqual(t, held.Milestones[i].Own.P50, free.Milestones[i].Own.P50)
			if x.Kind == Living && free.Milestones[i].State == Open {
				require.Equal(t, free.Milestones[i].Expected, held.Milestones[i].Expected, "animals and plants go on")
			}
		}
		require.GreaterOrEqual(t, held.Slip.Pause, 0)
	})
}

func TestNothingAfterTheDayCounts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := someNetwork(t)
		on := day1.Add(rapid.IntRange(0, 300).Draw(t, "day"))
		k := someKnown(t, n, on)
		b := n.Baseline(day1, few)
		known := k
		known.Done = map[string]calendar.Date{}
		for key, day := range k.Done {
			if day <= on {
				known.Done[key] = day
			}
		}
		k.LastEvidence = append(k.LastEvidence, on.Add(1), on.Add(30))
		k.Readings = append(k.Readings, Reading{Kind: Weight, On: on.Add(1), Value: 50})
		k.Pauses = append(k.Pauses, Pause{From: on.Add(1), Until: on.Add(90)})
		require.Equal(t, n.Forecast(known, b, on, few, Options{Account: true}), n.Forecast(k, b, on, few, Options{Account: true}))
	})
}

// Replaying a cycle with nothing exchanged gives every day back: else a
// difference between two replays would mean nothing.
func TestReplayGivesTheDaysBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := someNetwork(t)
		on := day1.Add(rapid.IntRange(0, 500).Draw(t, "day"))
		s := few.borrow()
		defer few.giveBack(s)
		r := n.look(someKnown(t, n, on), on, nil).run(few, s)
		r.measure()
		p := r.replay(r.sight.stops, false)
		for i := range n.nodes {
			for k := range few.n {
				if n.nodes[i].toHarvest {
					require.InDelta(t, r.done[i].at(k), p.done[i].at(k), 1e-6)
				}
			}
		}
	})
}
