package checklists

import (
	"errors"

	"tendfold/domain"
	"tendfold/domain/visit"
)

// Bounds of the weights of the visit need: no cause outweighs all others a
// hundredfold, and nothing is counted longer than a year.
const (
	mostPoints = 1000
	mostCount  = 366
)

// weight is a key of visit_weights and the field that it fills.
type weight struct {
	key    string
	points *float64
	count  *int
}

// weights ties every field of w to its key in the file.
func weights(w *visit.Weights) []weight {
	return []weight{
		{"behind", &w.Behind, nil},
		{"slipping", &w.Slipping, nil},
		{"late_day", &w.LateDay, nil},
		{"late_cap", nil, &w.LateCap},
		{"go_ahead", &w.GoAhead, nil},
		{"go_ahead_open", &w.GoAheadOpen, nil},
		{"go_ahead_item", &w.GoAheadItem, nil},
		{"go_ahead_cap", nil, &w.GoAheadCap},
		{"interval", &w.Interval, nil},
		{"interval_from", &w.IntervalFrom, nil},
		{"snag", &w.Snag, nil},
		{"snag_days", nil, &w.SnagDays},
		{"snag_day", &w.SnagDay, nil},
		{"snag_each", &w.SnagEach, nil},
		{"snag_cap", nil, &w.SnagCap},
		{"untrained", &w.Untrained, nil},
		{"module", &w.Module, nil},
		{"module_cap", nil, &w.ModuleCap},
		{"new", &w.New, nil},
		{"new_days", nil, &w.NewDays},
		{"nobody", &w.Nobody, nil},
		{"silence", &w.Silence, nil},
		{"silence_day", &w.SilenceDay, nil},
		{"silence_cap", nil, &w.SilenceCap},
		{"promise", &w.Promise, nil},
		{"promise_days", nil, &w.PromiseDays},
		{"broken", &w.Broken, nil},
		{"broken_day", &w.BrokenDay, nil},
		{"broken_cap", nil, &w.BrokenCap},
		{"request", &w.Request, nil},
		{"request_day", &w.RequestDay, nil},
		{"request_cap", nil, &w.RequestCap},
		{"losing_time", &w.LosingTime, nil},
		{"routine", &w.Routine, nil},
		{"no_hurry", &w.NoHurry, nil},
		{"worse_days", nil, &w.WorseDays},
	}
}

// readWeights reads visit_weights: the points of each cause of a visit need.
func readWeights(c cursor, p *Pack) visit.Weights {
	var w visit.Weights
	fields := weights(&w)
	keys := with()
	for _, f := range fields {
		keys = append(keys, f.key)
	}
	o, before := c.object(keys...), len(c.book.problems)
	for _, f := range fields {
		if f.count != nil {
			*f.count = o.need(f.key).whole(0, mostCount)
		} else {
			*f.points = o.need(f.key).number(0, mostPoints)
		}
	}
	p.Bases["visit-weights"] = o.basisOf(c)
	var refused *domain.Error
	if len(c.book.problems) == before && errors.As(w.Check(), &refused) {
		c.wrong("%s", refused.Text)
	}
	return w
}
