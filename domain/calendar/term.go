package calendar

import (
	"fmt"
	"time"

	"tendfold/domain"
)

// Term is how much time is given for something, in one of three ways; the
// zero Term is "at once".
type Term struct {
	Minutes        int `json:"minutes,omitempty"`         // round the clock
	WorkingMinutes int `json:"working_minutes,omitempty"` // of the branch's working hours
	WorkingDays    int `json:"working_days,omitempty"`    // until work ends on the nth working day after the day it began
}

// maxTermDays keeps a slip of the keyboard from giving a ticket a year: 31 days
// in minutes, and as many working days.
const maxTermDays = 31

// Check refuses a term below zero, longer than a month, or given in two ways.
func (t Term) Check() error {
	ways := 0
	for _, n := range []int{t.Minutes, t.WorkingMinutes, t.WorkingDays} {
		if n != 0 {
			ways++
		}
	}
	switch {
	case ways > 1:
		return domain.Invalid("term-ways", "Give a time either in minutes, in working minutes or in working days.")
	case min(t.Minutes, t.WorkingMinutes, t.WorkingDays) < 0,
		max(t.Minutes, t.WorkingMinutes) > maxTermDays*minutesADay, t.WorkingDays > maxTermDays:
		return domain.Invalid("term-range", fmt.Sprintf("A time to answer lies between at once and %d days.", maxTermDays))
	}
	return nil
}

// By is the instant at which a term that began at t is over, in UTC.
func (c Calendar) By(t time.Time, term Term) time.Time {
	switch {
	case term.WorkingDays > 0:
		return c.Closes(c.AddWorkingDays(c.Day(t), term.WorkingDays)).UTC()
	case term.WorkingMinutes > 0:
		return c.AddWorking(t, time.Duration(term.WorkingMinutes)*time.Minute).UTC()
	default:
		return t.Add(time.Duration(term.Minutes) * time.Minute).UTC()
	}
}
