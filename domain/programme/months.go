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

// monthOf is the month that a day lies in, counted from January 1970.
func monthOf(day float64) int {
	era := math.Floor(day / eraDays)
	day -= era * eraDays
	return int(era)*eraMonths + search(&monthStart, day, int(day/monthDays))
}

// search finds the i with table[i] <= x < table[i+1], from a near guess.
func search(table *[eraMonths + 1]float64, x float64, i int) int {
	i = min(max(i, 0), eraMonths-1)
	for i > 0 && table[i] > x {
		i--
	}
	for i < eraMonths-1 && table[i+1] <= x {
		i++
	}
	return i
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
