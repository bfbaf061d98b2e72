package stock

import (
	"fmt"

	"tendfold/domain"
	"tendfold/domain/calendar"
)

// Bounds of a plan.
const (
	mostWeeks   = 520
	mostBatches = 12
	mostAnimals = 10_000_000
	mostM2      = 1e6
	mostEvents  = 2000
)

// Batch is animals put into the unit on a day.
type Batch struct {
	On    calendar.Date `json:"on"`
	Count float64       `json:"count"`
	MeanG float64       `json:"mean_g"`
}

// Way is how animals left the unit.
type Way string

// The ways.
const (
	Sold   Way = "sold"   // from the heaviest down
	Moved  Way = "moved"  // to another house, from all sizes
	Stolen Way = "stolen" // or escaped, once somebody has said so: from all sizes
)

// Taken is animals that are known to have left on a day.
type Taken struct {
	On    calendar.Date `json:"on"`
	Count float64       `json:"count"`
	Way   Way           `json:"way"`
}

// Harvest is what the owner means to sell: on so many days from the first day
// on, everything above the market weight, but never so much that fewer adults
// than Parents are left.
type Harvest struct {
	From    calendar.Date `json:"from"`
	Every   int           `json:"every_days"` // 0 = nothing is sold
	MarketG float64       `json:"market_g"`   // also what "for sale" means when nothing is sold
	Parents float64       `json:"parents"`
	// ThinTo is the part of what the floor carries to which the unit is
	// thinned whenever it is full, 0 = never: animals of all sizes but the
	// parents are moved out.
	ThinTo float64 `json:"thin_to"`
}

// Plan is a unit, what has been done to it and what is meant to be done.
type Plan struct {
	FloorM2 float64       `json:"floor_m2"`
	From    calendar.Date `json:"from"`  // day of the first step, the day of stocking or earlier
	Today   calendar.Date `json:"today"` // what lies before it has happened
	Weeks   int           `json:"weeks"` // from From to the end
	Batches []Batch       `json:"batches"`
	Taken   []Taken       `json:"taken"`
	Harvest Harvest       `json:"harvest"`
}

// Check says what cannot be.
func (p Plan) Check() error {
	var bad []domain.Field
	wrong := func(path, text string, args ...any) {
		bad = append(bad, domain.Field{Path: path, Code: "out-of-range", Text: fmt.Sprintf(text, args...)})
	}
	in := func(v, low, high float64) bool { return v >= low && v <= high }
	if !in(p.FloorM2, 0.01, mostM2) {
		wrong("floor_m2", "must lie from 0.01 to %g m2", float64(mostM2))
	}
	if p.Weeks < 1 || p.Weeks > mostWeeks {
		wrong("weeks", "must lie from 1 to %d", mostWeeks)
	}
	if p.Today.Sub(p.From) < 0 || p.Today.Sub(p.From) > 7*mostWeeks {
		wrong("today", "must not lie before the first day, nor more than %d weeks after it", mostWeeks)
	}
	if len(p.Batches) > mostBatches || len(p.Taken) > mostEvents {
		wrong("batches", "at most %d batches and %d takings", mostBatches, mostEvents)
	}
	for i, b := range p.Batches {
		if !in(b.Count, 0, mostAnimals) || !in(b.MeanG, 0.01, 1e5) {
			wrong(fmt.Sprintf("batches.%d", i), "needs 0 to %d animals of 0.01 to 100000 g", mostAnimals)
		}
	}
	for i, b := range p.Taken {
		if !in(b.Count, 0, mostAnimals) {
			wrong(fmt.Sprintf("taken.%d", i), "needs 0 to %d animals", mostAnimals)
		}
	}
	h := p.Harvest
	if !in(h.MarketG, 0.01, 1e5) || h.Every < 0 || h.Every > 3650 || !in(h.Parents, 0, mostAnimals) || !in(h.ThinTo, 0, 1) {
		wrong("harvest", "needs a market weight from 0.01 to 100000 g, a rhythm of 0 to 3650 days, and a share from 0 to 1")
	}
	if bad != nil {
		return domain.Invalid("stock-plan", "This plan cannot be projected.", bad...)
	}
	return nil
}

// timetable is a plan by weeks.
type timetable struct {
	weeks   int
	today   int // first step that has not happened
	season  []float64
	batches [][]int // numbers of the batches put in before the step
	taken   [][]Taken
	harvest []bool
	report  []int           // place in the reports after the step, -1 = none
	points  []calendar.Date // day of each report
	since   []int           // weeks that each report gathers
}

// timed lays a plan out by weeks. Reports are made for the last week of every
// month, and for the last of all.
func (p Plan) timed(season [12]float64) *timetable {
	var year float64
	for _, s := range season {
		year += s
	}
	t := &timetable{
		weeks: p.Weeks, today: min(max(p.Today.Sub(p.From)/7, 0), p.Weeks),
		season: make([]float64, p.Weeks), batches: make([][]int, p.Weeks), taken: make([][]Taken, p.Weeks),
		harvest: make([]bool, p.Weeks), report: make([]int, p.Weeks),
	}
	next, last := p.Harvest.From, t.today-1
	for w := range p.Weeks {
		begins, ends := p.From.Add(7*w), p.From.Add(7*w+7)
		t.season[w] = season[begins.Add(3).Month()-1] * 12 / year
		for p.Harvest.Every > 0 && w >= t.today && next.Sub(ends) < 0 {
			t.harvest[w] = t.harvest[w] || next.Sub(begins) >= 0
			next = next.Add(p.Harvest.Every)
		}
		t.report[w] = -1
		if w >= t.today && (begins.Month() != ends.Month() || w == p.Weeks-1) {
			t.report[w] = len(t.points)
			t.points = append(t.points, ends)
			t.since = append(t.since, w-last)
			last = w
		}
	}
	place := func(d calendar.Date) int { return min(max(d.Sub(p.From)/7, 0), p.Weeks-1) }
	for i, b := range p.Batches {
		if d := b.On.Sub(p.From); d < 7*p.Weeks {
			t.batches[place(b.On)] = append(t.batches[place(b.On)], i)
		}
	}
	for _, k := range p.Taken {
		if d := k.On.Sub(p.From); d < 7*p.Weeks {
			t.taken[place(k.On)] = append(t.taken[place(k.On)], k)
		}
	}
	return t
}
