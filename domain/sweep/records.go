package sweep

import (
	"slices"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/programme"
)

// The record rules compare what is on record with what should be; nothing in
// them is inferred.

// goAheadShort holds when the window of a go-ahead's milestone opens within
// the lead days and something is still missing.
func goAheadShort(v *view, c *cycleView) []Condition {
	fig := c.figures(GoAheadShort)
	var out []Condition
	for _, g := range c.Plan.GoAheads {
		m, ok := c.outlook(g.Milestone)
		if !ok || m.State == programme.Done || m.State == programme.Implied {
			continue
		}
		if m.Expected.P10.Sub(v.on) > g.LeadDays {
			continue
		}
		if missing := v.missing(c, g, v.on); len(missing) > 0 {
			head := domain.Reason{Code: GoAheadShort, Values: map[string]any{
				"go_ahead": g.Key, "milestone": g.Milestone, "opens": date(m.Expected.P10), "missing": len(missing),
			}}
			out = append(out, c.condition(fig, g.Key, fig.Grace, float64(len(missing)), append([]domain.Reason{head}, missing...)...))
		}
	}
	return out
}

// goAheadSkipped holds when a milestone was done though its go-ahead did not
// hold, until what is missing has been verified after all.
func goAheadSkipped(v *view, c *cycleView) []Condition {
	fig := c.figures(GoAheadSkipped)
	var out []Condition
	for _, g := range c.Plan.GoAheads {
		if !c.past(g.Milestone) {
			continue
		}
		on, known := c.Known.Done[g.Milestone]
		then := v.on
		if known && on < then {
			then = on
		}
		if len(v.missing(c, g, then)) == 0 {
			continue
		}
		// Limits on readings speak of the day of the milestone; items and
		// modules can be made good later.
		g.Limits = nil
		if missing := v.missing(c, g, v.on); len(missing) > 0 {
			head := domain.Reason{Code: GoAheadSkipped, Values: map[string]any{
				"go_ahead": g.Key, "milestone": g.Milestone, "done": date(on), "missing": len(missing),
			}}
			out = append(out, c.condition(fig, g.Key, fig.Grace, float64(len(missing)), append([]domain.Reason{head}, missing...)...))
		}
	}
	return out
}

// Missing is what a go-ahead of a cycle lacks on a day; nothing when the
// cycle or the go-ahead is not there.
func Missing(f *Facts, cycleID, goAhead string, on calendar.Date) []domain.Reason {
	for i := range f.Units {
		c := f.Units[i].Cycle
		if c == nil || c.ID != cycleID {
			continue
		}
		for _, g := range c.Plan.GoAheads {
			if g.Key == goAhead {
				return f.missing(&cycleView{Cycle: c, unit: &f.Units[i]}, g, on)
			}
		}
	}
	return nil
}

// missing is what a go-ahead lacks on a day: items, modules of the caretakers
// in charge, readings.
func (f *Facts) missing(c *cycleView, g GoAhead, on calendar.Date) []domain.Reason {
	var out []domain.Reason
	for _, r := range g.Items {
		if !r.Met(c.Marks, on) {
			out = append(out, domain.Reason{Code: "item-missing", Values: map[string]any{"item": r.Item}})
		}
	}
	for _, m := range f.Untrained(c.Plan.Programme.Enterprise, g.Modules, on) {
		out = append(out, domain.Reason{Code: "module-missing", Values: map[string]any{"module": m}})
	}
	for _, l := range g.Limits {
		if !l.Met(c.Known.Readings, on) {
			out = append(out, domain.Reason{Code: "reading-missing", Values: map[string]any{"reading": l.Reading}})
		}
	}
	return out
}

// Untrained are those of an enterprise's modules that no caretaker in charge
// holds on the day.
func (f *Facts) Untrained(enterprise string, modules []string, on calendar.Date) []string {
	var out []string
	for _, m := range modules {
		if !slices.ContainsFunc(f.Caretakers, func(c Caretaker) bool { return c.InCharge && c.holds(enterprise, m, on) }) {
			out = append(out, m)
		}
	}
	return out
}

// holds is about one enterprise: packs may give their modules the same key.
func (c Caretaker) holds(enterprise, module string, on calendar.Date) bool {
	return slices.ContainsFunc(c.Passes, func(p Pass) bool {
		return p.Enterprise == enterprise && p.Module == module && p.On <= on && on <= p.Until
	})
}

