package app

import (
	"context"
	"encoding/json"
	"slices"

	"tendfold/domain/calendar"
	"tendfold/domain/daybook"
)

func enterprisesOf(units []TodayUnit) []string {
	var out []string
	for _, u := range units {
		if !slices.Contains(out, u.Enterprise) {
			out = append(out, u.Enterprise)
		}
	}
	return out
}

const (
	// daybookDays is over how many days a missing daybook is asked for: what
	// lies further back nobody remembers honestly.
	daybookDays = 7
	// mendDays is over how many days the daybook is shown, and mended with a
	// press; what is older is mended by the firm.
	mendDays = 14
	// mostDays bounds that for farms with many units.
	mostDays = 60
)

// addDays says for which days there is a daybook, or word that the work could
// not be done. Missing days count once animals live there: before that a day
// without an entry is no gap.
func (v *todayView) addDays(_ context.Context, out *TodayFarm) error {
	out.MissingDays, out.WrittenOn = []calendar.Date{}, []calendar.Date{}
	for on := v.today.Add(-daybookDays); on <= v.today; on++ {
		switch {
		case slices.ContainsFunc(v.events, func(e Event) bool { return e.On == on && e.wordOfDay() }):
			out.WrittenOn = append(out.WrittenOn, on)
		case on < v.today && out.Stocked && on >= max(v.since, out.stockedSince()):
			out.MissingDays = append(out.MissingDays, on)
		}
	}
	out.Days = []TodayDay{}
	days := standing(v.said(EntryDay))
	for _, e := range days[max(0, len(days)-mostDays):] {
		if e.On >= v.today.Add(-mendDays) {
			out.Days = append(out.Days, TodayDay{ID: e.ID, On: e.On, UnitID: e.UnitID, Data: e.Data})
		}
	}
	return nil
}

// wordOfDay says whether the event is the daybook of its day, or word that
// the day's work as a whole could not be done.
func (e Event) wordOfDay() bool {
	var in CouldNotEntry
	return e.Kind == EntryDay || e.Kind == EntryCouldNot && json.Unmarshal(e.Data, &in) == nil && in.Task == ""
}

// standing are the events that hold: of those that correct one another, the
// one made last.
func standing(es []Event) []Event {
	words := make([]daybook.Word, len(es))
	for i, e := range es {
		words[i] = daybook.Word{ID: e.ID, Replaces: e.Replaces}
	}
	var out []Event
	for _, i := range daybook.Standing(words) {
		out = append(out, es[i])
	}
	return out
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
