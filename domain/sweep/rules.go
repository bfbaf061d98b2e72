package sweep

import (
	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/programme"
	"tendfold/domain/ticket"
)

// The names of the rules, as packs and tickets write them.
const (
	MilestoneBehind = "milestone-behind"
	CoverShort      = "cover-short"
	GrowthShort     = "growth-short"
	HarvestSlip     = "harvest-slip"
	SeasonRisk      = "season-risk"
	NoNews          = "no-news"
	GoAheadShort    = "go-ahead-short"
	GoAheadSkipped  = "go-ahead-skipped"
	TrainingGap     = "training-gap"
	NewCaretaker    = "new-caretaker"
	NobodyTrained   = "nobody-trained"
	VisitOverdue    = "visit-overdue"
	SnagDue         = "snag-due"
	TicketStale     = "ticket-stale"
)

// PaceShort is the code of growth-short's second reason: the animals grow
// more slowly than they did.
const PaceShort = "pace-short"

// Inference says whether the rule infers from a forecast or from silence;
// the others compare records.
func Inference(rule string) bool {
	switch rule {
	case MilestoneBehind, CoverShort, GrowthShort, HarvestSlip, SeasonRisk, NoNews:
		return true
	}
	return false
}

// OpensTickets says whether the rule's findings become tickets. visit-overdue
// feeds the list of farms that need a visit; ticket-stale marks a ticket.
func OpensTickets(rule string) bool { return rule != VisitOverdue && rule != TicketStale }

// rules in the order in which they are worked out; each answers the
// conditions that hold on the view's day.
var rules = []struct {
	name  string
	cycle func(v *view, c *cycleView) []Condition
	farm  func(v *view) []Condition
}{
	{name: NoNews, farm: noNews},
	{name: MilestoneBehind, cycle: milestoneBehind},
	{name: CoverShort, cycle: coverShort},
	{name: GrowthShort, cycle: growthShort},
	{name: HarvestSlip, cycle: harvestSlip},
	{name: SeasonRisk, cycle: seasonRisk},
	{name: GoAheadShort, cycle: goAheadShort},
	{name: GoAheadSkipped, cycle: goAheadSkipped},
	{name: TrainingGap, farm: trainingGap},
	{name: NewCaretaker, farm: newCaretaker},
	{name: NobodyTrained, farm: nobodyTrained},
	{name: VisitOverdue, farm: visitOverdue},
	{name: SnagDue, farm: snagDue},
}

// milestoneBehind holds for a milestone that is next and still undone past
// its own latest, counted from the day on which its predecessors were really
// done: the baseline's latest would open a ticket on every successor of one
// delay. What nobody has told of is no-news's affair, so the day counts only
// up to the last word from the farm.
func milestoneBehind(v *view, c *cycleView) []Condition {
	fig, heard := c.figures(MilestoneBehind), v.on
	if c.forecast.NotHeardSince != 0 {
		heard = c.forecast.NotHeardSince
	}
	var out []Condition
	for _, m := range c.forecast.Milestones {
		if m.State != programme.Open || m.Own.P90 == 0 {
			continue
		}
		limit := max(m.Own.P90, m.Own.P50.Add(int(fig.Days)))
		if heard <= limit {
			continue
		}
		grace := fig.Grace
		if c.kind(m.Key) == programme.Living {
			grace = fig.GraceLiving
		}
		out = append(out, c.condition(fig, m.Key, grace, float64(heard.Sub(limit)), domain.Reason{
			Code: MilestoneBehind, Values: map[string]any{
				"milestone": m.Key, "latest": limit.String(), "target": m.Own.P50.String(), "late_days": heard.Sub(m.Own.P50),
			},
		}))
	}
	return out
}

func coverShort(v *view, c *cycleView) []Condition {
	fig := c.figures(CoverShort)
	if p := c.forecast.CoverLate; p >= v.level(fig, CoverShort, c, "") {
		return []Condition{c.condition(fig, "", fig.Grace, p, domain.Reason{
			Code: CoverShort, Values: map[string]any{"chance_percent": percent(p), "late_days": programme.CoverLateDays},
		})}
	}
	return nil
}

