package programme

import (
	"testing"

	"tendfold/domain/calendar"

	"github.com/stretchr/testify/require"
)

// row is a chain of works that take exactly their days, so that every slip
// can be told by hand: start, a (10 days), b (20), stocked (5), harvest (living, 100).
func row() Programme {
	exact := func(key, after string, days float64, kind Kind) Milestone {
		return Milestone{Key: key, After: []string{after}, Kind: kind, Days: Days{days, days, days}, OnWay: true}
	}
	return Programme{Start: "start", Stocking: "stocked", Harvest: "harvest", Milestones: []Milestone{
		{Key: "start", Kind: Work},
		exact("a", "start", 10, Work), exact("b", "a", 20, Work), exact("side", "start", 25, Work),
		{Key: "stocked", After: []string{"b", "side"}, Kind: Work, Days: Days{5, 5, 5}, OnWay: true},
		exact("harvest", "stocked", 100, Living),
	}}
}

func doneAfter(days map[string]int) map[string]calendar.Date {
	out := map[string]calendar.Date{}
	for key, d := range days {
		out[key] = day1.Add(d)
	}
	return out
}

func TestSlipAndHoldUpByHand(t *testing.T) {
	paused := []Pause{{From: day1.Add(12), Until: day1.Add(19), Ended: day1.Add(19)}}
	for _, x := range []struct {
		name   string
		done   map[string]int
		pauses []Pause
		on     int
		slip   Slip
		holdUp string
		lost   []Loss
	}{
		{"nothing late", map[string]int{"a": 10}, nil, 10, Slip{}, "", nil},
		{"early", map[string]int{"a": 6}, nil, 10, Slip{-4, -4, 0, -4}, "", []Loss{{"a", -4}}},
		{"one late and done", map[string]int{"a": 17}, nil, 20, Slip{7, 7, 0, 7}, "a", []Loss{{"a", 7}}},
		{"two late: the worse", map[string]int{"a": 13, "b": 40}, nil, 41, Slip{10, 10, 0, 10}, "b", []Loss{{"a", 3}, {"b", 7}}},
		{"ties to the earliest", map[string]int{"a": 13, "b": 36}, nil, 37, Slip{6, 6, 0, 6}, "a", []Loss{{"a", 3}, {"b", 3}}},
		{"late beside the way: float used", map[string]int{"a": 10, "b": 30, "side": 30}, nil, 31, Slip{}, "", nil},
		{"late beside the way: beyond it", map[string]int{"a": 10, "b": 30, "side": 34}, nil, 35, Slip{4, 4, 0, 4}, "side", []Loss{{"side", 4}}},
		{"paused", map[string]int{"a": 10, "b": 37}, paused, 38, Slip{7, 0, 7, 0}, "", []Loss{{"pause", 7}}},
		{"paused and late", map[string]int{"a": 10, "b": 42}, paused, 43, Slip{12, 5, 7, 5}, "b", []Loss{{"b", 5}, {"pause", 7}}},
		{"paused beside the way", map[string]int{"a": 10, "b": 30, "side": 32}, []Pause{{From: day1.Add(31), Ended: day1.Add(33)}}, 34, Slip{3, 2, 1, 2}, "side", []Loss{{"side", 1}, {"pause", 1}}},
		{"implied takes no blame", map[string]int{"b": 37}, nil, 38, Slip{7, 7, 0, 7}, "b", []Loss{{"b", 7}}},
		{"late after stocking", map[string]int{"a": 10, "b": 30, "stocked": 35, "harvest": 150}, nil, 151, Slip{15, 15, 0, 0}, "harvest", []Loss{{"harvest", 15}}},
		{"late before, made good after", map[string]int{"a": 20, "b": 40, "stocked": 45, "harvest": 135}, nil, 151, Slip{0, 0, 0, 10}, "a", []Loss{{"a", 10}, {"harvest", -10}}},
	} {
		t.Run(x.name, func(t *testing.T) {
			n := compiled(t, row(), GrowOut, Season{})
			k := Known{Start: day1, Done: doneAfter(x.done), Pauses: x.pauses}
			f := n.Forecast(k, n.Baseline(day1, shared), day1.Add(x.on), shared, Options{Account: true})
			require.Equal(t, x.slip, f.Slip)
			require.Equal(t, x.holdUp, f.HoldUp)
			require.Equal(t, x.lost, f.Lost)
		})
	}
}

