package calendar

import (
	"fmt"

	"tendfold/domain"
)

// Span is a part of a day in minutes after midnight on the wall clock, From
// inclusive, To not. The zero Span is a day off.
type Span struct {
	From int `json:"from"`
	To   int `json:"to"`
}

// minutesADay is the latest To: midnight at the end of the day.
const minutesADay = 24 * 60

// Week is the working hours of a branch, Sunday first.
type Week [7]Span

// OfficeWeek is what a branch has that has not said its hours: Monday to
// Friday, 8 to 17 (our choice).
func OfficeWeek() Week {
	day := Span{From: 8 * 60, To: 17 * 60}
	return Week{{}, day, day, day, day, day, {}}
}

// Check refuses hours that end before they begin or leave the day, and a week
// without a working day: nothing would ever fall due in it.
func (w Week) Check() error {
	var fields []domain.Field
	works := false
	for day, s := range w {
		if s == (Span{}) {
			continue
		}
		works = true
		if s.From < 0 || s.From >= s.To || s.To > minutesADay {
			fields = append(fields, domain.Field{
				Path: fmt.Sprintf("hours.%d", day), Code: "hours-order",
				Text: fmt.Sprintf("Hours run from one minute of the day to a later one, 0 to %d; these run from %d to %d.", minutesADay, s.From, s.To),
			})
		}
	}
	if !works {
		fields = append(fields, domain.Field{Path: "hours", Code: "hours-none", Text: "Give at least one day of the week working hours."})
	}
	if fields != nil {
		return domain.Invalid("branch-hours", "These working hours cannot be kept.", fields...)
	}
	return nil
}
