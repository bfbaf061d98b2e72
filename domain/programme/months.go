package programme

import (
	"math"
	"time"

	"tendfold/domain/calendar"
)

// The Gregorian calendar repeats every 400 years, 146,097 days, 4,800 months.
// Tables over one such era hold for any day, without a horizon to run over.
const (
	eraDays   = 146097
	eraMonths = 4800
	monthDays = float64(eraDays) / eraMonths
)

// monthStart holds the first day of each month of an era that begins on
// 1970-01-01, and the first of the next era as the last entry.
var monthStart = func() (t [eraMonths + 1]float64) {
	for m := range t {
		t[m] = float64(calendar.NewDate(1970, time.Month(m+1), 1))
	}
	return t
}()

// hint tells, for every 16 of whatever a rising table counts, in which of its
// steps they begin: the forward pass looks into such tables a million times
// a second.
type hint [eraDays/16 + 1]uint16

func newHint(table *[eraMonths + 1]float64) *hint {
	h := new(hint)
	m := 0
	for i := range h {
		for m < eraMonths-1 && table[m+1] <= float64(i*16) {
			m++
		}
		h[i] = uint16(m)
	}
	return h
}

// step is the m with table[m] <= x < table[m+1], for x in 0 to eraDays.
func (h *hint) step(table *[eraMonths + 1]float64, x float64) int {
	m := int(h[int(x)>>4])
	for m < eraMonths-1 && table[m+1] <= x {
		m++
	}
	return m
}

var monthHint = newHint(&monthStart)

// withinEra splits a number of days into the start of its era and the rest.
func withinEra(days float64) (era, rest float64) {
	if days >= 0 && days < eraDays {
		return 0, days
	}
	era = math.Floor(days/eraDays) * eraDays
	return era, days - era
}

// monthOf is the month that a day lies in, counted from January 1970.
func monthOf(day float64) int {
	era, day := withinEra(day)
	return int(era/eraDays)*eraMonths + monthHint.step(&monthStart, day)
}

// firstOf is the first day of a month counted from January 1970.
func firstOf(month int) float64 {
	era := math.Floor(float64(month) / eraMonths)
	return era*eraDays + monthStart[month-int(era)*eraMonths]
}

// ofYear is 0 for January to 11 for December.
func ofYear(month int) int { return ((month % 12) + 12) % 12 }

// dateOf is the civil date of an instant in days: only what is reported is
// rounded, and to the nearest, so that rounding neither wins nor loses time.
func dateOf(day float64) calendar.Date { return calendar.Date(math.Floor(day + 0.5)) }
