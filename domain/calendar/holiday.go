package calendar

import (
	"slices"
	"sync"
	"time"

	"github.com/rickar/cal/v2"
)

// Name is what a day is called in both languages.
type Name struct {
	EN string `json:"en"`
	FR string `json:"fr"`
}

// Holiday is a day on which a branch does not work.
type Holiday struct {
	On   Date   `json:"on"`
	Key  string `json:"key"` // stable word within a country; "entered" for one that a person entered
	Name Name   `json:"name"`
	// Sighted says that the day hangs on the sighting of the moon: On is a
	// prediction, and the day announced may be one or two away. A person
	// moves it with two edits.
	Sighted bool `json:"sighted,omitempty"`
	// InLieu says that the day stands for a holiday that was lost to a
	// weekend or to another holiday.
	InLieu bool `json:"in_lieu,omitempty"`
}

// Table is the public holidays of one country, worked out for any year. The
// zero Table has none.
type Table struct {
	rules []rule
	lieu  func(h Holiday, r *rule, taken map[Date]int) bool
	// known keeps each year that was asked for: a country's year never
	// changes, and a sweep asks for the same one thousands of times.
	known *sync.Map
}

// rule makes one holiday.
type rule struct {
	key      string
	name     Name
	civil    bool
	sighted  bool
	from, to int // first and last year, 0 = open
	days     func(year int) []Date
}

// Year is the holidays that fall in the year, in order. Two may share a day.
func (t Table) Year(year int) []Holiday {
	if t.known == nil {
		return nil
	}
	if hs, ok := t.known.Load(year); ok {
		return slices.Clone(hs.([]Holiday))
	}
	hs := t.work(year)
	t.known.Store(year, hs)
	return slices.Clone(hs)
}

// made is a holiday on its own day with the rule that made it.
type made struct {
	Holiday
	by *rule
}

// work works a year out. The year before is looked at too: a day in lieu, or
// the second day of a feast, may fall after New Year.
func (t Table) work(year int) []Holiday {
	own := append(t.made(year-1), t.made(year)...)
	slices.SortStableFunc(own, func(a, b made) int { return byDate(a.Holiday, b.Holiday) })
	taken := map[Date]int{}
	var out []Holiday
	for _, m := range own {
		taken[m.On]++
		out = append(out, m.Holiday)
	}
	for _, m := range own {
		if h := m.Holiday; t.lieu != nil && t.lieu(h, m.by, taken) {
			h.On, h.InLieu = free(h.On, taken), true
			taken[h.On]++
			out = append(out, h)
		}
	}
	out = slices.DeleteFunc(out, func(h Holiday) bool { return h.On.Year() != year })
	slices.SortStableFunc(out, byDate)
	return out
}

func (t Table) made(year int) []made {
	var out []made
	for i := range t.rules {
		r := &t.rules[i]
		if year < r.from || (r.to != 0 && year > r.to) {
			continue
		}
		for _, d := range r.days(year) {
			out = append(out, made{Holiday{On: d, Key: r.key, Name: r.name, Sighted: r.sighted}, r})
		}
	}
	return out
}

func byDate(a, b Holiday) int { return int(a.On) - int(b.On) }

// free is the first day after d that is neither a weekend's nor a holiday.
func free(d Date, taken map[Date]int) Date {
	for d++; weekend(d) || taken[d] > 0; d++ {
	}
	return d
}

func weekend(d Date) bool { return d.Weekday() == time.Saturday || d.Weekday() == time.Sunday }

// fixed is a holiday on the same day of every year.
func fixed(key, en, fr string, m time.Month, day int) rule {
	return computed(key, en, fr, &cal.Holiday{Month: m, Day: day, Func: cal.CalcDayOfMonth})
}

// civil is fixed and no religious feast, which some laws treat differently.
func civil(key, en, fr string, m time.Month, day int) rule {
	r := fixed(key, en, fr, m, day)
	r.civil = true
	return r
}

// easter is a holiday so many days after Western Easter Sunday.
func easter(key, en, fr string, offset int) rule {
	return computed(key, en, fr, &cal.Holiday{Offset: offset, Func: cal.CalcEasterOffset})
}

// nth is a holiday on the nth such weekday of a month.
func nth(key, en, fr string, m time.Month, day time.Weekday, n int) rule {
	return computed(key, en, fr, &cal.Holiday{Month: m, Weekday: day, Offset: n, Func: cal.CalcWeekdayOffset})
}

func computed(key, en, fr string, h *cal.Holiday) rule {
	return rule{key: key, name: Name{en, fr}, days: func(year int) []Date {
		// The library answers midnight in the machine's own zone, which a
		// change of clocks may push to 23:00 of the day before; noon is safe.
		on, _ := h.Calc(year)
		return []Date{FromTime(on.Add(12 * time.Hour))}
	}}
}

// since and until bound the years in which the holiday is kept.
func (r rule) since(year int) rule {
	r.from = year
	return r
}

func (r rule) until(year int) rule {
	r.to = year
	return r
}
