package truth

import (
	"math"
	"time"

	"tendfold/domain/calendar"
)

// Season is what the months do to a farm, January first.
type Season struct {
	Closed [12]bool    // months in which nobody stocks
	Rate   [12]float64 // days' worth of the animals' growth and laying in one day; a year's mean is 1
	Plants [12]float64 // the same for plants, which people water
	Hazard [12]float64 // by which deaths are multiplied
}

// southWest is the wet side of the Gulf of Guinea: nobody stocks in December
// and January, the driest months. Giant snails rest from November to February
// in Ghana (snail reference section 6); figures by month are guesses.
var southWest = Season{
	Closed: [12]bool{0: true, 11: true},
	Rate:   [12]float64{.80, .80, .95, 1.10, 1.10, 1.10, 1.10, 1.10, 1.10, 1.05, .95, .85},
	Plants: [12]float64{.90, .90, .97, 1.05, 1.05, 1.05, 1.05, 1.05, 1.05, 1.03, .97, .93},
	Hazard: [12]float64{1.5, 1.5, 1.2, 1, .9, .9, .9, .9, .9, 1, 1.1, 1.3},
}

// warmWater is a tank's year: fish grow a little slower in the coolest
// months (guess).
var warmWater = Season{
	Rate:   [12]float64{1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1},
	Hazard: [12]float64{1, 1.1, 1.2, 1.2, 1, 1, 1, 1, 1, 1, 1, 1},
}

// open is the first day not before day on which stocking is possible, in days
// after start; fractions of a day are kept.
func (s *Season) open(start calendar.Date, day float64) float64 {
	for !math.IsInf(day, 0) {
		m := start.Add(int(day)).Month()
		if !s.Closed[m-1] {
			return day
		}
		day = math.Floor(day) + 1
	}
	return day
}

// closes is the first closed day after day, in days after start, and false
// when no month is closed.
func (s *Season) closes(start calendar.Date, day float64) (float64, bool) {
	for n := range 400 {
		d := math.Floor(day) + 1 + float64(n)
		if s.Closed[start.Add(int(d)).Month()-1] {
			return d, true
		}
	}
	return 0, false
}

// Rates of the days after a start, summed: rates[d] is the growth done by the
// start of day d in average days.
type rates []float64

func sums(table *[12]float64, start calendar.Date, days int) rates {
	sum := make(rates, days+1)
	m, left := start.Month(), daysLeft(start)
	for d := range days {
		if left == 0 {
			day := start.Add(d)
			m, left = day.Month(), daysLeft(day)
		}
		sum[d+1] = sum[d] + table[m-1]
		left--
	}
	return sum
}

// daysLeft is the number of days from d to the end of its month, d included.
func daysLeft(d calendar.Date) int {
	next := time.Date(d.Year(), d.Month()+1, 1, 0, 0, 0, 0, time.UTC)
	return calendar.FromTime(next).Sub(d)
}

// at is the growth done by day t; beyond the table an average day counts one.
func (r rates) at(t float64) float64 {
	if t <= 0 {
		return t
	}
	last := len(r) - 1
	if t >= float64(last) {
		return r[last] + t - float64(last)
	}
	i := int(t)
	return r[i] + (t-float64(i))*(r[i+1]-r[i])
}

// when is the day by which growth g is done: the inverse of at.
func (r rates) when(g float64) float64 {
	last := len(r) - 1
	if g <= 0 {
		return g
	}
	if g >= r[last] {
		return float64(last) + g - r[last]
	}
	lo, hi := 0, last
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; r[mid] <= g {
			lo = mid
		} else {
			hi = mid
		}
	}
	return float64(lo) + (g-r[lo])/(r[hi]-r[lo])
}

// after is the day on which a growth of g is done that begins at day t.
func (r rates) after(t, g float64) float64 { return r.when(r.at(t) + g) }
