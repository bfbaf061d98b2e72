package programme

import (
	"encoding/json"
	"testing"

	"tendfold/domain"
	"tendfold/domain/calendar"

	"github.com/stretchr/testify/require"
)

// limits of the table below: behind at 18, slipping at 9, grace 3,
// tolerance 4, left 3 days lower.
func judged(t *testing.T) *Network {
	p := row()
	p.Limits = Limits{Behind: 18, Grace: 3, Tolerance: 4, Leave: 3}
	for i := range p.Milestones {
		p.Milestones[i].QuietDays = 16
	}
	return compiled(t, p, GrowOut, Season{})
}

// situation is a cycle at its first step with a slip, next expected some
// days past its target and today some days past its latest.
func situation(n *Network, own, nextLate, pastLatest int, was Standing) Situation {
	b := n.Baseline(day1, shared)
	w, _ := b.Window("a")
	on := w.Latest.Add(pastLatest)
	return Situation{Baseline: b, Was: was, QuietSince: on, Forecast: Forecast{
		On: on, Slip: Slip{Total: own, Own: own},
		Milestones: []Outlook{
			{Key: "start", State: Done},
			{Key: "a", State: Open, Expected: Quantiles{P50: w.Target.Add(nextLate)}},
			{Key: "b", State: Ahead},
			{Key: "side", State: Implied},
			{Key: "stocked", State: Ahead},
			{Key: "harvest", State: Ahead},
		},
	}}
}

func TestStandingBySchedule(t *testing.T) {
	for _, x := range []struct {
		name                      string
		own, nextLate, pastLatest int
		was, want                 Standing
		codes                     []string
	}{
		{"fine", 0, 0, -5, OnCourse, OnCourse, []string{ReasonOnCourse}},
		{"ahead", -20, -9, -5, OnCourse, OnCourse, []string{ReasonOnCourse}},
		{"just short of slipping", 8, 4, -5, OnCourse, OnCourse, []string{ReasonOnCourse}},
		{"half the limit", 9, 0, -5, OnCourse, Slipping, []string{ReasonSlip}},
		{"next past its target", 0, 5, -5, OnCourse, Slipping, []string{ReasonNextLate}},
		{"both", 12, 5, -5, OnCourse, Slipping, []string{ReasonNextLate, ReasonSlip}},
		{"the limit", 18, 0, -5, OnCourse, Behind, []string{ReasonSlip}},
		{"past latest within grace", 0, 0, 3, OnCourse, OnCourse, []string{ReasonOnCourse}},
		{"past latest and grace", 0, 0, 4, OnCourse, Behind, []string{ReasonPastLatest}},
		{"stays slipping", 6, 0, -5, Slipping, Slipping, []string{ReasonSlip}},
		{"stays slipping by the next", 0, 2, -5, Slipping, Slipping, []string{ReasonNextLate}},
		{"leaves slipping", 5, 1, -5, Slipping, OnCourse, []string{ReasonOnCourse}},
		{"stays behind", 15, 0, -5, Behind, Behind, []string{ReasonSlip}},
		{"leaves behind for slipping", 14, 0, -5, Behind, Slipping, []string{ReasonSlip}},
		{"stays slipping on the way down", 6, 0, -5, Behind, Slipping, []string{ReasonSlip}},
		{"leaves behind", 5, 0, -5, Behind, OnCourse, []string{ReasonOnCourse}},
		{"slipping does not ease into behind", 15, 0, -5, Slipping, Slipping, []string{ReasonSlip}},
		{"stays behind by a date", 0, 0, 1, Behind, Behind, []string{ReasonPastLatest}},
	} {
		t.Run(x.name, func(t *testing.T) {
			n := judged(t)
			v := n.Judge(situation(n, x.own, x.nextLate, x.pastLatest, x.was))
			require.Equal(t, x.want, v.Standing)
			require.Equal(t, x.want, v.Schedule)
			require.Equal(t, x.codes, codes(v.Reasons))
		})
	}
}

func codes(reasons []domain.Reason) []string {
	var out []string
	for _, r := range reasons {
		out = append(out, r.Code)
	}
	return out
}

func TestStandingsInTheirOrder(t *testing.T) {
	n := judged(t)
	open := []Pause{{From: day1, Until: day1.Add(400)}}
	quiet := func(s Situation, days int) Situation { s.QuietSince = s.Forecast.On.Add(-days); return s }
	late := func() Situation { return situation(n, 30, 0, -5, OnCourse) }

	s := late()
	s.Ended, s.Pauses = true, open
	require.Equal(t, Complete, n.Judge(quiet(s, 99)).Standing, "complete before all")

	s = late()
	s.Pauses = open
	v := n.Judge(quiet(s, 99))
	require.Equal(t, PausedStanding, v.Standing, "paused before no news")
	require.Equal(t, Behind, v.Schedule, "and behind")
	require.Equal(t, []string{ReasonPaused, ReasonSlip}, codes(v.Reasons))
	s = situation(n, 10, 0, -5, OnCourse)
	s.Pauses = open
	require.Equal(t, []string{ReasonPaused}, codes(n.Judge(s).Reasons), "slipping is not added")

	v = n.Judge(quiet(late(), 17))
	require.Equal(t, NoNews, v.Standing, "no news before behind")
	require.Equal(t, 17, v.Reasons[0].Values["days"])
	require.Equal(t, Behind, n.Judge(quiet(late(), 16)).Standing, "longer than the stage allows, not as long")
	s = late()
	s.QuietSince = 0
	require.Equal(t, Behind, n.Judge(s).Standing)

	s = situation(n, 2, 0, -5, OnCourse)
	s.Forecast.Slip = Slip{Total: 40, Own: 2, Pause: 38}
	v = n.Judge(s)
	require.Equal(t, OnCourse, v.Standing, "only the own slip counts")
	require.Equal(t, []string{ReasonOnCourse, ReasonPauseCounts}, codes(v.Reasons))
}