// An open pause counts to its planned end, and to the day when that is past.
func TestOpenPauseMovesTheHarvest(t *testing.T) {
	n := compiled(t, row(), GrowOut, Season{})
	b := n.Baseline(day1, shared)
	k := Known{Start: day1, Done: doneAfter(map[string]int{"a": 10}), Pauses: []Pause{{From: day1.Add(10), Until: day1.Add(24)}}}
	require.Equal(t, Slip{14, 0, 14, 0}, n.Forecast(k, b, day1.Add(12), shared, Options{}).Slip)
	require.Equal(t, Slip{20, 0, 20, 0}, n.Forecast(k, b, day1.Add(30), shared, Options{}).Slip)
}

func TestLivingGoesOnThroughAPause(t *testing.T) {
	n := compiled(t, row(), GrowOut, Season{})
	k := Known{Start: day1, Done: doneAfter(map[string]int{"stocked": 35}), Pauses: []Pause{{From: day1.Add(40), Until: day1.Add(90)}}}
	f := n.Forecast(k, n.Baseline(day1, shared), day1.Add(60), shared, Options{Account: true})
	require.Equal(t, Slip{}, f.Slip)
	require.Equal(t, day1.Add(135), f.Harvest.P50)
}

// What is not heard of adds no slip: the wait counts only to the last
// evidence, less the lag, and nothing is promised for a day gone by.
func TestSilenceAddsNoSlip(t *testing.T) {
	n := compiled(t, house(), GrowOut, Season{})
	b := n.Baseline(day1, shared)
	heard := Known{Start: day1, LastEvidence: heardDaily(day1, day1.Add(40))}
	then := n.Forecast(heard, b, day1.Add(40), shared, Options{})
	now := n.Forecast(heard, b, day1.Add(140), shared, Options{})
	require.Equal(t, then.Slip, now.Slip)
	require.True(t, then.NotHeardSince.IsZero())
	require.Equal(t, day1.Add(40), now.NotHeardSince)
	require.Equal(t, day1.Add(140), outlook(t, now, "covered").Expected.P10)

	heard.LastEvidence = heardDaily(day1, day1.Add(140))
	require.Greater(t, n.Forecast(heard, b, day1.Add(140), shared, Options{}).Slip.Own, 60)
	require.Equal(t, day1, n.Forecast(Known{Start: day1}, b, day1.Add(9), shared, Options{}).NotHeardSince, "never heard of since it began")
}

func TestLagIsTakenOff(t *testing.T) {
	n := compiled(t, house(), GrowOut, Season{})
	v := n.look(Known{Start: day1, LastEvidence: heardDaily(day1, day1.Add(30))}, day1.Add(35), nil)
	i := n.index["covered"]
	require.Equal(t, 28.0, v.waited(i, n.nodes[i].clock(nil), float64(day1)), "30 days less 2")
	require.Zero(t, v.waited(i, n.nodes[i].clock(nil), float64(day1.Add(29))))
}

func TestOwnCountsFromWhatHappened(t *testing.T) {
	n := compiled(t, row(), GrowOut, Season{})
	b := n.Baseline(day1, shared)
	f := n.Forecast(Known{Start: day1, Done: doneAfter(map[string]int{"a": 17})}, b, day1.Add(60), shared, Options{})
	require.Equal(t, day1.Add(37), outlook(t, f, "b").Own.P50, "20 days after a, whenever that was")
	require.Equal(t, day1.Add(17), outlook(t, f, "b").Since)
	require.Zero(t, outlook(t, f, "stocked").Since)
	require.Equal(t, day1.Add(10), outlook(t, f, "a").Own.P50, "done: still what it should have been")
	require.Zero(t, outlook(t, f, "stocked").Own, "ahead: no day to count from")
}

// Own is counted from what an implied milestone may have been where that is
// all there is.
func TestOwnAfterAnImpliedMilestone(t *testing.T) {
	p := row()
	p.Milestones = append(p.Milestones, Milestone{Key: "check", After: []string{"a"}, Kind: Work, Days: Days{3, 3, 3}})
	n := compiled(t, p, GrowOut, Season{})
	f := n.Forecast(Known{Start: day1, Done: doneAfter(map[string]int{"b": 32})}, n.Baseline(day1, shared), day1.Add(40), shared, Options{})
	require.Equal(t, Implied, outlook(t, f, "a").State)
	require.Equal(t, Open, outlook(t, f, "check").State)
	require.Equal(t, day1.Add(13), outlook(t, f, "check").Own.P50)
}

