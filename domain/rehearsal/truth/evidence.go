package truth

import (
	"math"
	"slices"

	"tendfold/domain/calendar"
)

// Sort of an entry.
type Sort string

// The sorts.
const (
	Daybook  Sort = "daybook"  // all well, or deaths
	StepDone Sort = "step"     // a step is done, on the stated day
	Looked   Sort = "cover"    // plant cover in per cent
	Weighed  Sort = "weight"   // mean of a sample in g
	Verified Sort = "verified" // checklist items of the go-ahead: a share of them
	Visit    Sort = "visit"    // staff were there
	Call     Sort = "call"     // staff spoke with the caretaker
)

// Entry is one thing that the server hears, and what it hears wrong about it.
type Entry struct {
	Sort     Sort
	Step     string        // StepDone: which
	Stated   calendar.Date // the day that the entry states
	Made     calendar.Date // the day on which it was written
	Received calendar.Date // the day on which the server has it
	Value    float64       // Looked, Weighed: the reading; Verified: the share; Daybook: deaths; StepDone of Stocked: mean g
	N        int           // Weighed: animals in the sample; StepDone of Stocked: how many
	SD       float64       // Weighed: their spread, 0 when not told
	Staff    bool          // by the firm's own people
	Open     []string      // Visit, Call: steps seen not yet done
	ClockOff bool          // the phone's clock was wrong when it was written
}

// Evidence is what reaches the server without anybody asking, for so many
// days, in the order in which it arrives.
func (c *Course) Evidence(days int) []Entry {
	w := writer{c: c, k: &c.Farm.keeper, days: days}
	w.steps()
	w.daybook()
	w.covers()
	w.weights()
	w.verified()
	w.visits()
	out := slices.DeleteFunc(w.out, func(e Entry) bool { return e.Received > c.Farm.Start.Add(days) })
	slices.SortStableFunc(out, func(a, b Entry) int { return int(a.Received) - int(b.Received) })
	return out
}

// writer collects the entries of a course.
type writer struct {
	c    *Course
	k    *keeper
	days int
	out  []Entry
}

func (w *writer) date(day int) calendar.Date { return w.c.Farm.Start.Add(day) }

// there is the first day on or after day on which somebody is there to write.
func (w *writer) there(day int) int {
	for w.c.silent(day) || w.k.away(day) {
		day++
	}
	return day
}

// phone adds an entry that the caretaker writes on day made about day about.
// An entry that states today states what the phone's clock says.
func (w *writer) phone(e Entry, about, made int) {
	made = w.there(made)
	e.Stated, e.Made, e.Received = w.date(about), w.date(made), w.date(w.k.sends(made))
	if w.k.clock != 0 {
		e.ClockOff = true
		e.Stated = e.Stated.Add(w.k.clock)
	}
	w.out = append(w.out, e)
}

// steps tells of the finished steps.
func (w *writer) steps() {
	luck := w.k.luck.Sub("steps")
	for i, st := range w.c.Farm.Plan.Steps {
		done := w.c.Done[i]
		if done > w.days || (st.Name == Ready && w.c.fault(GoAheadSkipped) != nil) {
			continue
		}
		e := w.c.stepEntry(i)
		lag, told := tells(luck.At(2*i), e.Staff)
		switch {
		case st.Name == Built:
			e.Stated, e.Made, e.Received = w.date(0), w.date(0), w.date(0)
			w.out = append(w.out, e)
		case told && e.Staff:
			e.Stated, e.Made, e.Received = w.date(done), w.date(done+lag), w.date(done+lag)
			w.out = append(w.out, e)
		case told:
			w.phone(e, min(done+slips(luck.At(2*i+1)), done+lag), done+lag)
		}
	}
}

// stepEntry is the entry of a finished step. Stocking comes with what the
// delivery note says: how many, and their mean weight (right to 5 %).
func (c *Course) stepEntry(i int) Entry {
	st := &c.Farm.Plan.Steps[i]
	e := Entry{Sort: StepDone, Step: st.Name, Staff: staffStep(st.Name)}
	if st.Name == Stocked {
		e.N = c.alive[0]
		e.Value = c.Farm.stockG * math.Exp(.05*c.Farm.luck.Sub("delivery").N(0))
	}
	return e
}