func TestCompleteWhenNothingIsLeft(t *testing.T) {
	n := judged(t)
	s := situation(n, 0, 0, 0, OnCourse)
	for i := range s.Forecast.Milestones {
		s.Forecast.Milestones[i].State = Done
	}
	require.Equal(t, Complete, n.Judge(s).Standing)
	s.Forecast.Milestones[3].State = Implied
	require.Equal(t, Complete, n.Judge(s).Standing)
}

// A whole cycle that does nothing: quiet first if it says nothing, behind if
// it says only that nothing is done.
func TestJudgeOnRealForecasts(t *testing.T) {
	n := compiled(t, house(), GrowOut, wet())
	b := n.Baseline(day1, shared)
	k := Known{Start: day1, LastEvidence: heardDaily(day1, day1.Add(200))}
	var seen []Standing
	was := OnCourse
	for d := 0; d <= 120; d++ {
		f := n.Forecast(k, b, day1.Add(d), shared, Options{})
		v := n.Judge(Situation{Baseline: b, Forecast: f, QuietSince: day1.Add(d), Was: was})
		if len(seen) == 0 || seen[len(seen)-1] != v.Standing {
			seen = append(seen, v.Standing)
		}
		was = v.Schedule
	}
	require.Equal(t, []Standing{OnCourse, Slipping, Behind}, seen, "each once: nothing flaps")
}

func TestNextIsOnTheWayFirst(t *testing.T) {
	n := compiled(t, house(), GrowOut, Season{})
	at := func(done map[string]int) string {
		f := n.Forecast(Known{Start: day1, Done: doneAfter(done)}, nil, day1.Add(600), shared, Options{})
		return n.Next(f).Key
	}
	require.Equal(t, "covered", at(nil))
	require.Equal(t, "trained", at(map[string]int{"covered": 40}))
	require.Equal(t, "harvest", at(map[string]int{"stocked": 50}), "two-week and half-year lie beside the way")
	require.Equal(t, "two-week", at(map[string]int{"harvest": 300}))
	require.Equal(t, "next", at(map[string]int{"next": 320}))
}

func TestWorstOf(t *testing.T) {
	require.Equal(t, Standing(""), WorstOf(nil))
	order := []Standing{Behind, NoNews, Slipping, OnCourse, PausedStanding, Complete}
	for i := range order {
		require.Equal(t, order[i], WorstOf([]Standing{order[len(order)-1], order[i], order[len(order)-1]}))
		for j := i; j < len(order); j++ {
			require.Equal(t, order[i], WorstOf([]Standing{order[j], order[i]}))
		}
	}
	require.Equal(t, ToConfirm, FarmStanding(false, []Standing{Behind}))
	require.Equal(t, Behind, FarmStanding(true, []Standing{OnCourse, Behind}))
}

func TestPausedOn(t *testing.T) {
	p := []Pause{{From: day1, Ended: day1.Add(3)}, {From: day1.Add(10), Until: day1.Add(12)}}
	for day, want := range map[int]bool{-1: false, 0: true, 2: true, 3: false, 9: false, 10: true, 50: true} {
		_, got := PausedOn(p, day1.Add(day))
		require.Equal(t, want, got, day)
	}
}

// Reasons go through JSON into the database and out again unchanged in what
// they say.
func TestReasonsSurviveJSON(t *testing.T) {
	n := judged(t)
	for _, s := range []Situation{situation(n, 30, 9, 9, OnCourse), situation(n, 0, 9, -5, OnCourse)} {
		v := n.Judge(s)
		raw, err := json.Marshal(v)
		require.NoError(t, err)
		var back Verdict
		require.NoError(t, json.Unmarshal(raw, &back))
		require.Equal(t, codes(v.Reasons), codes(back.Reasons))
		for _, r := range v.Reasons {
			for name, value := range r.Values {
				require.Contains(t, []any{"string", "int", "float64"}, kindOf(value), "%s of %s", name, r.Code)
			}
		}
	}
}

func kindOf(v any) any {
	switch v.(type) {
	case string:
		return "string"
	case int:
		return "int"
	case float64:
		return "float64"
	case calendar.Date:
		return "date"
	}
	return "other"
}
