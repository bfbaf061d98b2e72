package programme

import "math"

// The parts of a slip come from replaying the network from the start of the
// cycle: a done milestone takes again what it took on its clock, an undone
// one its draws. So one of them, or the pauses, or the season, can be
// exchanged while all else stays.

// measure fills in what done and implied milestones took.
func (r *run) measure() {
	for i := range r.net.nodes {
		x := &r.net.nodes[i]
		if x.toHarvest && !x.early && (r.sight.isFixed[i] || r.sight.states[i] == Implied) {
			r.measureOne(i)
		}
	}
}

func (r *run) measureOne(i int) {
	start, done := r.start(i), r.done[i]
	if start.each == nil && done.each == nil {
		took := r.elapsed(i, start.fixed, done.fixed)
		r.took[i] = column{fixed: took}
		r.rest[i] = column{fixed: done.fixed - r.end(i, start.fixed, took)}
		return
	}
	took, rest := r.s.row(), r.s.row()
	for k := range took {
		took[k] = r.elapsed(i, start.at(k), done.at(k))
		rest[k] = done.at(k) - r.end(i, start.at(k), took[k])
	}
	r.took[i], r.rest[i] = column{each: took}, column{each: rest}
}

// elapsed is what a milestone took on its clock. Nobody sees when it was
// ready, so days beyond the law's middle are laid at the season's door as
// far as its months were shut; the rest is its own.
func (r *run) elapsed(i int, start, done float64) float64 {
	x, c := &r.net.nodes[i], r.clocks[i]
	took := c.count(done) - c.count(start)
	middle := x.law.quantile(0.5)
	if x.gate == nil || took <= middle {
		return took
	}
	return max(middle, took-x.gate.shutDays(c, start, done))
}

// shutDays counts the days on a clock, between two days, in shut months.
func (g *gate) shutDays(c clock, from, to float64) float64 {
	var sum float64
	for m := monthOf(from); firstOf(m) < to; m++ {
		if g.shut[ofYear(m)] {
			sum += c.count(min(to, firstOf(m+1))) - c.count(max(from, firstOf(m)))
		}
	}
	return sum
}

// replay runs the network again under other pauses, or with the seasons open.
func (r *run) replay(stops []stop, open bool) *pass {
	p := r.net.newPass(r.s, stops)
	p.open = open
	copy(p.took, r.took)
	if !open {
		copy(p.rest, r.rest)
	}
	for i := range r.net.nodes {
		switch x := &r.net.nodes[i]; {
		case x.early:
			p.done[i] = r.done[i]
		case x.toHarvest:
			p.step(i)
		}
	}
	return p
}

// exchanged is the P50 of the harvest when some milestones of a pass take the
// law's draws instead of their own.
func (r *run) exchanged(base *pass, which func(i int) bool) float64 {
	lent := r.s.lent
	p := *base
	p.took, p.rest = append([]column(nil), base.took...), append([]column(nil), base.rest...)
	p.done = append([]column(nil), base.done...)
	moved := make([]bool, len(r.net.nodes))
	for i := range r.net.nodes {
		x := &r.net.nodes[i]
		if x.early || !x.toHarvest {
			continue
		}
		if which(i) {
			p.took[i], p.rest[i], moved[i] = r.byLaw(i), column{}, true
		}
		for _, a := range x.after {
			moved[i] = moved[i] || moved[a]
		}
		if moved[i] {
			p.step(i)
		}
	}
	out := p.harvestP50()
	r.s.lent = lent
	return out
}

func (p *pass) harvestP50() float64 { return p.s.quantile(p.done[p.net.harvest], 0.5) }

// slip fills in the slip and its parts: own is what is left without pauses,
// and of it, what was lost up to stocking.
func (r *run) slip(f *Forecast, b Baseline) {
	w, ok := b.Window(r.net.programme.Harvest)
	if !ok {
		return
	}
	days := func(p50 float64) int { return dateOf(p50).Sub(w.Target) }
	own := r.pass
	if len(r.sight.stops) > 0 {
		own = r.replay(nil, false)
	}
	f.Slip.Total, f.Slip.Own = days(r.harvestP50()), days(own.harvestP50())
	f.Slip.Pause = f.Slip.Total - f.Slip.Own
	toStocking := r.toStocking(own)
	f.Slip.ToStocking = days(toStocking)
	f.GrowthLate = r.growthLate(own, toStocking)
}

// toStocking is the P50 of the harvest with all that is not on the way to
// stocking at the law.
func (r *run) toStocking(own *pass) float64 {
	later := func(i int) bool { return !r.net.nodes[i].toStocking }
	for i := range r.net.nodes {
		if later(i) && r.net.nodes[i].toHarvest && !r.bare[i] {
			return r.exchanged(own, later)
		}
	}
	return own.harvestP50()
}

// account fills in the hold-up and the days lost.
func (r *run) account(f *Forecast) {
	p50 := r.harvestP50()
	most := 0
	for i := range r.net.nodes {
		x := &r.net.nodes[i]
		if x.early || !x.toHarvest || r.bare[i] || r.sight.states[i] == Implied {
			continue
		}
		lost := whole(p50 - r.exchanged(r.pass, func(j int) bool { return j == i }))
		f.Lost = addLoss(f.Lost, x.Key, lost)
		if lost > most {
			most, f.HoldUp = lost, x.Key
		}
	}
	f.Lost = addLoss(f.Lost, PauseLoss, f.Slip.Pause)
	f.Lost = addLoss(f.Lost, SeasonLoss, r.seasonLost(p50))
}

// PauseLoss and SeasonLoss are the lines of the account that belong to no
// milestone.
const (
	PauseLoss  = "pause"
	SeasonLoss = "season"
)

func addLoss(lines []Loss, key string, days int) []Loss {
	if days == 0 {
		return lines
	}
	return append(lines, Loss{Key: key, Days: days})
}

// seasonLost is what waiting for a season costs beyond what the baseline
// already had to wait. A shorter wait than promised is not time won: it only
// made good what a milestone lost.
func (r *run) seasonLost(p50 float64) int {
	gated := false
	for i := range r.net.nodes {
		gated = gated || (r.net.nodes[i].gate != nil && r.net.nodes[i].toHarvest)
	}
	if !gated {
		return 0
	}
	now := p50 - r.replay(r.sight.stops, true).harvestP50()
	start := float64(r.sight.known.Start)
	promised := r.net.bareRun(start, r.draws, r.s, false).harvestP50() - r.net.bareRun(start, r.draws, r.s, true).harvestP50()
	return max(0, whole(now-promised))
}

func whole(days float64) int { return int(math.Round(days)) }
