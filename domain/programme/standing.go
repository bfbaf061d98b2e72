package programme

import (
	"slices"

	"tendfold/domain"
	"tendfold/domain/calendar"
)

// Standing says how a cycle, a unit or a farm is doing.
type Standing string

// The standings.
const (
	OnCourse       Standing = "on-course"
	Slipping       Standing = "slipping"
	Behind         Standing = "behind"
	NoNews         Standing = "no-news"
	PausedStanding Standing = "paused"
	Complete       Standing = "complete"
	ToConfirm      Standing = "to-confirm" // of a farm that nobody watches yet
)

// worst first.
var severity = []Standing{Behind, NoNews, Slipping, OnCourse, PausedStanding, Complete}

// WorstOf is the worst of the standings of a farm's cycles, "" when there
// are none.
func WorstOf(standings []Standing) Standing {
	for _, s := range severity {
		if slices.Contains(standings, s) {
			return s
		}
	}
	return ""
}

// FarmStanding is the worst of a farm's cycles, or to-confirm while nobody
// watches the farm.
func FarmStanding(watched bool, cycles []Standing) Standing {
	if !watched {
		return ToConfirm
	}
	return WorstOf(cycles)
}

// The codes of the reasons that Judge gives; each screen has words for them.
const (
	ReasonComplete    = "complete"              // nothing is left to do
	ReasonPaused      = "paused"                // since, until (planned end, "" = none)
	ReasonNoNews      = "no-news"               // since, days, limit_days, milestone
	ReasonPastLatest  = "milestone-past-latest" // milestone, latest, days (past latest)
	ReasonSlip        = "slip"                  // days (own), limit_days
	ReasonNextLate    = "next-past-target"      // milestone, target, expected, days (past target)
	ReasonOnCourse    = "on-course"             // days (own slip; negative = ahead)
	ReasonPauseCounts = "slip-by-pause"         // days lost to pauses, beside any other
)

// Situation is what a cycle's standing is judged by, beside the network.
type Situation struct {
	Baseline Baseline
	Forecast Forecast
	Pauses   []Pause
	Ended    bool // the cycle was closed
	// QuietSince is the last day with evidence of any kind or a visit, else
	// the later of handover and intake. Zero = quiet days are not counted.
	QuietSince calendar.Date
	// Was is the last standing among on course, slipping and behind: one is
	// entered at its limit and left at the limit less the pack's leave days.
	Was Standing
}

// Verdict is a standing and why.
type Verdict struct {
	Standing Standing `json:"standing"`
	// Schedule is what the standing would be by dates alone: where Standing
	// is paused and this is behind, the screen adds "and behind". It is the
	// next Situation's Was.
	Schedule Standing        `json:"schedule"`
	Reasons  []domain.Reason `json:"reasons"`
}

// Judge gives a cycle's standing on the day of its forecast: the first that
// holds of complete, paused, no news, behind, slipping, on course.
func (n *Network) Judge(s Situation) Verdict {
	on := s.Forecast.On
	schedule, why := n.bySchedule(s)
	v := Verdict{Schedule: schedule, Reasons: why}
	pause, paused := PausedOn(s.Pauses, on)
	quiet, silent := n.noNews(s)
	switch {
	case s.Ended || isComplete(s.Forecast):
		v.Standing, v.Schedule = Complete, OnCourse
		v.Reasons = []domain.Reason{{Code: ReasonComplete}}
		return v
	case paused:
		v.Standing = PausedStanding
		r := reason(ReasonPaused, "since", pause.From.String(), "until", pause.Until.String())
		v.Reasons = []domain.Reason{r}
		if schedule == Behind {
			v.Reasons = append(v.Reasons, why...)
		}
	case silent:
		v.Standing = NoNews
		v.Reasons = []domain.Reason{quiet}
	default:
		v.Standing = schedule
	}
	if days := s.Forecast.Slip.Pause; days != 0 {
		v.Reasons = append(v.Reasons, reason(ReasonPauseCounts, "days", days))
	}
	return v
}

func reason(code string, pairs ...any) domain.Reason {
	r := domain.Reason{Code: code, Values: map[string]any{}}
	for i := 0; i < len(pairs); i += 2 {
		r.Values[pairs[i].(string)] = pairs[i+1]
	}
	return r
}

