package sweep

import (
	"slices"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
)

// view is a farm on a day, with what is worked out once for all rules.
type view struct {
	*Facts
	on     calendar.Date
	heard  calendar.Date // LastHeard
	cycles []cycleView
	held   func(rule, unit, cycle, subject string) bool // did the condition hold yesterday
}

// cycleView is a cycle on a day.
type cycleView struct {
	*Cycle
	unit     *Unit
	forecast programme.Forecast
	stage    programme.Milestone // the next one: its quiet and visit days hold
	verdict  programme.Verdict
}

// look works out a farm on a day.
func look(f *Facts, on calendar.Date, o programme.Options) view {
	v := view{Facts: f, on: on, heard: f.LastHeard(on)}
	if f.Status == farm.Closed {
		return v
	}
	for i := range f.Units {
		u := &f.Units[i]
		if u.Cycle == nil || u.Cycle.Known.Start == 0 || u.Cycle.Known.Start > on {
			continue
		}
		v.cycles = append(v.cycles, v.lookAt(u, o))
	}
	return v
}

func (v *view) lookAt(u *Unit, o programme.Options) cycleView {
	c := u.Cycle
	cv := cycleView{Cycle: c, unit: u}
	known := c.Known
	known.Pauses = v.pauses(known.Pauses)
	cv.forecast = c.Plan.Network.Forecast(known, c.Baseline, v.on, c.Plan.Draws, o)
	if !o.Account {
		cv.forecast.HoldUp = c.HoldUp
	}
	cv.stage = c.Plan.Network.Next(cv.forecast)
	cv.verdict = c.Plan.Network.Judge(programme.Situation{
		Baseline: c.Baseline, Forecast: cv.forecast, Pauses: known.Pauses, QuietSince: v.heard, Was: c.Was,
	})
	return cv
}

// pauses adds to a cycle's own pauses that of a farm whose contract is paused.
// Nobody noted since when: work is taken to have stopped after the last thing
// that was heard.
func (v *view) pauses(own []programme.Pause) []programme.Pause {
	if _, paused := programme.PausedOn(own, v.on); paused || v.Status != farm.Paused {
		return own
	}
	from := v.heard
	if from == 0 || from > v.on {
		from = v.on
	}
	return append(slices.Clip(own), programme.Pause{From: from})
}

// over says whether the cycle has nothing left to do.
func (c *cycleView) over() bool { return c.verdict.Standing == programme.Complete }

func (c *cycleView) outlook(milestone string) (programme.Outlook, bool) {
	for _, m := range c.forecast.Milestones {
		if m.Key == milestone {
			return m, true
		}
	}
	return programme.Outlook{}, false
}

// past says whether a milestone is done, on a known day or by implication.
func (c *cycleView) past(milestone string) bool {
	m, ok := c.outlook(milestone)
	return ok && (m.State == programme.Done || m.State == programme.Implied)
}

func (c *cycleView) figures(rule string) RuleFigures { return c.Plan.Rules[rule] }

// level is the limit to apply: where a finding already holds it is left only
// below Leave.
func (v *view) level(fig RuleFigures, rule string, c *cycleView, subject string) float64 {
	if v.held(rule, c.unit.ID, c.ID, subject) {
		return fig.Leave
	}
	return fig.Enter
}