func TestSeasonWaits(t *testing.T) {
	season := Season{NotIn: wet().NotIn} // no stocking in January and February
	n := compiled(t, row(), GrowOut, season)
	start := calendar.MustDate("2026-11-20") // stocking would be 25 December
	b := n.Baseline(start, shared)
	w, _ := b.Window("stocked")
	require.Equal(t, calendar.MustDate("2026-12-25"), w.Target)

	on := start.Add(13)
	f := n.Forecast(Known{Start: start, LastEvidence: heardDaily(start, on), Done: map[string]calendar.Date{"a": start.Add(10)}}, b, on, shared, Options{})
	require.Zero(t, f.MissSeason)

	late := Known{Start: start, Done: map[string]calendar.Date{"a": start.Add(20)}} // ready on 4 January
	f = n.Forecast(late, b, start.Add(21), shared, Options{Account: true})
	require.InDelta(t, 1, f.MissSeason, 0)
	require.Equal(t, calendar.MustDate("2027-03-01"), outlook(t, f, "stocked").Expected.P50)
	require.Equal(t, Slip{66, 66, 0, 66}, f.Slip)
	require.Equal(t, "a", f.HoldUp, "ten days cost a season")
	require.Equal(t, []Loss{{"a", 66}, {"season", 56}}, f.Lost)

	late.Done["stocked"] = calendar.MustDate("2027-03-04")
	f = n.Forecast(late, b, calendar.MustDate("2027-03-05"), shared, Options{Account: true})
	require.Equal(t, 69, f.Slip.Total)
	require.Zero(t, f.MissSeason, "behind it")
	require.Contains(t, f.Lost, Loss{"season", 59})
}

// A wait that the baseline already had costs nothing, nor does what is lost
// within it.
func TestAPromisedWaitIsNoLoss(t *testing.T) {
	n := compiled(t, row(), GrowOut, Season{NotIn: wet().NotIn})
	start := calendar.MustDate("2026-12-10") // stocking ready on 14 January, promised for 1 March
	b := n.Baseline(start, shared)
	for _, days := range []int{10, 15} {
		k := Known{Start: start, Done: map[string]calendar.Date{"a": start.Add(days)}}
		f := n.Forecast(k, b, start.Add(16), shared, Options{Account: true})
		require.Zero(t, f.Slip)
		require.Empty(t, f.Lost)
	}
}

// While its months are shut, "not yet" is no sign of being slow.
func TestWaitingForASeasonIsNotBeingSlow(t *testing.T) {
	season := Season{NotIn: wet().NotIn}
	n := compiled(t, house(), GrowOut, season)
	start := calendar.MustDate("2026-11-01")
	ready := calendar.MustDate("2026-12-29")
	k := Known{Start: start, Done: map[string]calendar.Date{"covered": start.Add(50), "trained": start.Add(20), "ordered": start.Add(20), "ready": ready}}
	k.LastEvidence = heardDaily(start, ready.Add(200))
	i := n.index["stocked"]
	waited := func(day string) float64 {
		v := n.look(k, calendar.MustDate(day), nil)
		return v.waited(i, n.nodes[i].clock(nil), float64(ready))
	}
	require.Equal(t, 3.0, waited("2027-02-20"), "29 to 31 December")
	require.Equal(t, 69.0, waited("2027-03-10"), "the season has opened and it is still not done")
}

func TestAssumeAsksWhatIf(t *testing.T) {
	n := compiled(t, row(), GrowOut, Season{})
	b := n.Baseline(day1, shared)
	k := Known{Start: day1, Done: doneAfter(map[string]int{"a": 10})}
	f := n.Forecast(k, b, day1.Add(11), shared, Options{Account: true, Assume: map[string]calendar.Date{"stocked": day1.Add(65), "a": day1.Add(99), "no such": day1}})
	require.Equal(t, day1.Add(165), f.Harvest.P50)
	require.Equal(t, 30, f.Slip.Total)
	require.Equal(t, "stocked", f.HoldUp)
	require.Equal(t, Ahead, outlook(t, f, "stocked").State)
	require.Equal(t, day1.Add(10), outlook(t, f, "a").DoneOn, "what is done stays done")
	require.Zero(t, n.Forecast(k, b, day1.Add(11), shared, Options{}).Slip.Total, "asking changes nothing")
}

func TestABaselineOfAnOlderProgrammeGivesNoSlip(t *testing.T) {
	n := compiled(t, row(), GrowOut, Season{})
	f := n.Forecast(Known{Start: day1}, Baseline{{Key: "gone"}}, day1.Add(90), shared, Options{Account: true})
	require.Zero(t, f.Slip)
	require.False(t, f.Harvest.P50.IsZero())
}

func TestDoneAgainstTheOrderKeepsItsDates(t *testing.T) {
	n := compiled(t, row(), GrowOut, Season{})
	k := Known{Start: day1, Done: doneAfter(map[string]int{"a": 30, "b": 20, "stocked": 60})}
	f := n.Forecast(k, n.Baseline(day1, shared), day1.Add(61), shared, Options{Account: true})
	require.Equal(t, day1.Add(20), outlook(t, f, "b").DoneOn)
	require.Equal(t, day1.Add(160), f.Harvest.P50)
	require.Equal(t, 25, f.Slip.Own)
}
