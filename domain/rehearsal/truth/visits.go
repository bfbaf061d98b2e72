package truth

import "math"

// Staff mean to visit every week at first, then every fortnight, month and
// quarter (common practice). They have less time than they mean to: real gaps
// are longer by chance (guess).
var rounds = []struct {
	until int // days after handover, or after stocking
	every float64
}{{42, 10}, {56, 18}, {180, 35}, {math.MaxInt, 80}}

// visits are the visits that the firm's calendar brings.
func (w *writer) visits() {
	luck := w.c.Farm.luck.Sub("visits")
	day := 0
	for i := 0; ; i++ {
		day += max(4, round(w.c.round(day)*(.7+luck.Exp(i, .5))))
		if day > w.days || day > w.c.Harvest()+after {
			return
		}
		w.out = append(w.out, w.c.VisitOn(day, i)...)
	}
}

// round is how many days later the next visit is meant to be.
func (c *Course) round(day int) float64 {
	if day < rounds[0].until {
		return rounds[0].every
	}
	since := day - c.stocked()
	for _, r := range rounds[1:] {
		if since < r.until {
			return r.every
		}
	}
	return rounds[len(rounds)-1].every
}

// VisitOn is what a member of staff brings home from a visit on a day: which
// steps are done and which are not, and readings with better eyes. The number
// tells apart what happens on the same day.
func (c *Course) VisitOn(day, number int) []Entry {
	w := writer{c: c, k: &c.Farm.keeper}
	at := c.Farm.luck.Sub("visit").At(number).At(day)
	w.staff(Entry{Sort: Visit, Open: w.told(day, at.U(0))}, day, day, at.U(0))
	w.see(at, day)
	return w.out
}

// lately is for how many days back people remember when asked what is done.
const lately = 120

// told adds entries of the steps done lately and answers which of those under
// way are not.
func (w *writer) told(day int, u float64) (open []string) {
	c := w.c
	for i, st := range c.Farm.Plan.Steps {
		switch {
		case c.Done[i] <= day && c.Done[i] > day-lately && !(st.Name == Ready && c.fault(GoAheadSkipped) != nil):
			w.staff(c.stepEntry(i), c.Done[i], day, u)
		case c.begun[i] <= day && c.Done[i] > day:
			open = append(open, st.Name)
		}
	}
	return open
}

// staff adds an entry of the firm's own people, sent the same evening or the
// next day.
func (w *writer) staff(e Entry, about, day int, u float64) {
	e.Staff = true
	e.Stated, e.Made, e.Received = w.date(about), w.date(day), w.date(day)
	if u < .3 {
		e.Received++
	}
	w.out = append(w.out, e)
}

// see adds the readings of a visit.
func (w *writer) see(at Stream, day int) {
	c := w.c
	if i := c.Farm.Plan.At(CoverReady); i >= 0 && day > c.begun[i] && day <= c.Done[i]+7 {
		v := c.CoverAt(day) + coverErrStaff*at.N(10)
		w.staff(Entry{Sort: Looked, Value: typedPercent(v, at.Sub("typed"))}, day, day, at.U(0))
	}
	if day > c.growFrom+14 && day < c.Harvest() && at.U(11) < .8 {
		e := w.sample(at.Sub("sample"), day, 30, 0)
		w.staff(e, day, day, at.U(0))
	}
}

// CallOn is what a call on a day brings: the caretaker's word on which steps
// are done, and when, and which of those under way are not; nothing when
// nobody answers.
func (c *Course) CallOn(day int) []Entry {
	if c.silent(day) || c.Farm.keeper.away(day) {
		return nil
	}
	w := writer{c: c, k: &c.Farm.keeper}
	w.staff(Entry{Sort: Call, Open: w.told(day, 1)}, day, day, 1)
	return w.out
}

// Handling is what staff do about one ticket, in days after it was opened (or
// reopened); -1 = never.
type Handling struct {
	Take   int  // take it in hand
	Visit  bool // go there, else call
	Act    int  // the day of the visit or call
	Settle int  // settle it, whether or not the trouble is over
}

// Handle is how staff deal with the farm's ticket of a number (counted from
// the farm's first): some at once, some late, some never; every second one is
// settled after the visit or call, in good faith.
func (f *Farm) Handle(number int) Handling {
	s := f.luck.Sub("staff").At(number)
	if s.U(0) < .1 {
		return Handling{Take: -1, Act: -1, Settle: -1}
	}
	h := Handling{Take: int(s.Exp(1, 1.5)), Visit: s.U(2) < .4}
	h.Act = h.Take + 1 + int(s.U(3)*6)
	if h.Visit {
		h.Act += 2
	}
	h.Settle = -1
	if s.U(4) < .5 {
		h.Settle = h.Act + 1 + int(s.U(5)*8)
	}
	return h
}
