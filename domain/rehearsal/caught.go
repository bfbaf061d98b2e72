package rehearsal

import (
	"slices"

	"tendfold/domain/rehearsal/truth"
	"tendfold/domain/sweep"
)

// answers are the rules that are meant to catch each kind of fault: written
// down here before any result was seen.
var answers = map[truth.Kind][]string{
	truth.LatePlanting:   {sweep.MilestoneBehind, sweep.HarvestSlip, sweep.SeasonRisk},
	truth.LateTraining:   {sweep.MilestoneBehind, sweep.HarvestSlip, sweep.SeasonRisk},
	truth.SlowCover:      {sweep.CoverShort, sweep.MilestoneBehind, sweep.HarvestSlip, sweep.SeasonRisk},
	truth.MissedSeason:   {sweep.SeasonRisk, sweep.MilestoneBehind, sweep.HarvestSlip},
	truth.GoAheadSkipped: {sweep.GoAheadSkipped},
	truth.SlowGrowth:     {sweep.GrowthShort},
	truth.PoorFeed:       {sweep.GrowthShort},
	truth.SilentFarm:     {sweep.NoNews},
}

// limit is by how many days after the detectable day a fault must be caught.
func limit(k truth.Kind) int {
	switch k {
	case truth.SilentFarm, truth.PumpFailure, truth.DieOff:
		return 1
	case truth.SlowGrowth, truth.PoorFeed, truth.Overcrowding:
		return 14
	default:
		return 7
	}
}

// catch is the first day on which a ticket that is meant for the fault was
// opened, reopened or made worse while it was there, and false when none was.
func catch(s *script, f Seen, tickets []Ticket, rules []string) (int, bool) {
	best, found := 0, false
	for _, t := range tickets {
		if !slices.Contains(rules, t.Rule) || !s.about(t, f.Kind) {
			continue
		}
		for _, h := range t.Life {
			if h.Doing == Cleared || h.Doing == Settled || h.Day < f.Start || h.Day > f.End {
				continue
			}
			if !found || h.Day < best {
				best, found = h.Day, true
			}
		}
	}
	return best, found
}

// about says whether a ticket on a milestone is on the fault's step or on one
// that waits for it; a ticket on another milestone is luck.
func (s *script) about(t Ticket, k truth.Kind) bool {
	if t.Rule != sweep.MilestoneBehind && t.Rule != NaiveRule {
		return true
	}
	step := k.Step()
	return step == "" || s.follows(t.Subject, step)
}

// inTime says whether a catch on a day counts: within the limit and before
// the loss is complete.
func (f Seen) inTime(day int) bool {
	return day <= f.Detectable+limit(f.Kind) && day < f.Complete
}

// byHalf says whether a catch came before half the loss.
func (f Seen) byHalf(day int) bool { return day <= (f.Start+f.Complete)/2 }
