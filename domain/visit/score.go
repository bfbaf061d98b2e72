package visit

import (
	"math"
	"slices"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/programme"
	"tendfold/domain/sweep"
	"tendfold/domain/ticket"
)

// The codes of reasons, which screens put into words.
const (
	Behind          = "behind"
	Slipping        = "slipping"
	Late            = "late" // on course by its limits, yet days late
	GoAheadPerson   = "go-ahead-needs-person"
	VisitDue        = "visit-due"
	SnagsEnding     = "snags-ending"
	Untrained       = "caretaker-untrained"
	NewCaretaker    = "caretaker-new"
	NobodyInCharge  = "nobody-in-charge"
	NoNews          = "no-news"
	PromisedVisit   = "visit-promised"
	BrokenPromise   = "promise-broken"
	OwnerAsked      = "owner-asked"
	OpenTicket      = "ticket-open"
	TwiceInterval   = "twice-the-interval"
	PersonInDanger  = "person-in-danger"
	AnimalsAtRisk   = "animals-at-risk"
	overdueInterval = 2 // times the interval at which a farm must be gone to
)

// musts are the must-go reasons, gravest first.
var musts = []string{PersonInDanger, AnimalsAtRisk, TwiceInterval}

func mustRank(s Scored) int { return slices.Index(musts, s.Reason.Code) }

// scorer collects the reasons of one farm.
type scorer struct {
	Facts
	w       Weights
	mustGo  []Scored
	reasons []Scored
}

type values = map[string]any

func (s *scorer) add(g Group, code, about string, points float64, since calendar.Date, v values) *Scored {
	s.reasons = append(s.reasons, scored(g, code, about, round(points), since, v))
	return &s.reasons[len(s.reasons)-1]
}

func (s *scorer) must(g Group, code, about string, since calendar.Date, v values) {
	s.mustGo = append(s.mustGo, scored(g, code, about, 0, since, v))
}

func scored(g Group, code, about string, points float64, since calendar.Date, v values) Scored {
	key := code
	if about != "" {
		key += ":" + about
	}
	return Scored{Key: key, Group: g, Reason: domain.Reason{Code: code, Values: v}, Points: points, Since: since}
}

// schedule is one reason: how late the farm is stands in its points, so that
// behind by 30 days outweighs behind by 10.
func (s *scorer) schedule() {
	late := max(s.OwnSlip, s.LateDays, 0)
	points, code := upTo(s.w.LateDay, late, s.w.LateCap), Late
	switch {
	case s.Schedule == programme.Behind:
		points, code = points+s.w.Behind, Behind
	case s.Schedule == programme.Slipping:
		points, code = points+s.w.Slipping, Slipping
	case late == 0:
		return
	}
	v := values{"late_days": late}
	switch { // the days are of the harvest, or of a milestone that may not touch it
	case s.LateDays > s.OwnSlip && s.Late != "":
		v["milestone"] = s.Late
	case s.HoldUp != "":
		v["hold_up"] = s.HoldUp
	}
	// One key for all three: a farm that goes from slipping to behind after a
	// visit is told apart by the day on which it did.
	r := s.add(Schedule, code, "", points, s.Since, v)
	r.Key, r.Size = string(Schedule), late
}

func (s *scorer) goAheads() {
	for _, g := range s.GoAheads {
		points := s.w.GoAhead
		if g.Opens <= s.On {
			points = s.w.GoAheadOpen
		}
		points += upTo(s.w.GoAheadItem, len(g.Items), s.w.GoAheadCap)
		s.add(GoAheads, GoAheadPerson, g.UnitID+"/"+g.Key, points, g.Since, values{
			"go_ahead": g.Key, "milestone": g.Milestone, "items": len(g.Items), "opens": g.Opens.String(),
		})
	}
}

func (s *scorer) interval() {
	if s.LastVisit == 0 || s.EveryDays <= 0 {
		return
	}
	days := s.On.Sub(s.LastVisit)
	share := float64(days) / float64(s.EveryDays)
	v := values{"days": days, "every_days": s.EveryDays, "last": s.LastVisit.String()}
	switch {
	case share >= overdueInterval:
		s.must(Interval, TwiceInterval, "", s.LastVisit.Add(overdueInterval*s.EveryDays), v)
	case share > 0 && share >= s.w.IntervalFrom:
		due := s.LastVisit.Add(int(math.Ceil(s.w.IntervalFrom * float64(s.EveryDays))))
		s.add(Interval, VisitDue, "", s.w.Interval*share, due, v)
	}
}