// growthShort holds when the weights call the harvest late, or when the
// animals have fallen behind their own pace, however far ahead they were. The
// second is a chance already and needs no grace; on an open ticket it is worth
// one step worse.
func growthShort(v *view, c *cycleView) []Condition {
	fig, late := c.figures(GrowthShort), c.forecast.GrowthLate
	value, grace := float64(late), fig.Grace
	var reasons []domain.Reason
	if value >= v.level(fig, GrowthShort, c, "") {
		reasons = append(reasons, domain.Reason{
			Code: GrowthShort, Values: map[string]any{"late_days": late, "harvest": c.forecast.Harvest.P50.String()},
		})
	}
	if c.paceShort(fig, v.held(GrowthShort, c.unit.ID, c.ID, "")) {
		reasons = append(reasons, domain.Reason{
			Code: PaceShort, Values: map[string]any{"pace_percent": percent(c.forecast.PaceNow), "harvest": c.forecast.Harvest.P50.String()},
		})
	}
	if len(reasons) == 0 {
		return nil
	}
	if c.paceShort(fig, false) {
		value, grace = value+fig.Days, 0
	}
	return []Condition{c.condition(fig, "", grace, value, reasons...)}
}

// paceShort says whether the chance of a lost pace is at the rule's limit, or
// at half of it where the finding already holds.
func (c *cycleView) paceShort(fig RuleFigures, held bool) bool {
	limit := fig.Pace
	if held {
		limit /= 2
	}
	return fig.Pace > 0 && c.forecast.PaceShort >= limit
}

// harvestSlip is one a cycle: what holds the harvest up is a value of the
// reason, so that a new hold-up does not make a new ticket.
func harvestSlip(v *view, c *cycleView) []Condition {
	fig := c.figures(HarvestSlip)
	if d := c.forecast.Slip.ToStocking; float64(d) >= v.level(fig, HarvestSlip, c, "") {
		return []Condition{c.condition(fig, "", fig.Grace, float64(d), domain.Reason{
			Code: HarvestSlip, Values: map[string]any{
				"late_days": d, "hold_up": c.forecast.HoldUp, "harvest": c.forecast.Harvest.P50.String(),
			},
		})}
	}
	return nil
}

func seasonRisk(v *view, c *cycleView) []Condition {
	fig := c.figures(SeasonRisk)
	if p := c.forecast.MissSeason; p > 0 && p >= v.level(fig, SeasonRisk, c, "") {
		return []Condition{c.condition(fig, "", fig.Grace, p, domain.Reason{
			Code: SeasonRisk, Values: map[string]any{"chance_percent": percent(p)},
		})}
	}
	return nil
}

// noNews holds when nothing at all was heard for longer than the strictest
// stage of the farm's cycles allows.
func noNews(v *view) []Condition {
	allowed, plan := 0, (*Plan)(nil)
	for i := range v.cycles {
		c := &v.cycles[i]
		if c.over() || c.stage.QuietDays == 0 {
			continue
		}
		if allowed == 0 || c.stage.QuietDays < allowed {
			allowed, plan = c.stage.QuietDays, c.Plan
		}
	}
	if plan == nil || v.heard == 0 {
		return nil
	}
	quiet := v.on.Sub(v.heard)
	if quiet <= allowed {
		return nil
	}
	fig := plan.Rules[NoNews]
	return []Condition{{
		Reasons: []domain.Reason{{
			Code: NoNews, Values: map[string]any{"last": v.heard.String(), "quiet_days": quiet, "allowed_days": allowed},
		}},
		Impact: fig.Impact, TimeToLoss: fig.TimeToLoss, Grace: fig.Grace, Value: float64(quiet),
	}}
}

// condition is a condition of the cycle. A harvest that has slipped by a week
// is at least of middle impact, whatever the pack says (product table of
// urgencies: 7 harvest days).
func (c *cycleView) condition(fig RuleFigures, subject string, grace int, value float64, reasons ...domain.Reason) Condition {
	impact := fig.Impact
	if impact == ticket.Low && c.forecast.Slip.Own >= 7 && Inference(reasons[0].Code) {
		impact = ticket.Middle
	}
	return Condition{
		Unit: c.unit.ID, Cycle: c.ID, Subject: subject, Reasons: reasons,
		Impact: impact, TimeToLoss: fig.TimeToLoss, Grace: grace, Value: value,
	}
}

func (c *cycleView) kind(milestone string) programme.Kind {
	for i := range c.Plan.Programme.Milestones {
		if m := &c.Plan.Programme.Milestones[i]; m.Key == milestone {
			return m.Kind
		}
	}
	return ""
}

func percent(p float64) int { return int(p*100 + 0.5) }

// date is how a day stands among the values of a reason.
func date(d calendar.Date) string { return d.String() }
