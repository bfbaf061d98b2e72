package sweep

import (
	"testing"

	"tendfold/domain/calendar"
	"tendfold/domain/programme"

	"github.com/stretchr/testify/require"
)

// growing is testPlan with a harvest that is read by weight.
func growing(pace float64) *Plan {
	p := testPlan()
	m := &p.Programme.Milestones[len(p.Programme.Milestones)-1]
	m.Curve = &programme.Curve{Reading: programme.Weight, From: 10, To: 310, CV: 0.05, ScaleCV: 0.03, SpreadCV: 0.2}
	n, err := programme.Compile(p.Programme, programme.GrowOut, programme.Season{})
	if err != nil {
		panic(err)
	}
	p.Network = n
	fig := p.Rules[GrowthShort]
	fig.Pace, fig.Grace = pace, 3
	p.Rules[GrowthShort] = fig
	return p
}

// weighed is a farm stocked on a day whose animals weigh so much every thirty
// days after it.
func weighed(p *Plan, stocked calendar.Date, grams ...float64) *Facts {
	f := planted(60).done("trained", day0.Add(14)).done("cover", day0.Add(40)).done("ready", day0.Add(42)).done("stocked", stocked)
	f.Visits = f.Evidence
	f.Units[0].Plan, f.Units[0].Cycle.Plan = p, p
	k := &f.Units[0].Cycle.Known
	for i, g := range grams {
		k.Readings = append(k.Readings, programme.Reading{Kind: programme.Weight, On: stocked.Add(30 * (i + 1)), Value: g, N: 30})
	}
	return f
}

func growthFinding(f *Facts, on calendar.Date) *Finding {
	d := Look(f, Memory{}, on, programme.Options{})
	return d.finding(Key{FarmID: "f", UnitID: "u", CycleID: "c", Rule: GrowthShort})
}

func TestAFarmAheadThatFallsBehindItsOwnPaceIsFound(t *testing.T) {
	stocked := day0.Add(45)
	last := stocked.Add(151)
	ahead := []float64{50, 90, 130, 133, 136} // a third ahead, then next to nothing
	found := growthFinding(weighed(growing(0.8), stocked, ahead...), last)
	require.NotNil(t, found)
	require.Equal(t, PaceShort, found.Condition.Reasons[len(found.Condition.Reasons)-1].Code)
	require.True(t, found.Confirmed, "a chance needs no grace")
	require.Nil(t, growthFinding(weighed(growing(0), stocked, ahead...), last), "a pack that does not ask")
	require.Nil(t, growthFinding(weighed(growing(0.8), stocked, 50, 90, 130, 170, 210), last), "a third ahead, steadily")
	require.Nil(t, growthFinding(weighed(growing(0.8), stocked, 40, 70, 100, 130, 160), last), "as planned")
}

func TestALostPaceMakesALateHarvestWorse(t *testing.T) {
	stocked := day0.Add(45)
	slow := weighed(growing(0.8), stocked, 30, 50, 70, 90, 110)
	failed := weighed(growing(0.8), stocked, 30, 50, 70, 70, 70)
	on := stocked.Add(151)
	before, after := growthFinding(slow, on), growthFinding(failed, on)
	require.Len(t, before.Condition.Reasons, 1, "slow from the first day: late, but no pace was lost")
	require.Equal(t, GrowthShort, after.Condition.Reasons[0].Code)
	require.Equal(t, PaceShort, after.Condition.Reasons[1].Code)
	late := after.Condition.Reasons[0].Values["late_days"].(int)
	require.InDelta(t, float64(late)+growing(0.8).Rules[GrowthShort].Days, after.Value, 0)
	require.Greater(t, after.Value, before.Value+14)
}
