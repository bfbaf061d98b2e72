package rehearsal

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"tendfold/domain/programme"
	"tendfold/domain/rehearsal/truth"
	"tendfold/domain/sweep"
	"tendfold/domain/ticket"
)

// homePlans are plans made from the truth's own medians, so that the tests of
// this room hang on no pack.
func homePlans(t testing.TB) map[Way]*sweep.Plan {
	draws := programme.NewDraws(1, 100)
	out := map[Way]*sweep.Plan{}
	for _, tp := range truth.Plans() {
		p := homeProgramme(tp)
		n, err := programme.Compile(p, programme.Purpose(tp.Purpose), programme.Season{})
		require.NoError(t, err)
		out[Way{tp.Enterprise, tp.Purpose}] = &sweep.Plan{
			Programme: p, Network: n, Draws: draws, Rules: homeRules(), Modules: []string{"care"},
			GoAheads: []sweep.GoAhead{{Key: "ready", Milestone: "ready-to-stock", Items: []sweep.Requirement{{Item: "a"}, {Item: "b"}}, LeadDays: 7}},
		}
	}
	return out
}

func homeProgramme(tp *truth.Plan) programme.Programme {
	key := func(step string) string { return milestones[tp.Enterprise][step] }
	p := programme.Programme{
		Enterprise: tp.Enterprise, Start: key(truth.Built), Stocking: key(truth.Stocked), Harvest: key(truth.Harvest),
		Pi: .05, LagDays: 2, Limits: programme.Limits{Behind: 21, Grace: 7, Tolerance: 5, Leave: 3},
	}
	for _, st := range tp.Steps {
		m := programme.Milestone{
			Key: key(st.Name), Days: programme.Days{Min: .7 * st.Median, Likely: st.Median, Max: 1.35 * st.Median},
			Kind: programme.Work, OnWay: true, QuietDays: 16, VisitDays: 30,
		}
		for _, before := range st.After {
			m.After = append(m.After, key(tp.Steps[before].Name))
		}
		switch st.Nature {
		case truth.Covers:
			m.Kind, m.Curve = programme.Living, &programme.Curve{Reading: programme.Cover, To: 80, SD: 6}
		case truth.Fattens:
			m.Kind, m.Curve = programme.Living, &programme.Curve{Reading: programme.Weight, From: tp.Herd.FromG, To: tp.Herd.MarketG, CV: .1}
		case truth.Waits, truth.Passes:
			m.Kind = programme.Living
		case truth.Doing, truth.Fixed:
		}
		p.Milestones = append(p.Milestones, m)
	}
	return p
}

func homeRules() map[string]sweep.RuleFigures {
	out := map[string]sweep.RuleFigures{
		sweep.MilestoneBehind: {Days: 5, Grace: 3, Recovery: 1, Rest: 7, Mutes: []string{sweep.MilestoneBehind}},
		sweep.CoverShort:      {Enter: .8, Leave: .5, Days: 7, Recovery: 3, Rest: 7},
		sweep.GrowthShort:     {Enter: 28, Leave: 21, Days: 14, Recovery: 7, Rest: 14},
		sweep.HarvestSlip:     {Enter: 21, Leave: 14, Days: 7, Recovery: 14, Rest: 14},
		sweep.SeasonRisk:      {Enter: .2, Leave: .1, Recovery: 3, Rest: 14},
		sweep.NoNews:          {Recovery: 1, Rest: 7},
		sweep.GoAheadShort:    {Rest: 7}, sweep.GoAheadSkipped: {Rest: 14}, sweep.TrainingGap: {Grace: 3, Rest: 14},
		sweep.VisitOverdue: {Rest: 7}, sweep.SnagDue: {Days: 30, Rest: 14}, sweep.TicketStale: {Rest: 7},
	}
	for name, f := range out {
		f.Impact, f.TimeToLoss = ticket.Middle, ticket.Longer
		out[name] = f
	}
	return out
}

// With no tail the median is the triangle's, against gonum's
// distuv.Triangle; with a tail it is the middle of the programme's own
// forecast of a single step.
func TestMedianOfAPacksLaw(t *testing.T) {
	for _, d := range []programme.Days{{Min: 10, Likely: 14, Max: 21}, {Min: 0, Likely: 1, Max: 10}, {Min: 5, Likely: 9, Max: 10}} {
		require.InDelta(t, distuv.NewTriangle(d.Min, d.Max, d.Likely, nil).Quantile(.5), median(d, 0), 1e-9)
		require.Greater(t, median(d, .05), median(d, 0))
	}
	require.Equal(t, 4., median(programme.Days{Min: 4, Likely: 4, Max: 4}, .05))
}

func TestScriptNamesWhatIsMissing(t *testing.T) {
	plans := homePlans(t)
	snail, fish := plans[Way{"snail", "grow-out"}], plans[Way{"catfish", "grow-out"}]
	_, err := newScript(snail, truth.CatfishGrowOut())
	require.ErrorContains(t, err, "tank-finished")
	s, err := newScript(fish, truth.CatfishGrowOut())
	require.NoError(t, err)
	require.InDelta(t, 21, s.promised[s.truth.At(truth.Filled)], 1)
	require.True(t, s.follows("stocked", truth.Trained))
	require.False(t, s.follows("water-tested", truth.Trained))
	require.False(t, s.follows("next-cycle", truth.Trained))
}

func TestFromHandoverWatchesThePlanting(t *testing.T) {
	plan := *homePlans(t)[Way{"snail", "grow-out"}]
	plan.Programme.Start = "planted"
	early, err := FromHandover(&plan, Way{"snail", "grow-out"}, programme.Season{})
	require.NoError(t, err)
	require.Equal(t, "build-finished", early.Programme.Start)
	require.Equal(t, "planted", plan.Programme.Start, "the pack's own plan stays as it is")
}
