package programme

import (
	"cmp"
	"math"
	"slices"

	"tendfold/domain/calendar"
)

// clock counts the days that matter to one milestone. A duration elapses on
// the clock, not on the calendar: in a good season more than a day a day
// passes, and for work a paused day counts nothing.
type clock struct {
	rate  *rates // nil: every day counts one
	stops []stop // for work: the pauses, in order, none touching
}

// rates is the season's table: days counted up to the first of each month of
// an era. The months are scaled to average one, so that an era counts its
// own number of days.
type rates struct {
	month [12]float64
	upTo  [eraMonths + 1]float64
	hint  *hint
}

func newRates(month [12]float64) *rates {
	r := &rates{month: month}
	r.sum()
	scale := eraDays / r.upTo[eraMonths]
	for m := range r.month {
		r.month[m] *= scale
	}
	r.sum()
	r.upTo[eraMonths] = eraDays
	r.hint = newHint(&r.upTo)
	return r
}

func (r *rates) sum() {
	for m := range eraMonths {
		r.upTo[m+1] = r.upTo[m] + (monthStart[m+1]-monthStart[m])*r.month[m%12]
	}
}

func (r *rates) count(day float64) float64 {
	era, day := withinEra(day)
	m := monthHint.step(&monthStart, day)
	return era + r.upTo[m] + (day-monthStart[m])*r.month[m%12]
}

// day is the earliest day on which count has passed: where nothing passes in
// a month, the start of it and not the end.
func (r *rates) day(count float64) float64 {
	era, count := withinEra(count)
	m := r.hint.step(&r.upTo, count)
	for m > 0 && count == r.upTo[m] && r.month[(m-1)%12] == 0 {
		m--
	}
	if r.month[m%12] == 0 {
		return era + monthStart[m]
	}
	return era + monthStart[m] + (count-r.upTo[m])/r.month[m%12]
}

// stop is a span of days, from inclusive, to not, in which no work is done.
type stop struct {
	from, to float64
	before   float64 // days of the bare season counted up to from, less earlier stops
	gap      float64 // days of the bare season within
}

// bare counts the days of the season alone.
func (c clock) bare(day float64) float64 {
	if c.rate == nil {
		return day
	}
	return c.rate.count(day)
}

// count is the days passed on the clock up to a calendar day, from an origin
// that is nobody's concern: only differences mean anything.
func (c clock) count(day float64) float64 {
	out := c.bare(day)
	for _, s := range c.stops {
		switch {
		case day >= s.to:
			out -= s.gap
		case day > s.from:
			return s.before
		}
	}
	return out
}

// day is the earliest calendar day on which count has passed.
func (c clock) day(count float64) float64 {
	for i, v := range slices.Backward(c.stops) {
		if count > v.before {
			for _, s := range c.stops[:i+1] {
				count += s.gap
			}
			break
		}
	}
	if c.rate == nil {
		return count
	}
	return c.rate.day(count)
}

// after is the day on which days have passed since start. Work that falls
// due inside a pause waits for its end.
func (c clock) after(start, days float64) float64 {
	if c.rate == nil && len(c.stops) == 0 {
		return start + days
	}
	start = c.resumed(start)
	end := c.day(c.count(start) + days)
	if days >= 0 {
		end = max(start, end)
	}
	return end
}

// resumed is day itself, or the end of the pause that it lies in.
func (c clock) resumed(day float64) float64 {
	for _, s := range c.stops {
		if day >= s.from && day < s.to {
			return s.to
		}
	}
	return day
}

// stopsOn are the pauses known on a day, joined where they touch. An open
// pause counts to that day or to its planned end, whichever is later.
func stopsOn(pauses []Pause, on calendar.Date) []stop {
	var out []stop
	for _, p := range pauses {
		if to := p.end(on); p.From <= on && to > p.From {
			out = append(out, stop{from: float64(p.From), to: float64(to)})
		}
	}
	slices.SortFunc(out, func(a, b stop) int { return cmp.Compare(a.from, b.from) })
	joined := out[:0]
	for _, s := range out {
		if last := len(joined) - 1; last >= 0 && s.from <= joined[last].to {
			joined[last].to = max(joined[last].to, s.to)
			continue
		}
		joined = append(joined, s)
	}
	return joined
}

// end is the first day on which work goes on again, as known on a day.
func (p Pause) end(on calendar.Date) calendar.Date {
	if !p.Ended.IsZero() && p.Ended <= on {
		return p.Ended
	}
	return max(p.Until, on)
}

// withStops is the clock of work under pauses that come from stopsOn.
func (c clock) withStops(stops []stop) clock {
	c.stops = make([]stop, len(stops))
	var gone float64
	for i, s := range stops {
		from := c.bare(s.from)
		s.before, s.gap = from-gone, c.bare(s.to)-from
		gone += s.gap
		c.stops[i] = s
	}
	return c
}

// gate keeps a milestone out of the months in which it must not fall.
type gate struct{ shut [12]bool }

func (g *gate) isShut(day float64) bool {
	return g != nil && g.shut[ofYear(monthOf(math.Floor(day+0.5)))]
}

// next is day itself, or the first day after the shut months it lies in. It
// looks at the civil date that would be reported, lest rounding put a
// milestone back into a shut month.
func (g *gate) next(day float64) float64 {
	if g == nil {
		return day
	}
	m := monthOf(math.Floor(day + 0.5))
	if !g.shut[ofYear(m)] {
		return day
	}
	for g.shut[ofYear(m)] {
		m++
	}
	return firstOf(m)
}

// closing is day itself, or the first day of the shut months it lies in.
func (g *gate) closing(day float64) float64 {
	if !g.isShut(day) {
		return day
	}
	m := monthOf(math.Floor(day + 0.5))
	for g.shut[ofYear(m-1)] {
		m--
	}
	return firstOf(m)
}

// landed is the day on which what is ready on day may be done: outside shut
// months and, for work, outside pauses. Both only ever move it later, so the
// two settle.
func (c clock) landed(g *gate, day float64) float64 {
	for {
		moved := g.next(day)
		if moved == day {
			return day
		}
		if day = c.resumed(moved); day == moved {
			return day
		}
	}
}
