package rehearsal

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tendfold/domain/calendar"
	"tendfold/domain/rehearsal/truth"
	"tendfold/domain/sweep"
)

// snailScript is the names of a snail house beside the truth's, without a
// pack.
func snailScript() *script {
	s := &script{truth: truth.SnailGrowOut(), milestone: map[string]string{}, step: map[string]string{}}
	for step, key := range milestones["snail"] {
		s.milestone[step], s.step[key] = key, step
	}
	return s
}

func seen(k truth.Kind, start, detectable, complete, cost int) Seen {
	return Seen{
		Case:       truth.Case{Fault: truth.Fault{Kind: k}, Start: start, Complete: complete, End: complete, CostDays: cost},
		Detectable: detectable, Counted: true,
	}
}

func raised(rule, subject string, life ...Happening) Ticket {
	return Ticket{Rule: rule, Subject: subject, Life: life}
}

func TestCatch(t *testing.T) {
	late := seen(truth.LatePlanting, 10, 30, 60, 20)
	for name, x := range map[string]struct {
		fault   Seen
		tickets []Ticket
		day     int
		caught  bool
		inTime  bool
	}{
		"opened in time":            {late, []Ticket{raised(sweep.MilestoneBehind, "planted", Happening{35, Opened})}, 35, true, true},
		"on the last day":           {late, []Ticket{raised(sweep.MilestoneBehind, "planted", Happening{37, Opened})}, 37, true, true},
		"a day too late":            {late, []Ticket{raised(sweep.MilestoneBehind, "planted", Happening{38, Opened})}, 38, true, false},
		"before anybody could know": {late, []Ticket{raised(sweep.HarvestSlip, "", Happening{12, Opened})}, 12, true, true},
		"before the fault":          {late, []Ticket{raised(sweep.HarvestSlip, "", Happening{9, Opened})}, 0, false, false},
		"worse":                     {late, []Ticket{raised(sweep.HarvestSlip, "", Happening{9, Opened}, Happening{33, Worsened})}, 33, true, true},
		"cleared is no catch":       {late, []Ticket{raised(sweep.HarvestSlip, "", Happening{9, Opened}, Happening{33, Cleared})}, 0, false, false},
		"another rule":              {late, []Ticket{raised(sweep.NoNews, "", Happening{33, Opened})}, 0, false, false},
		"what waits for it":         {late, []Ticket{raised(sweep.MilestoneBehind, "cover-ready", Happening{33, Opened})}, 33, true, true},
		"luck on another milestone": {late, []Ticket{raised(sweep.MilestoneBehind, "water-proved", Happening{33, Opened})}, 0, false, false},
		"the first of two":          {late, []Ticket{raised(sweep.HarvestSlip, "", Happening{36, Opened}), raised(sweep.MilestoneBehind, "planted", Happening{31, Opened})}, 31, true, true},
		"the loss is complete": {
			seen(truth.SlowGrowth, 10, 50, 55, 20),
			[]Ticket{raised(sweep.GrowthShort, "", Happening{55, Opened})},
			55, true, false,
		},
		"silence has one day": {
			seen(truth.SilentFarm, 10, 50, 90, 20),
			[]Ticket{raised(sweep.NoNews, "", Happening{52, Opened})},
			52, true, false,
		},
	} {
		day, ok := catch(snailScript(), x.fault, x.tickets, answers[x.fault.Kind])
		require.Equal(t, x.caught, ok, name)
		require.Equal(t, x.day, day, name)
		require.Equal(t, x.inTime, ok && x.fault.inTime(day), name)
	}
}

// Every fault that is injected by default is answered by a rule that exists.
func TestEveryDefaultFaultHasARule(t *testing.T) {
	for _, k := range truth.DefaultKinds() {
		require.NotEmpty(t, answers[k], k)
	}
}

// A small rehearsal that can be scored by hand.
func handmade() []FarmRun {
	start := calendar.MustDate("2024-01-01")
	way := Way{"snail", "grow-out"}
	faulty := FarmRun{
		Seed: 1, Index: 0, Way: way, Start: start, Days: 99,
		Faults: []Seen{
			seen(truth.LatePlanting, 10, 30, 60, 20),                                   // major, caught on day 32
			seen(truth.SlowGrowth, 60, 70, 400, 50),                                    // major, caught a day late
			seen(truth.LateTraining, 10, 40, 60, 8),                                    // minor, missed
			seen(truth.SilentFarm, 70, 90, 99, 6),                                      // too cheap to count
			{Case: truth.Case{Fault: truth.Fault{Kind: truth.PoorFeed}, CostDays: 15}}, // nobody could see it
		},
		Tickets: []Ticket{
			{Rule: sweep.MilestoneBehind, Subject: "planted", Life: []Happening{{32, Opened}, {40, Cleared}, {54, Reopened}}, True: true, Planned: true},
			{Rule: sweep.GrowthShort, Life: []Happening{{85, Opened}, {90, Worsened}}, True: true},
			{Rule: sweep.GoAheadShort, Subject: "ready-to-stock", Life: []Happening{{32, Opened}, {33, Cleared}}},
		},
		Naive: []Ticket{
			{Rule: NaiveRule, Subject: "planted", Life: []Happening{{20, Opened}}, True: true, Planned: true},
			{Rule: NaiveRule, Subject: "water-proved", Life: []Happening{{5, Opened}}},
		},
	}
	clean := FarmRun{
		Seed: 1, Index: 1, Way: way, Start: start.Add(10), Days: 99, Faultless: true,
		Tickets: []Ticket{
			{Rule: sweep.NoNews, Life: []Happening{{50, Opened}, {52, Cleared}}},
			{Rule: sweep.HarvestSlip, Life: []Happening{{60, Opened}}, Late: 9, True: true, Planned: true},
		},
		Stocking: Promise{Made: true, From: start, P50: start.Add(50), P90: start.Add(60), Actual: start.Add(55)},
	}
	return []FarmRun{faulty, clean}
}

