package sweep

import (
	"time"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/domain/ticket"
)

// A small programme of our own: planting, cover, training, go-ahead, stocking,
// harvest. Its figures are those that design gives for the rules.
func testPlan() *Plan {
	ms := []programme.Milestone{
		{Key: "built", Days: programme.Days{}, Kind: programme.Work, OnWay: true, QuietDays: 21, VisitDays: 7},
		{Key: "planted", After: []string{"built"}, Days: programme.Days{}, Kind: programme.Work, OnWay: true, QuietDays: 21, VisitDays: 7},
		{Key: "cover", After: []string{"planted"}, Days: programme.Days{Min: 28, Likely: 40, Max: 56}, Kind: programme.Living, OnWay: true, QuietDays: 21, VisitDays: 14},
		{Key: "trained", After: []string{"planted"}, Days: programme.Days{Min: 5, Likely: 14, Max: 28}, Kind: programme.Work, OnWay: true, QuietDays: 21, VisitDays: 14},
		{Key: "ready", After: []string{"cover", "trained"}, Days: programme.Days{Min: 1, Likely: 3, Max: 7}, Kind: programme.Work, OnWay: true, QuietDays: 21, VisitDays: 14},
		{Key: "stocked", After: []string{"ready"}, Days: programme.Days{Min: 1, Likely: 5, Max: 14}, Kind: programme.Work, OnWay: true, GoAhead: "stocking", QuietDays: 21, VisitDays: 14},
		{Key: "harvest", After: []string{"stocked"}, Days: programme.Days{Min: 240, Likely: 300, Max: 380}, Kind: programme.Living, OnWay: true, QuietDays: 16, VisitDays: 30},
	}
	p := programme.Programme{
		Enterprise: "test", Start: "planted", Stocking: "stocked", Harvest: "harvest", Milestones: ms, Pi: 0.05, LagDays: 2,
		Limits: programme.Limits{Behind: 21, Grace: 3, Tolerance: 5, Leave: 3},
	}
	n, err := programme.Compile(p, programme.GrowOut, programme.Season{})
	if err != nil {
		panic(err)
	}
	fig := func(enter, leave, days float64, grace, recovery, rest int) RuleFigures {
		return RuleFigures{Enter: enter, Leave: leave, Days: days, Grace: grace, Recovery: recovery, Rest: rest, Impact: ticket.Middle, TimeToLoss: ticket.Longer}
	}
	rules := map[string]RuleFigures{
		MilestoneBehind: fig(0, 0, 5, 3, 3, 14), CoverShort: fig(0.8, 0.5, 7, 0, 3, 14), GrowthShort: fig(28, 21, 14, 0, 7, 28),
		HarvestSlip: fig(20, 13, 7, 0, 14, 60), SeasonRisk: fig(0.2, 0.1, 0, 0, 7, 30), NoNews: fig(0, 0, 0, 0, 1, 7),
		GoAheadShort: fig(0, 0, 0, 0, 1, 7), GoAheadSkipped: fig(0, 0, 0, 0, 1, 180), TrainingGap: fig(0, 0, 0, 14, 1, 30),
		NewCaretaker: fig(0, 0, 30, 3, 0, 14), NobodyTrained: fig(0, 0, 0, 3, 0, 14),
		VisitOverdue: fig(0, 0, 0, 0, 0, 0), SnagDue: fig(0, 0, 30, 0, 1, 14),
	}
	nn := rules[NoNews]
	nn.Mutes = []string{MilestoneBehind, CoverShort, GrowthShort, HarvestSlip, SeasonRisk, GoAheadShort}
	rules[NoNews] = nn
	return &Plan{
		Programme: p, Network: n, Draws: programme.NewDraws(1, 200), Rules: rules, Modules: []string{"safety"},
		GoAheads: []GoAhead{{Key: "stocking", Milestone: "stocked", Items: []Requirement{{Item: "doors"}}, Modules: []string{"safety"}, LeadDays: 10}},
		Handover: []VisitStage{{Days: 42, Every: 7}},
	}
}

var plan = testPlan()

// day0 is the day on which the test farms are planted.
var day0 = calendar.NewDate(2026, time.March, 2)

// planted is a watched farm on its first day, with news every week up to
// weeks later.
func planted(weeks int) *Facts {
	f := &Facts{
		FarmID: "f", BranchID: "b", Watched: true, Status: farm.Active, IntakeOn: day0, HandedOver: day0,
		Caretakers: []Caretaker{{PersonID: "p", InCharge: true, Since: day0}},
	}
	for w := range weeks + 1 {
		f.Evidence = append(f.Evidence, day0.Add(7*w))
	}
	c := &Cycle{
		ID: "c", Plan: plan, Baseline: plan.Network.Baseline(day0, plan.Draws), Marks: map[string]Mark{},
		Known: programme.Known{Start: day0, Done: map[string]calendar.Date{"built": day0, "planted": day0}, LastEvidence: f.Evidence},
	}
	f.Units = []Unit{{ID: "u", HandedOver: day0, Plan: plan, Cycle: c}}
	return f
}

func (f *Facts) done(milestone string, on calendar.Date) *Facts {
	f.Units[0].Cycle.Known.Done[milestone] = on
	return f
}

func rulesOf(d Day) []string {
	var out []string
	for _, f := range d.Findings {
		out = append(out, f.Rule()+":"+f.Subject())
	}
	return out
}
