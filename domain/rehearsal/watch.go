package rehearsal

import (
	"slices"

	"tendfold/domain/calendar"
	"tendfold/domain/programme"
	"tendfold/domain/rehearsal/truth"
	"tendfold/domain/sweep"
	"tendfold/domain/ticket"
)

// Seen is a fault with the day from which a reader of the same evidence sees
// it.
type Seen struct {
	truth.Case
	Detectable int  // day after the farm's start
	Counted    bool // it can be seen in time, so a rule is asked to
}

// Promise is a forecast of the first harvest beside what came.
type Promise struct {
	Made     bool
	From     calendar.Date // stocking, from which both are counted
	P50, P90 calendar.Date
	Actual   calendar.Date
	Censored bool // not harvested by the end: Actual is the last day watched
}

// FarmRun is one farm of a rehearsal and all that happened to it.
type FarmRun struct {
	Seed      uint64
	Index     int
	Way       Way
	Start     calendar.Date
	Harvest   int  // true day of the first harvest, after the start
	Days      int  // days watched
	Faultless bool // nothing went wrong here
	Faults    []Seen
	Tickets   []Ticket
	Naive     []Ticket
	Stocking  Promise       // forecast on the day on which the stocking was known
	HalfWay   Promise       // forecast half-way from there, by farms with weights
	evidence  []truth.Entry // kept for the tables only
}

// watcher runs the sweep over one farm.
type watcher struct {
	run    *FarmRun
	farm   *truth.Farm
	course *truth.Course
	script *script
	record *record
	desk   *desk
	naive  naive
	clocks []sweep.Clock
	feed   []truth.Entry // what will arrive, in that order
	heard  []truth.Entry // what has arrived
	half   calendar.Date // day of the half-way forecast
}

// watch lets a farm run and the sweep look at it every day.
func (s *stage) watch(land *truth.Land, index int) (FarmRun, error) {
	f := land.Farm(index)
	c := f.Run(f.Inject(s.Faults, s.Days))
	w := &watcher{
		run: &FarmRun{
			Seed: land.Seed, Index: index, Way: Way{f.Plan.Enterprise, f.Plan.Purpose}, Start: f.Start,
			Harvest: c.Harvest(), Faultless: len(c.Faults) == 0,
		},
		farm: f, course: c, script: s.scripts[Way{f.Plan.Enterprise, f.Plan.Purpose}], feed: c.Evidence(s.Days),
	}
	w.record = newRecord(f, w.script)
	w.desk = &desk{farm: f, course: c, terms: s.terms, figures: w.script.Rules}
	w.naive = naive{record: w.record}
	for day := 0; day <= s.Days && !w.over(day); day++ {
		if err := w.day(day); err != nil {
			return FarmRun{}, err
		}
		w.run.Days = day
	}
	w.finish(s)
	return *w.run, nil
}

// over says whether the server knows of the first harvest: the cycle is done.
func (w *watcher) over(day int) bool {
	return w.record.knows(truth.Harvest, w.farm.Start.Add(day-1))
}

// day is one day of evidence, sweep and staff.
func (w *watcher) day(day int) error {
	on := w.farm.Start.Add(day)
	w.receive(on)
	look := sweep.Look(&w.record.facts, w.desk.memory(w.clocks), on, programme.Options{})
	w.clocks = look.Clocks
	w.record.cycle.Was = look.Cycles[0].Verdict.Standing
	if err := w.desk.carryOut(day, sweep.Reconcile(&w.record.facts, w.desk.tickets, look)); err != nil {
		return err
	}
	w.promises(on, &look.Cycles[0].Forecast)
	w.naive.look(day, on)
	found, err := w.desk.work(day)
	w.feed = merge(w.feed, found)
	return err
}