func TestScoreByHand(t *testing.T) {
	runs := handmade()
	s := newScore()
	for i := range runs {
		s.add(snailScript(), &runs[i])
	}
	require.Equal(t, 5, s.Injected)
	require.Equal(t, Share{1, 2}, s.Major.Share)
	require.Equal(t, []float64{2, 15}, s.Major.Days)
	require.Zero(t, s.Major.Never)
	require.Equal(t, 2, s.Major.Half, "both before half the loss")
	require.Equal(t, Share{0, 1}, s.Minor.Share)
	require.Equal(t, 1, s.Minor.Never)
	require.Equal(t, map[truth.Kind]int{truth.PoorFeed: 1}, s.Undetectable)
	require.Equal(t, Share{1, 1}, s.ByKind[truth.LatePlanting].Share)
	require.Equal(t, Share{0, 1}, s.ByKind[truth.SlowGrowth].Share)
	require.Equal(t, Share{3, 4}, s.Precision, "record rules are not graded")
	require.Equal(t, Share{0, 1}, s.ByRule[sweep.GoAheadShort])
	require.Equal(t, 100, s.CleanDays)
	require.InDelta(t, 2*365.25/100, s.perYear(s.Clean), 1e-9)
	require.InDelta(t, 1*365.25/100, s.perYear(s.Unexplained), 1e-9)
	require.Equal(t, Share{1, 3}, s.Flaps, "one of three cleared was back after 14 days")
	require.Equal(t, Naive{Recall: Share{1, 1}, Precision: Share{1, 2}}, s.Naive)
	require.Equal(t, Naive{Recall: Share{1, 1}, Precision: Share{2, 2}}, s.Plain)
	require.Len(t, s.Stocking, 1)
}

func TestReportSpeaksOfMajorFaults(t *testing.T) {
	runs := handmade()
	s := newScore()
	for i := range runs {
		s.add(snailScript(), &runs[i])
	}
	s.Load = load(runs)
	r := (&Rehearsal{Config: Config{Farms: 2, Days: 99, Seeds: []uint64{1}, World: truth.Fair}}).Report(s)
	require.InDelta(t, .5, r.Recall, 1e-9)
	require.InDelta(t, 8.5, *r.Median, 1e-9)
	require.Equal(t, FaultReport{Injected: 5, Major: 2, Minor: 1, Undetectable: 1, ByKind: r.Faults.ByKind}, r.Faults)
	require.Equal(t, 1, r.Faults.ByKind[truth.LatePlanting].Caught)
	require.Equal(t, DateReport{0, 1}, r.Dates)
	require.InDelta(t, .3333, r.Flap, 1e-9)
	require.Equal(t, []RuleReport{
		{Rule: sweep.GoAheadShort, Opened: 1},
		{Rule: sweep.GrowthShort, Opened: 1, Real: 1, Inferred: true},
		{Rule: sweep.HarvestSlip, Opened: 1, Real: 1, Inferred: true, Clean: 3.6525},
		{Rule: sweep.MilestoneBehind, Opened: 1, Real: 1, Inferred: true},
		{Rule: sweep.NoNews, Opened: 1, Inferred: true, Clean: 3.6525, Unexplained: 3.6525},
	}, s.Rules())
	require.Equal(t, DateReport{}, s.HalfWayDates(), "nobody was half-way")
}

// A kind of which more than half were never caught has no median.
func TestEndlessMedianIsNull(t *testing.T) {
	s := newScore()
	run := FarmRun{Faults: []Seen{seen(truth.SlowGrowth, 60, 70, 400, 50)}}
	s.add(snailScript(), &run)
	r := (&Rehearsal{}).Report(s)
	require.Nil(t, r.Median)
	require.Nil(t, r.Faults.ByKind[truth.SlowGrowth].Median)
}

func TestLoadByHand(t *testing.T) {
	start := calendar.MustDate("2024-01-01")
	var runs []FarmRun
	for i := range 130 { // two desks of sixty, ten farms left over
		r := FarmRun{Seed: 1, Index: i, Start: start, Days: 1}
		if i%60 == 0 {
			r.Tickets = []Ticket{raised(sweep.NoNews, "", Happening{1, Opened}, Happening{1, Settled}), raised(sweep.SnagDue, "", Happening{1, Reopened})}
		}
		runs = append(runs, r)
	}
	require.Equal(t, []int{0, 0, 2, 2}, load(runs))
	require.InDelta(t, 1, mean(load(runs)), 1e-9)
	// Thirty farms are half a desk.
	require.Equal(t, []int{0, 4}, load(runs[:30]))
	// Another seed has desks of its own.
	other := runs[0]
	other.Seed = 2
	require.Equal(t, []int{0, 4, 0, 120}, load(append(runs[:30:30], other)))
}