func isComplete(f Forecast) bool {
	return !slices.ContainsFunc(f.Milestones, func(o Outlook) bool { return o.State == Open || o.State == Ahead })
}

// PausedOn is the pause that a day lies in, false when work goes on.
func PausedOn(pauses []Pause, on calendar.Date) (Pause, bool) {
	for _, p := range pauses {
		if p.From <= on && (p.Ended.IsZero() || p.Ended > on) {
			return p, true
		}
	}
	return Pause{}, false
}

// Next is the milestone that a cycle is at by a forecast of this network: the
// first open one on the way to the first harvest, else the first open one,
// else the last of all. Its quiet days and visit days are the stage's.
func (n *Network) Next(f Forecast) Milestone {
	next := len(n.nodes)
	for i, o := range f.Milestones {
		if o.State != Open {
			continue
		}
		if n.nodes[i].OnWay {
			return n.nodes[i].Milestone
		}
		next = min(next, i)
	}
	return n.nodes[min(next, len(n.nodes)-1)].Milestone
}

// noNews says whether the quiet has lasted longer than the stage allows.
func (n *Network) noNews(s Situation) (domain.Reason, bool) {
	stage := n.Next(s.Forecast)
	if s.QuietSince.IsZero() || stage.QuietDays == 0 {
		return domain.Reason{}, false
	}
	days := s.Forecast.On.Sub(s.QuietSince)
	return reason(ReasonNoNews, "since", s.QuietSince.String(), "days", days, "limit_days", stage.QuietDays, "milestone", stage.Key),
		days > stage.QuietDays
}

// bySchedule is behind, slipping or on course.
func (n *Network) bySchedule(s Situation) (Standing, []domain.Reason) {
	l := n.programme.Limits
	if why := behind(s, l.Behind-leave(l, s.Was, Behind), l.Grace-leave(l, s.Was, Behind)); len(why) > 0 {
		return Behind, why
	}
	eased := leave(l, s.Was, Behind, Slipping)
	if why := slipping(s, l.Behind/2-eased, l.Tolerance-eased); len(why) > 0 {
		return Slipping, why
	}
	return OnCourse, []domain.Reason{reason(ReasonOnCourse, "days", s.Forecast.Slip.Own)}
}

// leave is by how much a limit is lower for a cycle that is past it already.
func leave(l Limits, was Standing, past ...Standing) float64 {
	if slices.Contains(past, was) {
		return l.Leave
	}
	return 0
}

func behind(s Situation, limit, grace float64) []domain.Reason {
	var out []domain.Reason
	for _, o := range s.Forecast.Milestones {
		if o.State != Open && o.State != Ahead {
			continue
		}
		w, ok := s.Baseline.Window(o.Key)
		if days := s.Forecast.On.Sub(w.Latest); ok && float64(days) > grace {
			out = append(out, reason(ReasonPastLatest, "milestone", o.Key, "latest", w.Latest.String(), "days", days))
		}
	}
	return append(out, slipReason(s, limit)...)
}

// slipping looks at every open milestone: where several are under way at
// once, all of them are next.
func slipping(s Situation, limit, tolerance float64) []domain.Reason {
	var out []domain.Reason
	for _, o := range s.Forecast.Milestones {
		w, ok := s.Baseline.Window(o.Key)
		if !ok || o.State != Open {
			continue
		}
		if days := o.Expected.P50.Sub(w.Target); float64(days) > tolerance {
			out = append(out, reason(ReasonNextLate, "milestone", o.Key, "target", w.Target.String(), "expected", o.Expected.P50.String(), "days", days))
		}
	}
	return append(out, slipReason(s, limit)...)
}

// slipReason holds from the limit on. A limit of nought would make the best
// farm behind, so there a slip must be more than nought.
func slipReason(s Situation, limit float64) []domain.Reason {
	own := s.Forecast.Slip.Own
	if own <= 0 || float64(own) < limit {
		return nil
	}
	return []domain.Reason{reason(ReasonSlip, "days", own, "limit_days", limit)}
}