// after is for how many days a farm still writes when it has harvested.
const after = 60

// daybook is the caretaker's rhythm.
func (w *writer) daybook() {
	luck := w.k.luck.Sub("daybook")
	phase := int(luck.U(0) * float64(w.k.every))
	for day := 1 + phase; day <= min(w.days, w.c.Harvest()+after); day += w.k.every {
		at := luck.At(day)
		if w.c.silent(day) || w.k.away(day) || at.U(0) > w.k.diligence {
			continue
		}
		made := day
		if at.U(1) < w.k.late {
			made += 1 + int(at.Exp(2, 2))
		}
		w.phone(Entry{Sort: Daybook, Value: float64(w.c.Deaths(day))}, day, made)
	}
}

// covers are the weekly looks at the plants, until they are ready.
func (w *writer) covers() {
	planted := w.c.Farm.Plan.At(Planted)
	if planted < 0 || !w.k.covers {
		return
	}
	luck := w.k.luck.Sub("covers")
	ready := w.c.Done[w.c.Farm.Plan.At(CoverReady)]
	for day := w.c.Done[planted] + 7; day <= min(w.days, ready); day += 7 {
		at := luck.At(day)
		if at.U(0) > .85 || w.c.silent(day) || w.k.away(day) {
			continue
		}
		v := w.c.CoverAt(day) + w.k.coverBias + coverErr*at.N(1)
		w.phone(Entry{Sort: Looked, Value: typedPercent(v, at.Sub("typed"))}, day, day)
	}
}

// typedPercent is what is typed of a cover seen: rounded to fives, and seldom
// a wrong key.
func typedPercent(v float64, s Stream) float64 {
	if s.U(0) < slip {
		return math.Floor(s.U(1) * 101)
	}
	return min(100, max(0, 5*math.Round(v/5)))
}

// weights are the monthly samples, until the harvest.
func (w *writer) weights() {
	if !w.k.weighs {
		return
	}
	luck := w.k.luck.Sub("weights")
	for day := w.c.growFrom + 30; day < min(w.days, w.c.Harvest()); day += 30 {
		at := luck.At(day)
		if at.U(0) > .85 || w.c.silent(day) || w.k.away(day) {
			continue
		}
		n := 10 + int(at.U(1)*21)
		w.phone(w.sample(at, day, n, w.k.scaleBias), day, day)
	}
}

// sample is a mean of n animals with the errors of catching, scale and
// fingers.
func (w *writer) sample(at Stream, day, n int, bias float64) Entry {
	mean := w.c.Weight(day)
	spread := w.c.Farm.Plan.Herd.Spread
	v := mean * math.Exp(bias+weighErr*at.N(2)+spread/math.Sqrt(float64(n))*at.N(3))
	e := Entry{Sort: Weighed, N: n, Value: math.Round(v*10) / 10}
	if at.U(4) < .5 {
		e.SD = math.Round(mean*spread*10) / 10
	}
	if at.U(5) < slip {
		e.Value *= 10
	}
	return e
}

// verified are the items of the go-ahead: about half ten days before it, all
// when it is given, with the readings that it asks for; when it is skipped the
// rest comes long after.
func (w *writer) verified() {
	ready := w.c.Done[w.c.Farm.Plan.At(Ready)]
	early, all := max(1, ready-10), ready
	if w.c.fault(GoAheadSkipped) != nil {
		early, all = max(1, w.c.stocked()-8), w.c.stocked()+45
	}
	for i, day := range []int{early, all} {
		if day > w.days {
			continue
		}
		e := Entry{
			Sort: Verified, Value: float64(i+1) / 2, Staff: true,
			Stated: w.date(day), Made: w.date(day), Received: w.date(day),
		}
		w.out = append(w.out, e)
	}
	w.see(w.c.Farm.luck.Sub("go-ahead"), all)
}