func (s *scorer) snags() {
	for _, n := range s.Snags {
		left := n.Until.Sub(s.On)
		if n.Open == 0 || n.Until == 0 || left < 0 || left > s.w.SnagDays {
			continue
		}
		points := s.w.Snag + s.w.SnagDay*float64(s.w.SnagDays-left) + upTo(s.w.SnagEach, n.Open, s.w.SnagCap)
		s.add(SnagsDue, SnagsEnding, n.UnitID, points, max(n.Newest, n.Until.Add(-s.w.SnagDays)), values{
			"unit_id": n.UnitID, "snags": n.Open, "until": n.Until.String(), "left_days": left,
		})
	}
}

func (s *scorer) people() {
	charged := false
	for _, c := range s.Caretakers {
		charged = charged || c.InCharge
		if c.InCharge && len(c.Lacks) > 0 {
			points := s.w.Untrained + upTo(s.w.Module, len(c.Lacks), s.w.ModuleCap)
			s.add(People, Untrained, c.PersonID, points, c.Since, values{"person_id": c.PersonID, "modules": len(c.Lacks)})
		}
		if days := s.On.Sub(c.Began); c.Began != 0 && days <= s.w.NewDays && s.LastVisit < c.Began {
			s.add(People, NewCaretaker, c.PersonID, s.w.New, c.Began, values{"person_id": c.PersonID, "days": days})
		}
	}
	if s.StockedOn != 0 && !charged {
		s.add(People, NobodyInCharge, "", s.w.Nobody, s.StockedOn, values{"stocked": s.StockedOn.String()})
	}
}

func (s *scorer) silence() {
	if s.LastHeard == 0 || s.QuietDays <= 0 {
		return
	}
	quiet := s.On.Sub(s.LastHeard)
	if beyond := quiet - s.QuietDays; beyond > 0 {
		s.add(Silence, NoNews, "", s.w.Silence+upTo(s.w.SilenceDay, beyond, s.w.SilenceCap), s.LastHeard.Add(s.QuietDays+1),
			values{"quiet_days": quiet, "allowed_days": s.QuietDays, "last": s.LastHeard.String()})
	}
}

func (s *scorer) promises() {
	for _, p := range s.Promises {
		left := p.DueOn.Sub(s.On)
		code, points, v := PromisedVisit, s.w.Promise, values{"due": p.DueOn.String(), "text": p.Text, "left_days": left}
		if left > s.w.PromiseDays {
			continue
		}
		if left < 0 {
			code, points = BrokenPromise, s.w.Broken+upTo(s.w.BrokenDay, -left, s.w.BrokenCap)
			v = values{"due": p.DueOn.String(), "text": p.Text, "late_days": -left}
		}
		// Ahead or broken, it is the same promise.
		s.add(Promises, code, p.ID, points, p.Made, v).Key = string(Promises) + ":" + p.ID
	}
}

func (s *scorer) requests() {
	for _, r := range s.Requests {
		waits := s.On.Sub(r.On)
		s.add(Requested, OwnerAsked, r.ID, s.w.Request+upTo(s.w.RequestDay, waits, s.w.RequestCap), r.On,
			values{"text": r.Text, "days": waits, "on": r.On.String()})
	}
}

// ruleGroups is the cause that a rule's ticket speaks of: it is not another
// reason beside the cause itself.
var ruleGroups = map[string]Group{
	sweep.MilestoneBehind: Schedule, sweep.HarvestSlip: Schedule, sweep.CoverShort: Schedule, sweep.GrowthShort: Schedule, sweep.SeasonRisk: Schedule,
	sweep.GoAheadShort: GoAheads, sweep.GoAheadSkipped: GoAheads,
	sweep.VisitOverdue: Interval, sweep.SnagDue: SnagsDue, sweep.TrainingGap: People, sweep.NewCaretaker: People, sweep.NobodyTrained: People, sweep.NoNews: Silence,
}

func (s *scorer) tickets() {
	for _, t := range s.Tickets {
		v := values{"ticket_id": t.ID, "number": t.Number, "urgency": string(t.Urgency)}
		if t.Rule != "" {
			v["rule"] = t.Rule
		}
		group, ok := ruleGroups[t.Rule]
		if !ok {
			group = Tickets
		}
		switch t.Urgency {
		case ticket.PersonInDanger:
			s.must(group, PersonInDanger, t.ID, t.Since, v)
		case ticket.AnimalsAtRisk:
			s.must(group, AnimalsAtRisk, t.ID, t.Since, v)
		default:
			s.add(group, OpenTicket, t.ID, s.w.ticket(t.Urgency), t.Since, v)
		}
	}
}

func (w Weights) ticket(u ticket.Urgency) float64 {
	switch u {
	case ticket.LosingTime:
		return w.LosingTime
	case ticket.Routine:
		return w.Routine
	default:
		return w.NoHurry
	}
}
