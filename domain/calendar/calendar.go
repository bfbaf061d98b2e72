package calendar

import (
	"slices"
	"time"

	"tendfold/domain"
)

// Edit is what a person of a branch says about one day: a holiday that no
// table knows, or, with Works, a computed holiday on which this branch works.
// A sighted day that was announced for another date takes one of each.
type Edit struct {
	On    Date   `json:"on"`
	Name  string `json:"name"`
	Works bool   `json:"works"`
}

// Calendar says when a branch works. It is a value that never changes.
type Calendar struct {
	zone  *time.Location
	week  Week
	table Table
	edits map[Date]Edit
}

// New is the calendar of a branch in its time zone. Hours are read on the
// wall clock of the zone; a branch is taken not to open or close within the
// hour in which clocks change.
func New(zone *time.Location, week Week, table Table, edits []Edit) (Calendar, error) {
	if zone == nil {
		return Calendar{}, domain.Invalid("branch-zone", "Give the branch a time zone, such as Africa/Douala.")
	}
	if err := week.Check(); err != nil {
		return Calendar{}, err
	}
	c := Calendar{zone: zone, week: week, table: table, edits: make(map[Date]Edit, len(edits))}
	for _, e := range edits {
		c.edits[e.On] = e
	}
	return c, nil
}

// Zone is the branch's time zone.
func (c Calendar) Zone() *time.Location { return c.zone }

// Day is the civil date of an instant where the branch is.
func (c Calendar) Day(t time.Time) Date { return FromTime(t.In(c.zone)) }

// Holidays are the days of the year on which the branch does not work, in
// order: the country's, less those that it works, and those that it entered. A
// day entered where the table has one takes its place: so a person confirms a
// sighted day.
func (c Calendar) Holidays(year int) []Holiday {
	out := slices.DeleteFunc(c.table.Year(year), func(h Holiday) bool {
		_, edited := c.edits[h.On]
		return edited
	})
	for _, e := range c.edits {
		if !e.Works && e.On.Year() == year {
			out = append(out, Holiday{On: e.On, Key: "entered", Name: Name{e.Name, e.Name}})
		}
	}
	slices.SortStableFunc(out, byDate)
	return out
}
