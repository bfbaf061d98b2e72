package programme

import (
	"tendfold/domain/calendar"
)

// Options of a forecast. The zero value is what a sweep over all farms asks.
type Options struct {
	// Account adds the hold-up and the days lost by milestone, pause and
	// season; it costs several forecasts.
	Account bool
	// Assume takes milestones that are not done as done on a day, past or to
	// come: what if stocking were on the 1st?
	Assume map[string]calendar.Date
}

// Forecast tells, on a day, when each milestone that is not done may be done
// and how far the first harvest has moved against its baseline. A done
// milestone keeps its date; what is undone takes the pack's law, given that
// it has already taken the days waited and given the readings; dates are
// rounded only when reported, and none that is undone is before the day.
func (n *Network) Forecast(k Known, b Baseline, on calendar.Date, d *Draws, o Options) Forecast {
	s := d.borrow()
	defer d.giveBack(s)
	v := n.look(k, on, o.Assume)
	r := v.run(d, s)
	f := Forecast{On: on, NotHeardSince: v.notHeardSince(), Milestones: r.outlooks(), CoverLate: r.coverLate(), MissSeason: r.missSeason()}
	f.Harvest = f.Milestones[n.harvest].Expected
	r.measure()
	r.slip(&f, b)
	f.PaceShort, f.PaceNow = r.slump.chance, r.slump.pace
	if o.Account {
		r.account(&f)
	}
	return f
}

// run is the forecast's own pass and what it was made from.
type run struct {
	*pass
	sight *sight
	draws *Draws
	bare  []bool // taken at the law alone
	read  []bool // conditioned on readings
	slump slump  // of the animals, by their weights
}

// run does the forward pass from what is known.
func (v *sight) run(d *Draws, s *scratch) *run {
	flags := make([]bool, 2*len(v.net.nodes))
	r := &run{pass: v.net.newPass(s, v.stops), sight: v, draws: d, bare: flags[:len(v.net.nodes)], read: flags[len(v.net.nodes):]}
	for i := range v.net.nodes {
		r.place(i)
	}
	return r
}

func (r *run) place(i int) {
	if r.sight.isFixed[i] {
		r.done[i] = column{fixed: r.sight.fixed[i]}
		return
	}
	r.took[i] = r.byLaw(i)
	switch r.sight.states[i] {
	case Implied:
		r.step(i)
		r.capAt(i, r.sight.bound[i])
	case Open:
		r.condition(i)
		r.step(i)
	default:
		r.read[i] = r.carryOn(i)
		r.bare[i] = !r.read[i]
		r.step(i)
	}
}

func (r *run) byLaw(i int) column {
	x := &r.net.nodes[i]
	return column{each: r.draws.taken(x.Key, x.law)}
}

// capAt keeps an implied milestone from being later than what followed it.
func (r *run) capAt(i int, day float64) {
	for k, v := range r.done[i].each {
		r.done[i].each[k] = min(v, day)
	}
}

// condition replaces the law's draws of an open milestone by draws given
// its readings and that it has taken longer than the days waited.
func (r *run) condition(i int) {
	x, start := &r.net.nodes[i], r.start(i)
	middle := r.s.quantile(start, 0.5)
	if r.readOpen(i, middle, r.sight.waited(i, r.clocks[i], middle)) {
		r.read[i] = true
		return
	}
	if start.each == nil {
		r.bare[i] = r.beyond(i, r.sight.waited(i, r.clocks[i], start.fixed))
		return
	}
	out := r.s.row()
	for k, rank := range r.draws.order(x.Key) {
		out[k] = x.law.beyond(r.sight.waited(i, r.clocks[i], start.each[k]), r.draws.level(rank))
	}
	r.took[i] = column{each: out}
}

// beyond conditions on e days; true says that this changes nothing.
func (r *run) beyond(i int, e float64) bool {
	x := &r.net.nodes[i]
	if x.law.survival(e) == 1 {
		return true
	}
	out := r.s.row()
	for k, rank := range r.draws.order(x.Key) {
		out[k] = x.law.beyond(e, r.draws.level(rank))
	}
	r.took[i] = column{each: out}
	return false
}

func (r *run) outlooks() []Outlook {
	out := make([]Outlook, len(r.net.nodes))
	for i := range out {
		out[i] = r.outlook(i)
	}
	return out
}

func (r *run) outlook(i int) Outlook {
	x := &r.net.nodes[i]
	o := Outlook{Key: x.Key, State: r.sight.states[i]}
	switch o.State {
	case Done:
		o.DoneOn = dateOf(r.sight.fixed[i])
		o.Expected = Quantiles{o.DoneOn, o.DoneOn, o.DoneOn}
	case Open, Ahead:
		o.Expected = r.expected(i)
	case Implied: // done, the day is not known
	}
	if o.State == Done || o.State == Open {
		o.Own = r.own(i)
		if !x.early {
			o.Since = dateOf(r.s.quantile(r.start(i), 0.5))
		}
	}
	return o
}

func (r *run) expected(i int) Quantiles {
	if r.sight.isFixed[i] { // assumed: a what-if may rewrite the past
		day := dateOf(r.sight.fixed[i])
		return Quantiles{day, day, day}
	}
	q := r.s.tenFiftyNinety(r.done[i])
	on := r.sight.on
	return Quantiles{max(on, dateOf(q[0])), max(on, dateOf(q[1])), max(on, dateOf(q[2]))}
}

// own counts from the predecessors' actual dates by the law alone. Where
// those are certain every step is monotone in the duration, so the quantiles
// pass straight through.
func (r *run) own(i int) Quantiles {
	x, start := &r.net.nodes[i], r.start(i)
	if x.early {
		day := dateOf(r.sight.fixed[i])
		return Quantiles{day, day, day}
	}
	if start.each == nil {
		at := func(p float64) calendar.Date { return dateOf(r.end(i, start.fixed, x.law.quantile(p))) }
		return Quantiles{at(0.1), at(0.5), at(0.9)}
	}
	lent := r.s.lent
	out := r.s.row()
	for k, took := range r.byLaw(i).each {
		out[k] = r.end(i, start.each[k], took)
	}
	q := r.s.tenFiftyNinety(column{each: out})
	r.s.lent = lent
	return Quantiles{dateOf(q[0]), dateOf(q[1]), dateOf(q[2])}
}

// missSeason is the share of draws in which a milestone that is not done has
// to wait for a season.
func (r *run) missSeason() float64 {
	var missed []bool
	for i := range r.net.nodes {
		s := r.sight.states[i]
		if r.net.nodes[i].gate == nil || r.sight.isFixed[i] || (s != Open && s != Ahead) {
			continue
		}
		if missed == nil {
			missed = make([]bool, r.draws.n)
		}
		start := r.start(i)
		for k, took := range r.took[i].each {
			missed[k] = missed[k] || r.done[i].at(k) > r.clocks[i].after(start.at(k), took)
		}
	}
	return share(missed)
}

func share(yes []bool) float64 {
	if len(yes) == 0 {
		return 0
	}
	n := 0
	for _, y := range yes {
		if y {
			n++
		}
	}
	return float64(n) / float64(len(yes))
}