// trainingGap holds once animals live on the farm, for each caretaker in
// charge who lacks or has outlived a required module, and for a farm with
// nobody in charge. Before stocking the go-ahead speaks of it; where nobody
// there was ever trained, nobody-trained says it once for all of them.
func trainingGap(v *view) []Condition {
	plans := v.stocked()
	if len(plans) == 0 {
		return nil
	}
	fig := plans[0].Rules[TrainingGap]
	base := Condition{Impact: fig.Impact, TimeToLoss: fig.TimeToLoss, Grace: fig.Grace}
	var out []Condition
	charged, untaught := false, len(nobodyTrained(v)) > 0
	for _, c := range v.Caretakers {
		if !c.InCharge || c.Since > v.on {
			continue
		}
		charged = true
		if reasons := gaps(c, plans, v.on); len(reasons) > 0 && !untaught {
			if new := v.newReason(c, plans[0].Rules[NewCaretaker]); new != nil {
				reasons = append([]domain.Reason{*new}, reasons...)
			}
			one := base
			one.Subject, one.Reasons, one.Value = c.PersonID, reasons, float64(len(reasons))
			out = append(out, one)
		}
	}
	if !charged {
		base.Reasons = []domain.Reason{{Code: "nobody-in-charge"}}
		out = append(out, base)
	}
	return out
}

// newCaretaker holds for somebody who began on a farm where animals live, is
// not in charge, and lacks a required module, for the pack's days from the
// beginning on. Of those in charge training-gap says that they are new.
func newCaretaker(v *view) []Condition {
	plans := v.stocked()
	if len(plans) == 0 || len(nobodyTrained(v)) > 0 {
		return nil
	}
	fig := plans[0].Rules[NewCaretaker]
	var out []Condition
	for _, c := range v.Caretakers {
		new, lacks := v.newReason(c, fig), gaps(c, plans, v.on)
		if new == nil || c.InCharge || len(lacks) == 0 {
			continue
		}
		out = append(out, Condition{
			Subject: c.PersonID, Impact: fig.Impact, TimeToLoss: fig.TimeToLoss, Grace: fig.Grace,
			Reasons: append([]domain.Reason{*new}, lacks...), Value: float64(len(lacks)),
		})
	}
	return out
}

// newReason says that a caretaker is new: began after the first animals came,
// and fewer days ago than the pack counts. nil when not, or when the day is
// not known.
func (v *view) newReason(c Caretaker, fig RuleFigures) *domain.Reason {
	if c.Since == 0 || c.Since > v.on || v.on.Sub(c.Since) > int(fig.Days) || c.Since <= v.firstStocked() {
		return nil
	}
	return &domain.Reason{Code: NewCaretaker, Values: map[string]any{
		"person_id": c.PersonID, "since": date(c.Since), "days": v.on.Sub(c.Since),
	}}
}

// firstStocked is the first day on which animals came to the farm that are
// there now; zero when only their being there is known.
func (v *view) firstStocked() calendar.Date {
	var first calendar.Date
	for i := range v.cycles {
		c := &v.cycles[i]
		on, known := c.Known.Done[c.Plan.Programme.Stocking]
		if known && on <= v.on && !c.over() && (first == 0 || on < first) {
			first = on
		}
	}
	return first
}

// nobodyTrained holds where animals live and none of the farm's caretakers
// ever passed any of the modules that must be known there. A farm without
// caretakers is training-gap's affair, and so is a pass that has lapsed.
func nobodyTrained(v *view) []Condition {
	plans := v.stocked()
	if len(plans) == 0 {
		return nil
	}
	fig, ok := plans[0].Rules[NobodyTrained]
	if !ok {
		return nil
	}
	people, modules := 0, 0
	for _, p := range plans {
		modules += len(p.Modules)
	}
	for _, c := range v.Caretakers {
		if c.Since > v.on {
			continue
		}
		if people++; c.everPassed(plans, v.on) {
			return nil
		}
	}
	if people == 0 || modules == 0 {
		return nil
	}
	return []Condition{{
		Impact: fig.Impact, TimeToLoss: fig.TimeToLoss, Grace: fig.Grace, Value: float64(people),
		Reasons: []domain.Reason{{Code: NobodyTrained, Values: map[string]any{"people": people, "modules": modules}}},
	}}
}

