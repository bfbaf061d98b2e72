package app

import (
	"encoding/json"

	"tendfold/checklists"
	"tendfold/domain/calendar"
	"tendfold/domain/daybook"
	"tendfold/domain/farm"
)

// stockOf is how many animals a cycle holds: what was put in, less what its
// daybook says was lost or taken out. nil where no batch is known. Young that
// hatch are not counted: nobody counts them all.
func stockOf(batches []farm.Batch, days []Event, cycleID, unitID string, pack *checklists.Pack) *daybook.Stock {
	s := &daybook.Stock{}
	since, units := calendar.Date(0), map[string]bool{}
	for _, b := range batches {
		units[b.UnitID] = true
		if b.CycleID != cycleID {
			continue
		}
		s.PutIn += b.Count
		if since == 0 || b.StockedOn < since {
			since = b.StockedOn
		}
	}
	if s.PutIn == 0 {
		return nil
	}
	alone := len(units) == 1 // then the whole farm's book is this unit's
	s.Living = s.PutIn
	for _, e := range standing(days) {
		if e.On >= since && (e.UnitID == unitID || e.UnitID == "" && alone) {
			s.Living -= lostIn(e, pack)
		}
	}
	s.Living = max(s.Living, 0)
	return s
}

// lostIn is how many animals are no longer there by one day's entry.
func lostIn(e Event, pack *checklists.Pack) int {
	var in DayEntry
	if json.Unmarshal(e.Data, &in) != nil {
		return 0
	}
	n := 0
	for _, g := range pack.Daybook.Groups {
		for _, f := range g.Fields {
			if v, ok := in.Values[f.Key].(float64); ok && f.Lessens {
				n += int(v)
			}
		}
	}
	return n
}

// noSaleUntil is the last day on which a treatment that the daybook names
// forbids a sale; zero without one.
func noSaleUntil(days []Event, unitID string, today calendar.Date) calendar.Date {
	var until calendar.Date
	for _, e := range standing(days) {
		var in DayEntry
		if e.UnitID != "" && e.UnitID != unitID || json.Unmarshal(e.Data, &in) != nil {
			continue
		}
		if text, ok := in.Values["treatment_until"].(string); ok {
			if on, err := calendar.ParseDate(text); err == nil {
				until = max(until, on)
			}
		}
	}
	if until < today {
		return 0
	}
	return until
}

func unitIDs(units []farm.Unit) []string {
	out := make([]string, len(units))
	for i, u := range units {
		out[i] = u.ID
	}
	return out
}
