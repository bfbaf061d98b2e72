package calendar

import "time"

// Quiet is the hours in which nobody is woken by a message, in minutes after
// midnight on the wall clock; they may run over midnight. Equal ends are no
// quiet hours.
type Quiet struct {
	From int `json:"from"`
	To   int `json:"to"`
}

// Holds says whether t lies in the quiet hours of its own clock.
func (q Quiet) Holds(t time.Time) bool {
	m := t.Hour()*60 + t.Minute()
	if q.From <= q.To {
		return m >= q.From && m < q.To
	}
	return m >= q.From || m < q.To
}

// After is the first instant from t on that is not quiet where the zone is.
func (q Quiet) After(t time.Time, zone *time.Location) time.Time {
	local := t.In(zone)
	if !q.Holds(local) {
		return t
	}
	y, mo, d := local.Date()
	end := time.Date(y, mo, d, q.To/60, q.To%60, 0, 0, zone)
	if !end.After(local) {
		end = time.Date(y, mo, d+1, q.To/60, q.To%60, 0, 0, zone)
	}
	for q.Holds(end) && end.Sub(t) < 48*time.Hour { // the clock was put back within them
		end = end.Add(time.Minute)
	}
	return end.UTC()
}
