package visit

import (
	"math"

	"tendfold/domain"
)

// Weights are the points of each cause, from the pack of the enterprise. They
// are a firm's judgement, not a measurement: no source gives them. Points a
// day and points an item are added to the cause's own points up to the cap.
type Weights struct {
	// schedule: the farm is late.
	Behind   float64 // by dates it is behind
	Slipping float64 // by dates it is slipping
	LateDay  float64 // each day of own slip, or past the next milestone's target, whichever is more
	LateCap  int     // days counted at most

	// go-ahead: an item that a person must see is missing.
	GoAhead     float64 // the window opens within the lead days
	GoAheadOpen float64 // the window is open: each day costs one
	GoAheadItem float64 // each item
	GoAheadCap  int     // items counted at most

	// interval: days since the last visit against the stage's. The points are
	// Interval times that share, from IntervalFrom of it on; at twice the
	// interval the farm must be gone to.
	Interval     float64
	IntervalFrom float64 // share of the interval, 0 to 1

	// snags: open snags while the builder still owes the mending.
	Snag     float64 // the defects period ends within SnagDays
	SnagDays int
	SnagDay  float64 // each day by which the end is nearer than SnagDays
	SnagEach float64 // each open snag
	SnagCap  int     // snags counted at most

	// people: who looks after the animals.
	Untrained float64 // a caretaker in charge lacks a module
	Module    float64 // each module lacking
	ModuleCap int     // modules counted at most
	New       float64 // a caretaker whom no visit has met, within NewDays of beginning
	NewDays   int
	Nobody    float64 // animals, and nobody in charge

	// silence: nothing heard for longer than the stage allows.
	Silence    float64
	SilenceDay float64 // each day beyond the limit
	SilenceCap int     // days counted at most

	// promise: a visit promised on a call.
	Promise     float64 // due within PromiseDays
	PromiseDays int
	Broken      float64 // past its day
	BrokenDay   float64 // each day past it
	BrokenCap   int     // days counted at most

	// request: the owner asked for a visit.
	Request    float64
	RequestDay float64 // each day of waiting
	RequestCap int     // days counted at most

	// tickets, in the group of their rule: the higher urgencies are must-go.
	LosingTime float64
	Routine    float64
	NoHurry    float64

	// WorseDays is by how many days lateness must have grown since a visit
	// dealt with it to count as new.
	WorseDays int
}

// Check refuses weights below zero or without an end: a cause never takes
// points away.
func (w Weights) Check() error {
	for _, p := range []float64{
		w.Behind, w.Slipping, w.LateDay, w.GoAhead, w.GoAheadOpen, w.GoAheadItem, w.Interval, w.IntervalFrom, w.Snag, w.SnagDay,
		w.SnagEach, w.Untrained, w.Module, w.New, w.Nobody, w.Silence, w.SilenceDay, w.Promise, w.Broken, w.BrokenDay, w.Request,
		w.RequestDay, w.LosingTime, w.Routine, w.NoHurry,
		float64(min(w.LateCap, w.GoAheadCap, w.SnagDays, w.SnagCap, w.ModuleCap, w.NewDays, w.SilenceCap, w.PromiseDays, w.BrokenCap, w.RequestCap, w.WorseDays)),
	} {
		if !(p >= 0) || math.IsInf(p, 0) {
			return domain.Invalid("visit-weights", "Weights of the visit need are numbers from 0 up.")
		}
	}
	if w.IntervalFrom > 1 {
		return domain.Invalid("visit-weights", "interval_from is a share of the interval, from 0 to 1.")
	}
	if w.Slipping > w.Behind || w.GoAhead > w.GoAheadOpen || w.Promise > w.Broken {
		return domain.Invalid("visit-weights", "The worse case of a cause weighs at least as much: behind as slipping, an open window as one ahead, a broken promise as one ahead.")
	}
	return nil
}

// upTo is n points of each, capped.
func upTo(each float64, n, limit int) float64 { return each * float64(max(0, min(n, limit))) }