// receive takes in what has arrived by a day.
func (w *watcher) receive(on calendar.Date) {
	n := 0
	for ; n < len(w.feed) && w.feed[n].Received <= on; n++ {
		w.record.take(w.feed[n])
	}
	w.heard = append(w.heard, w.feed[:n]...)
	w.feed = w.feed[n:]
}

// merge puts new entries among those that will arrive.
func merge(feed, found []truth.Entry) []truth.Entry {
	if len(found) == 0 {
		return feed
	}
	out := append(slices.Clone(feed), found...)
	slices.SortStableFunc(out, func(a, b truth.Entry) int { return int(a.Received) - int(b.Received) })
	return out
}

// promises keeps the forecast at stocking and the one half-way from there.
func (w *watcher) promises(on calendar.Date, f *programme.Forecast) {
	stocked, ok := w.record.cycle.Known.Done[w.script.milestone[truth.Stocked]]
	if !ok || stocked > on {
		return
	}
	p := Promise{Made: true, From: stocked, P50: f.Harvest.P50, P90: f.Harvest.P90}
	if !w.run.Stocking.Made {
		w.run.Stocking = p
		w.half = stocked.Add(p.P50.Sub(stocked) / 2)
	}
	weighed := slices.ContainsFunc(w.record.cycle.Known.Readings, func(r programme.Reading) bool { return r.Kind == programme.Weight })
	if on == w.half && weighed {
		w.run.HalfWay = p
	}
}

// finish grades what happened, now that all of it is known.
func (w *watcher) finish(s *stage) {
	for _, k := range w.course.Cases() {
		day, ok := w.farm.Detectable(k, w.heard, w.quiet(), s.laws, w.run.Days)
		w.run.Faults = append(w.run.Faults, Seen{k, day, ok})
	}
	w.run.Tickets, w.run.Naive = w.desk.logs, w.naive.tickets
	for _, list := range [][]Ticket{w.run.Tickets, w.run.Naive} {
		for i := range list {
			w.explain(&list[i], w.medians())
		}
	}
	w.run.Stocking, w.run.HalfWay = w.kept(w.run.Stocking), w.kept(w.run.HalfWay)
	if s.Dump {
		w.run.evidence = w.heard
	}
}

// medians are what lateness is measured by: the truth's own where packs are
// right on average, elsewhere what they promise.
func (w *watcher) medians() truth.Medians {
	if w.farm.World == truth.Fair {
		return w.farm.Plan.TrueMedians(truth.Fair)
	}
	return w.script.promised
}

// reallyLate is from how many days on lateness explains a ticket, and faults
// explain tickets for so many days after they are over.
const (
	reallyLate = 7
	afterwards = 14
)

// explain says whether a ticket has a reason in the truth.
func (w *watcher) explain(t *Ticket, medians truth.Medians) {
	day := t.Day()
	t.Late = w.course.Late(day, medians)
	t.True, t.Planned = t.Late >= reallyLate, t.Late >= reallyLate
	for _, k := range w.run.Faults {
		if k.Start <= day && day <= k.End+afterwards {
			t.True = true
			t.Planned = t.Planned || k.Kind.Schedule()
		}
	}
}

// kept puts beside a promise what came of it.
func (w *watcher) kept(p Promise) Promise {
	p.Actual = w.farm.Start.Add(w.run.Harvest)
	if last := w.farm.Start.Add(w.run.Days); p.Actual > last {
		p.Actual, p.Censored = last, true
	}
	return p
}

// quiet are the limits of no-news, which silence is measured by.
func (w *watcher) quiet() truth.Quiet {
	before, _ := w.script.Network.Milestone(w.script.milestone[truth.Ready])
	after, _ := w.script.Network.Milestone(w.script.milestone[truth.Harvest])
	return truth.Quiet{Before: before.QuietDays, After: after.QuietDays}
}

// stage is what all farms of a rehearsal share.
type stage struct {
	Config
	scripts map[Way]*script
	laws    *truth.Laws
	terms   ticket.Terms
}