func (c Caretaker) everPassed(plans []*Plan, on calendar.Date) bool {
	for _, p := range plans {
		if slices.ContainsFunc(p.Modules, func(m string) bool { return c.lapsed(p.Programme.Enterprise, m, on) != 0 }) {
			return true
		}
	}
	return false
}

// stocked are the plans of the cycles that have animals now.
func (v *view) stocked() []*Plan {
	var out []*Plan
	for i := range v.cycles {
		c := &v.cycles[i]
		if c.past(c.Plan.Programme.Stocking) && !c.over() && !slices.Contains(out, c.Plan) {
			out = append(out, c.Plan)
		}
	}
	return out
}

func gaps(c Caretaker, plans []*Plan, on calendar.Date) []domain.Reason {
	var out []domain.Reason
	for _, p := range plans {
		for _, m := range p.Modules {
			enterprise := p.Programme.Enterprise
			if c.holds(enterprise, m, on) {
				continue
			}
			r := domain.Reason{Code: "module-missing", Values: map[string]any{"module": m, "enterprise": enterprise}}
			if until := c.lapsed(enterprise, m, on); until != 0 {
				r.Code = "module-lapsed"
				r.Values["until"] = date(until)
			}
			out = append(out, r)
		}
	}
	return out
}

// lapsed is the last day on which the module was valid, zero when it never
// was.
func (c Caretaker) lapsed(enterprise, module string, on calendar.Date) calendar.Date {
	var last calendar.Date
	for _, p := range c.Passes {
		if p.Enterprise == enterprise && p.Module == module && p.On <= on {
			last = max(last, p.Until)
		}
	}
	return last
}

// visitOverdue holds when the last visit is longer ago than the stage allows.
func visitOverdue(v *view) []Condition {
	last := v.LastVisit(v.on)
	every, plan := v.visitEvery()
	if last == 0 || every == 0 || v.on.Sub(last) <= every {
		return nil
	}
	fig := plan.Rules[VisitOverdue]
	return []Condition{{
		Reasons: []domain.Reason{{
			Code: VisitOverdue, Values: map[string]any{"last": date(last), "days": v.on.Sub(last), "every_days": every},
		}},
		Impact: fig.Impact, TimeToLoss: fig.TimeToLoss, Grace: fig.Grace, Value: float64(v.on.Sub(last)),
	}}
}

// visitEvery is the shortest interval that any cycle's stage asks for; in the
// weeks after a handover the pack's own intervals hold.
func (v *view) visitEvery() (int, *Plan) {
	every, plan := 0, (*Plan)(nil)
	for i := range v.cycles {
		c := &v.cycles[i]
		if c.over() {
			continue
		}
		if e := c.interval(v.on); e > 0 && (every == 0 || e < every) {
			every, plan = e, c.Plan
		}
	}
	return every, plan
}

func (c *cycleView) interval(on calendar.Date) int {
	if c.unit.HandedOver != 0 && c.unit.HandedOver <= on {
		since := on.Sub(c.unit.HandedOver)
		for _, s := range c.Plan.Handover {
			if since < s.Days {
				return s.Every
			}
			since -= s.Days
		}
	}
	return c.stage.VisitDays
}

// snagDue holds for a unit with open snags whose defects period ends within
// the rule's days: after it the builder no longer owes the mending.
func snagDue(v *view) []Condition {
	var out []Condition
	for i := range v.Units {
		u := &v.Units[i]
		if u.DefectsUntil == 0 || u.Plan == nil || v.on > u.DefectsUntil {
			continue
		}
		fig := u.Plan.Rules[SnagDue]
		open := v.openSnags(u.ID)
		if left := u.DefectsUntil.Sub(v.on); open > 0 && float64(left) <= fig.Days {
			out = append(out, Condition{
				Unit: u.ID, Reasons: []domain.Reason{{
					Code: SnagDue, Values: map[string]any{"snags": open, "until": date(u.DefectsUntil), "left_days": left},
				}},
				Impact: fig.Impact, TimeToLoss: fig.TimeToLoss, Grace: fig.Grace, Value: float64(open),
			})
		}
	}
	return out
}

func (v *view) openSnags(unit string) int {
	n := 0
	for _, s := range v.Snags {
		if s.UnitID == unit && s.Found <= v.on && (s.Fixed == 0 || s.Fixed > v.on) {
			n++
		}
	}
	return n
}
