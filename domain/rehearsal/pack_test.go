package rehearsal

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tendfold/checklists"
	"tendfold/domain/programme"
	"tendfold/domain/rehearsal/truth"
	"tendfold/domain/sweep"
)

// shippedPlans are the packs that ship, watched from handover. The test may
// look at both sides; the truth may not.
func shippedPlans(t testing.TB) map[Way]*sweep.Plan {
	set, err := checklists.Embedded()
	require.NoError(t, err)
	draws := programme.NewDraws(programme.DrawSeed, programme.DrawCount)
	out := map[Way]*sweep.Plan{}
	for _, tp := range truth.Plans() {
		w := Way{tp.Enterprise, tp.Purpose}
		pack, ok := set.Pack(tp.Enterprise)
		require.True(t, ok)
		out[w], err = FromHandover(planOf(pack, draws), w, pack.Season)
		require.NoError(t, err)
	}
	return out
}

func planOf(pack *checklists.Pack, draws *programme.Draws) *sweep.Plan {
	p := &sweep.Plan{Programme: pack.Programme, Draws: draws, Rules: pack.Rules}
	for _, g := range pack.GoAheads {
		x := sweep.GoAhead{Key: g.Key, Milestone: g.Milestone, Modules: g.Modules, LeadDays: g.LeadDays}
		for _, k := range g.Items {
			x.Items = append(x.Items, sweep.Requirement{Item: k})
		}
		for _, l := range g.Limits {
			x.Limits = append(x.Limits, sweep.Limit{Reading: l.Reading, Low: l.Low, High: l.High, Fresh: l.Fresh})
		}
		p.GoAheads = append(p.GoAheads, x)
	}
	for _, m := range pack.Modules {
		if len(m.GoAheads) > 0 {
			p.Modules = append(p.Modules, m.Key)
		}
	}
	return p
}

// What fair means: in the middle the packs are right. Truth and packs were
// written down apart, so they agree within a tenth, or a day and a half where
// that is more.
func TestFairWorldAgreesWithThePacks(t *testing.T) {
	plans := shippedPlans(t)
	for _, tp := range truth.Plans() {
		s, err := newScript(plans[Way{tp.Enterprise, tp.Purpose}], tp)
		require.NoError(t, err)
		for i, own := range tp.TrueMedians(truth.Fair) {
			require.InDelta(t, s.promised[i], own, max(1.5, .1*own), "%s %s %s", tp.Enterprise, tp.Purpose, tp.Steps[i].Name)
		}
	}
}

// Both know the months in which nobody stocks: that is the branch's calendar
// and no guess about a farm.
func TestBothKeepTheSameSeason(t *testing.T) {
	set, err := checklists.Embedded()
	require.NoError(t, err)
	for _, tp := range truth.Plans() {
		pack, _ := set.Pack(tp.Enterprise)
		var shut []time.Month
		for m, closed := range tp.Season.Closed {
			if closed {
				shut = append(shut, time.Month(m+1))
			}
		}
		require.ElementsMatch(t, shut, pack.Season.NotIn["stocked"], tp.Enterprise)
	}
}

// The curves are of different families and lie within a twentieth of the way
// from each other.
func TestFairCurvesLieByThePacks(t *testing.T) {
	plans := shippedPlans(t)
	for _, tp := range truth.Plans() {
		p := plans[Way{tp.Enterprise, tp.Purpose}]
		for p0 := .1; p0 < 1; p0 += .1 {
			if tp.At(truth.CoverReady) >= 0 {
				m, _ := p.Network.Milestone("cover-ready")
				require.InDelta(t, shareAt(m.Curve, p0), truth.Cover(p0)/truth.Cover(1), .05, "cover at %.1f", p0)
			}
			if tp.Purpose == "grow-out" {
				m, _ := p.Network.Milestone(milestones[tp.Enterprise][truth.Harvest])
				h := tp.Herd
				own := (h.Weight(h.FromG, p0) - h.FromG) / (h.MarketG - h.FromG)
				require.InDelta(t, shareAt(m.Curve, p0), own, .05, "%s at %.1f", tp.Enterprise, p0)
				require.InEpsilon(t, m.Curve.To, h.MarketG, .05)
			}
		}
	}
}

func shareAt(c *programme.Curve, x float64) float64 {
	i := 1
	for c.Shape[i].Time < x {
		i++
	}
	a, b := c.Shape[i-1], c.Shape[i]
	return a.Share + (b.Share-a.Share)*(x-a.Time)/(b.Time-a.Time)
}
