package app

import (
	"context"
	"slices"

	"tendfold/checklists"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/domain/sweep"
)

// A checklist is in hand from ahead days before its milestone may first come
// until after days past it: long enough to buy and to mend what is missing,
// short enough to be read to its end. Our choice.
const (
	listAheadDays = 28
	listAfterDays = 14
)

// addCycle puts the strip, the milestones and the checklists of a running
// cycle into its unit. The forecast is made afresh: what the phone sent a
// moment ago shows at once, without waiting for the sweep.
func (v *todayView) addCycle(ctx context.Context, c *sweep.Cycle, row *TodayUnit, out *TodayFarm) error {
	pack, ok := v.Packs.Pack(row.Enterprise)
	if !ok {
		return nil
	}
	f := c.Plan.Network.Forecast(c.Known, c.Baseline, v.today, c.Plan.Draws, programme.Options{})
	states := make(map[string]programme.Outlook, len(f.Milestones))
	for _, m := range f.Milestones {
		states[m.Key] = m
	}
	row.CycleID, row.Strip = c.ID, v.strip(pack, c, f)
	row.Milestones = v.markable(pack, c, states)
	row.Reading = readingNow(c, states)
	stocking := states[c.Plan.Programme.Stocking]
	row.stockedOn, out.Stocked = stocking.DoneOn, out.Stocked || over(stocking.State)
	marks, err := v.store.MarksOf(ctx, []string{c.ID})
	if err != nil {
		return err
	}
	row.Checklists = v.checklists(pack, c, states, marks)
	return nil
}

func over(s programme.State) bool { return s == programme.Done || s == programme.Implied }

func (v *todayView) strip(pack *checklists.Pack, c *sweep.Cycle, f programme.Forecast) *TodayStrip {
	s := &TodayStrip{StartedOn: c.Known.Start, Harvest: c.Plan.Programme.Harvest}
	for _, m := range f.Milestones {
		said, _ := pack.Milestone(m.Key)
		t := TodayTick{Key: m.Key, Name: v.say(said.Name), State: m.State, DoneOn: m.DoneOn}
		if !over(m.State) {
			w, _ := c.Baseline.Window(m.Key)
			t.Earliest, t.Latest, t.P50, t.P90 = w.Earliest, w.Latest, m.Expected.P50, m.Expected.P90
		}
		s.Ticks = append(s.Ticks, t)
	}
	return s
}

// markable are the open milestones that a caretaker may mark.
func (v *todayView) markable(pack *checklists.Pack, c *sweep.Cycle, states map[string]programme.Outlook) []TodayMilestone {
	var out []TodayMilestone
	for _, m := range c.Plan.Network.Milestones() {
		if states[m.Key].State == programme.Open && mayMark(m.By) {
			said, _ := pack.Milestone(m.Key)
			out = append(out, TodayMilestone{Key: m.Key, Name: v.say(said.Name), Note: v.say(said.Note)})
		}
	}
	return out
}

func mayMark(by []farm.Role) bool { return len(by) == 0 || slices.Contains(by, farm.Caretaker) }

// readingNow is what tells how far an open milestone is.
func readingNow(c *sweep.Cycle, states map[string]programme.Outlook) string {
	for _, m := range c.Plan.Network.Milestones() {
		if m.Curve != nil && states[m.Key].State == programme.Open {
			return m.Curve.Reading
		}
	}
	return ""
}

func (v *todayView) checklists(pack *checklists.Pack, c *sweep.Cycle, states map[string]programme.Outlook, marks []Mark) []TodayChecklist {
	var out []TodayChecklist
	for _, list := range pack.Checklists {
		if !v.inHand(c, list.Milestone, states) {
			continue
		}
		row := TodayChecklist{Key: list.Key, Name: v.say(list.Name)}
		for _, it := range list.Items {
			if mayMark(it.By) {
				row.Items = append(row.Items, v.item(pack, it, marks))
			}
		}
		if len(row.Items) > 0 {
			out = append(out, row)
		}
	}
	return out
}

// inHand says whether the checklist of a milestone is worked on: the
// milestone is next, or next but one, and near; or it was done lately.
func (v *todayView) inHand(c *sweep.Cycle, key string, states map[string]programme.Outlook) bool {
	m, ok := c.Plan.Network.Milestone(key)
	if !ok {
		return false // not in a cycle of this purpose
	}
	o := states[key]
	switch o.State {
	case programme.Done:
		return v.today.Sub(o.DoneOn) <= listAfterDays
	case programme.Implied:
		return false
	case programme.Ahead:
		waits := func(before string) bool { s, ok := states[before]; return ok && s.State == programme.Ahead }
		if slices.ContainsFunc(m.After, waits) {
			return false
		}
	case programme.Open:
	}
	return o.Expected.P10.Sub(v.today) <= listAheadDays
}

func (v *todayView) item(pack *checklists.Pack, it checklists.Item, marks []Mark) TodayItem {
	out := TodayItem{
		Key: it.Key, Text: v.say(it.Text), Help: v.say(it.Help), Caution: v.say(pack.Cautions[it.Caution]), Suffices: it.Suffices,
	}
	if m := it.Measured; m != nil {
		least, most := m.Measure.Possible()
		out.Measured = &TodayMeasured{Measure: m.Measure, Least: least, Most: most, Low: m.Low, High: m.High}
	}
	if i := slices.IndexFunc(marks, func(m Mark) bool { return m.Item == it.Key }); i >= 0 {
		out.Mark = &TodayMark{Answer: marks[i].Answer, Value: marks[i].Value, Grade: marks[i].Grade, On: marks[i].On}
	}
	return out
}

func enterprisesOf(units []TodayUnit) []string {
	var out []string
	for _, u := range units {
		if !slices.Contains(out, u.Enterprise) {
			out = append(out, u.Enterprise)
		}
	}
	return out
}

// daybookDays is over how many days a missing daybook is asked for: what
// lies further back nobody remembers honestly.
const daybookDays = 7

// addDays says for which days there is a daybook, or word that the work could
// not be done. Missing days count once animals live there: before that a day
// without an entry is no gap.
func (v *todayView) addDays(ctx context.Context, out *TodayFarm) error {
	out.MissingDays, out.WrittenOn = []calendar.Date{}, []calendar.Date{}
	from := v.today.Add(-daybookDays)
	events, err := v.store.EventsSince(ctx, v.farm.ID, from, EntryDay, EntryCouldNot)
	if err != nil {
		return err
	}
	for on := from; on <= v.today; on++ {
		written := slices.ContainsFunc(events, func(e Event) bool { return e.On == on })
		switch {
		case written:
			out.WrittenOn = append(out.WrittenOn, on)
		case on < v.today && out.Stocked && on >= max(v.since, out.stockedSince()):
			out.MissingDays = append(out.MissingDays, on)
		}
	}
	return nil
}

// stockedSince is the first known day of animals on the farm, or long ago
// where only their being there is known.
func (f TodayFarm) stockedSince() calendar.Date {
	var since calendar.Date
	for _, u := range f.Units {
		if u.stockedOn != 0 && (since == 0 || u.stockedOn < since) {
			since = u.stockedOn
		}
	}
	return since
}
