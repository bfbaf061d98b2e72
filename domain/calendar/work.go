package calendar

import "time"

// IsWorking says whether the branch works on the day.
func (c Calendar) IsWorking(d Date) bool { return c.hours()(d) != Span{} }

// AddWorkingDays is the nth working day after d, or before it when n is
// negative; 0 is d itself, whether or not it is worked.
func (c Calendar) AddWorkingDays(d Date, n int) Date {
	hours, step := c.hours(), Date(1)
	if n < 0 {
		n, step = -n, -1
	}
	for n > 0 {
		d += step
		if hours(d) != (Span{}) {
			n--
		}
	}
	return d
}

// Working is the working time between two instants, 0 when to is not after
// from.
func (c Calendar) Working(from, to time.Time) time.Duration {
	var sum time.Duration
	hours, last := c.hours(), c.Day(to)
	for d := c.Day(from); d <= last; d++ {
		opens, closes := c.bounds(d, hours(d))
		if opens.Before(from) {
			opens = from
		}
		if closes.After(to) {
			closes = to
		}
		sum += max(0, closes.Sub(opens))
	}
	return sum
}

// AddWorking is the instant at which so much working time has passed since t;
// t itself when work is not positive.
func (c Calendar) AddWorking(t time.Time, work time.Duration) time.Time {
	if work <= 0 {
		return t
	}
	hours := c.hours()
	for d := c.Day(t); ; d++ {
		opens, closes := c.bounds(d, hours(d))
		if opens.Before(t) {
			opens = t
		}
		left := closes.Sub(opens)
		if left >= work {
			return opens.Add(work)
		}
		work -= max(0, left)
	}
}

// Closes is the instant at which work ends on the day, midnight at its start
// when the branch does not work on it.
func (c Calendar) Closes(d Date) time.Time {
	_, closes := c.bounds(d, c.hours()(d))
	return closes
}

// bounds are the instants at which a span of the day begins and ends.
func (c Calendar) bounds(d Date, s Span) (opens, closes time.Time) {
	return c.at(d, s.From), c.at(d, s.To)
}

// at is the instant at which the wall clock shows so many minutes after
// midnight; time.Date, not an addition, so that 8:00 stays 8:00 on a day on
// which clocks change.
func (c Calendar) at(d Date, minutes int) time.Time {
	y, m, day := d.utc().Date()
	return time.Date(y, m, day, 0, minutes, 0, 0, c.zone)
}

// hours gives the working hours of any day. It remembers the holidays of the
// year it was last asked about, which spares a walk over many days from
// working them out for each.
func (c Calendar) hours() func(Date) Span {
	known, off := 0, map[Date]bool{}
	return func(d Date) Span {
		s := c.week[d.Weekday()]
		if s == (Span{}) {
			return s
		}
		if y := d.Year(); y != known {
			known = y
			clear(off)
			for _, h := range c.Holidays(y) {
				off[h.On] = true
			}
		}
		if off[d] {
			return Span{}
		}
		return s
	}
}
