package app

import (
	"context"
	"encoding/json"
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

// cycleView is a running cycle on its way into its unit.
type cycleView struct {
	*todayView
	*sweep.Cycle
	pack   *checklists.Pack
	states map[string]programme.Outlook
}

// addCycle puts the strip, the milestones, the checklists and the work of a
// running cycle into its unit. The forecast is made afresh: what the phone
// sent a moment ago shows at once, without waiting for the sweep.
func (v *todayView) addCycle(ctx context.Context, c *sweep.Cycle, row *TodayUnit, out *TodayFarm) error {
	pack, ok := v.Packs.Pack(row.Enterprise)
	if !ok {
		return nil
	}
	f := c.Plan.Network.Forecast(c.Known, c.Baseline, v.today, c.Plan.Draws, programme.Options{})
	cv := &cycleView{v, c, pack, make(map[string]programme.Outlook, len(f.Milestones))}
	for _, m := range f.Milestones {
		cv.states[m.Key] = m
	}
	row.CycleID, row.Strip = c.ID, stripOf(c, f)
	stocking := cv.states[c.Plan.Programme.Stocking]
	row.stockedOn, out.Stocked = stocking.DoneOn, out.Stocked || over(stocking.State)
	row.NoSaleUntil = noSaleUntil(v.said(EntryDay), row.ID, v.today)
	row.Animals = stockOf(v.batches, v.said(EntryDay), c.ID, row.ID, pack)
	row.Milestones, row.Lists, row.Work = cv.milestones(), cv.lists(), cv.work()
	if err := v.addWords(ctx, c.ID, row.Milestones); err != nil {
		return err
	}
	marks, err := v.store.MarksOf(ctx, []string{c.ID})
	row.Marks = cv.marks(row.Lists, marks)
	return err
}

func over(s programme.State) bool { return s == programme.Done || s == programme.Implied }

func stripOf(c *sweep.Cycle, f programme.Forecast) *TodayStrip {
	s := &TodayStrip{StartedOn: c.Known.Start, Harvest: c.Plan.Programme.Harvest}
	for _, m := range f.Milestones {
		t := TodayTick{Key: m.Key, State: m.State, DoneOn: m.DoneOn}
		if !over(m.State) {
			t.P50, t.P90 = m.Expected.P50, m.Expected.P90
		}
		s.Ticks = append(s.Ticks, t)
	}
	return s
}

// milestones are those that a caretaker may mark: the open ones, and those
// that may come within the days ahead.
func (v *cycleView) milestones() []TodayMilestone {
	var out []TodayMilestone
	for _, m := range v.Plan.Network.Milestones() {
		o := v.states[m.Key]
		switch {
		case over(o.State) || !mayMark(m.By):
		case o.State == programme.Open:
			out = append(out, TodayMilestone{Key: m.Key, From: v.later(o.Expected.P10.Add(-watchDays))})
		case o.Expected.P10.Sub(v.today) <= aheadDays:
			out = append(out, TodayMilestone{Key: m.Key, From: v.later(o.Expected.P10.Add(-watchDays)), After: v.marksFirst(m)})
		}
	}
	return out
}

// watchDays is for how long before its first likely day an open milestone is
// asked for: a harvest ten months ahead is no work for today.
const watchDays = 7

// later is a day when it is still to come, else none.
func (v *cycleView) later(on calendar.Date) calendar.Date {
	if on <= v.today {
		return 0
	}
	return on
}

// marksFirst are the nearest milestones before one that are open work of a
// caretaker too: nobody marks the hatch before the clutch. What the firm marks
// is passed over, for a phone without a network does not hear of it.
func (v *cycleView) marksFirst(m programme.Milestone) []string {
	var out []string
	for _, key := range m.After {
		before, ok := v.Plan.Network.Milestone(key)
		if !ok || over(v.states[key].State) {
			continue
		}
		if mayMark(before.By) {
			out = append(out, key)
			continue
		}
		out = append(out, v.marksFirst(before)...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// addWords says when open milestones were last spoken of: one that was marked
// by mistake is open again, and the phone that made the mistake must see that.
func (v *todayView) addWords(ctx context.Context, cycleID string, open []TodayMilestone) error {
	events, err := v.store.EventsSince(ctx, v.farm.ID, 0, EntryUndone)
	for _, e := range events {
		var in MilestoneEntry
		if e.CycleID != cycleID || json.Unmarshal(e.Data, &in) != nil {
			continue
		}
		if i := slices.IndexFunc(open, func(m TodayMilestone) bool { return m.Key == in.Milestone }); i >= 0 {
			open[i].Made = max(open[i].Made, e.word().Made)
		}
	}
	return err
}

func mayMark(by []farm.Role) bool { return len(by) == 0 || slices.Contains(by, farm.Caretaker) }

// lists are the checklists with anything for a caretaker to look at that are
// in hand, or come in hand within the days ahead.
func (v *cycleView) lists() []TodayList {
	var out []TodayList
	for _, list := range v.pack.Checklists {
		row, ok := v.inHand(list.Milestone)
		if ok && slices.ContainsFunc(list.Items, func(i checklists.Item) bool { return mayMark(i.By) }) {
			row.Key = list.Key
			out = append(out, row)
		}
	}
	return out
}

// inHand says between which days the checklist of a milestone is worked on:
// from when the milestone is next, or next but one, and near, until some days
// after it was done.
func (v *cycleView) inHand(key string) (TodayList, bool) {
	m, ok := v.Plan.Network.Milestone(key)
	if !ok {
		return TodayList{}, false // not in a cycle of this purpose
	}
	o := v.states[key]
	switch o.State {
	case programme.Done:
		until := o.DoneOn.Add(listAfterDays)
		return TodayList{Until: until}, until >= v.today
	case programme.Implied:
		return TodayList{}, false
	case programme.Ahead, programme.Open:
	}
	from := o.Expected.P10.Add(-listAheadDays)
	for _, before := range m.After {
		if b, ok := v.states[before]; ok && b.State == programme.Ahead {
			from = max(from, b.Expected.P10)
		}
	}
	if from <= v.today {
		return TodayList{}, true
	}
	return TodayList{From: from}, from.Sub(v.today) <= aheadDays
}

// marks are those of the items on the lists that a caretaker may mark.
func (v *cycleView) marks(lists []TodayList, marks []Mark) map[string]TodayMark {
	out := map[string]TodayMark{}
	for _, l := range lists {
		i := slices.IndexFunc(v.pack.Checklists, func(c checklists.Checklist) bool { return c.Key == l.Key })
		for _, it := range v.pack.Checklists[i].Items {
			at := slices.IndexFunc(marks, func(m Mark) bool { return m.Item == it.Key })
			if at >= 0 && mayMark(it.By) {
				m := marks[at]
				out[it.Key] = TodayMark{Answer: m.Answer, Value: m.Value, Grade: m.Grade, On: m.On, Made: m.Made}
			}
		}
	}
	return out
}

// work is what comes again while the cycle is between two milestones.
func (v *cycleView) work() []TodayWork {
	var out []TodayWork
	done := v.lastDone()
	for _, w := range v.pack.Daybook.Work {
		from, known := v.states[w.From]
		if !known || over(v.states[w.Until].State) {
			continue // not of this purpose, or over
		}
		row := TodayWork{Key: w.Key, Until: w.Until}
		switch {
		case !over(from.State):
			row.After, row.Due = w.From, from.Expected.P10.Add(first(w))
		case done[w.Key] != 0:
			row.Due = done[w.Key].Add(w.Every)
		case from.DoneOn != 0:
			row.Due = from.DoneOn.Add(first(w))
		default:
			row.Due = v.today // nobody knows since when
		}
		if row.Due.Sub(v.today) <= aheadDays {
			out = append(out, row)
		}
	}
	return out
}

// first is how many days after its milestone a piece of work first comes: a
// reading is of use at once, the rest when there is something to do.
func first(w checklists.Work) int {
	if w.Does == checklists.DoesCover {
		return 0
	}
	return w.Every
}

// lastDone is the last day of each piece of work in this cycle. One with an
// entry of its own was done when such a reading was taken, by whomever.
func (v *cycleView) lastDone() map[string]calendar.Date {
	out := map[string]calendar.Date{}
	for _, e := range v.said(EntryWork) {
		var in WorkEntry
		if e.CycleID == v.ID && json.Unmarshal(e.Data, &in) == nil {
			out[in.Work] = max(out[in.Work], e.On)
		}
	}
	for _, w := range v.pack.Daybook.Work {
		kind, ok := readingOf[w.Does]
		for _, r := range v.Known.Readings {
			if ok && r.Kind == kind {
				out[w.Key] = max(out[w.Key], r.On)
			}
		}
	}
	return out
}

// readingOf is the reading that is taken by a piece of work.
var readingOf = map[checklists.WorkDoes]string{
	checklists.DoesCover: programme.Cover, checklists.DoesWeigh: programme.Weight,
}
