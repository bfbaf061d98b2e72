// Package training owns how long a passed module is valid, what a person
// lacks on a day, and how far a group of people is trained.
package training

import (
	"time"

	"tendfold/domain/calendar"
)

// Months for which a pass is valid where a pack does not say. A year is our
// choice. Half a year for safety rests on the decay of first-aid skill within
// 6 to 12 months, and on refreshers at 3 to 6 months (Al Jadidi and Al Jufaili
// 2023; Global First Aid Reference Centre).
const (
	DefaultMonths = 12
	SafetyMonths  = 6
)

// Months is the validity of a module: the pack's own figure, or the default
// where that is 0.
func Months(pack int, safety bool) int {
	switch {
	case pack > 0:
		return pack
	case safety:
		return SafetyMonths
	default:
		return DefaultMonths
	}
}

// How a module was passed.
type How string

// The ways to pass.
const (
	InPerson  How = "in-person" // shown to a member of staff, who saw it done
	OnPhone   How = "phone"     // lesson and questions on the person's own phone
	ByWord    How = "questions" // questions asked aloud by staff
	FromSheet How = "register"  // as the firm's spreadsheet has it
)

// Pass is one module passed by one person. ValidUntil is the last day on
// which it counts.
type Pass struct {
	Module     string        `json:"module"`
	PassedOn   calendar.Date `json:"passed_on"`
	ValidUntil calendar.Date `json:"valid_until"`
	How        How           `json:"how"`
	By         string        `json:"by"` // the member of staff, "" when nobody stood by
}

// NewPass is a pass that is valid for so many months.
func NewPass(module string, on calendar.Date, months int, how How, by string) Pass {
	return Pass{Module: module, PassedOn: on, ValidUntil: ValidUntil(on, months), How: how, By: by}
}

// ValidUntil is the day of the same number so many months later, or the last
// day of that month where it has no such day: 31 August and six months is the
// last of February.
func ValidUntil(on calendar.Date, months int) calendar.Date {
	first := calendar.NewDate(on.Year(), on.Month()+time.Month(months), 1)
	last := calendar.NewDate(first.Year(), first.Month()+1, 0)
	return min(first.Add(on.Day()-1), last)
}
