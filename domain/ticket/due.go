package ticket

import (
	"errors"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
)

// Due is how soon a person must have spoken to the farm, and how soon there
// must be a plan.
type Due struct {
	FirstWord calendar.Term `json:"first_word"`
	Plan      calendar.Term `json:"plan"`
}

// DueTable is the terms of each urgency. A branch may change it, but
// danger to people and animals runs round the clock.
type DueTable map[Urgency]Due

// DefaultDue is what a branch has that has not changed it (our choice;
// published office targets run from 15 minutes to 5 days, Boston University
// and St Louis University, and know no animals).
func DefaultDue() DueTable {
	days := func(first, plan int) Due {
		return Due{calendar.Term{WorkingDays: first}, calendar.Term{WorkingDays: plan}}
	}
	return DueTable{
		PersonInDanger: {FirstWord: calendar.Term{Minutes: 15}},
		AnimalsAtRisk:  {FirstWord: calendar.Term{Minutes: 60}, Plan: calendar.Term{Minutes: 4 * 60}},
		LosingTime:     days(1, 3),
		Routine:        days(3, 10),
		NoHurry:        days(10, 20),
	}
}

// Check refuses a table that leaves an urgency out, and one that lets danger
// wait for office hours.
func (d DueTable) Check() error {
	var fields []domain.Field
	for _, u := range Urgencies() {
		path := "due." + string(u)
		due, ok := d[u]
		if !ok {
			fields = append(fields, domain.Field{Path: path, Code: "required", Text: "Give the times for this urgency."})
			continue
		}
		fields = append(fields, termFault(path+".first_word", u, due.FirstWord)...)
		fields = append(fields, termFault(path+".plan", u, due.Plan)...)
	}
	if fields != nil {
		return domain.Invalid("due-table", "These due times cannot be kept.", fields...)
	}
	return nil
}

func termFault(path string, u Urgency, term calendar.Term) []domain.Field {
	var e *domain.Error
	switch {
	case errors.As(term.Check(), &e):
		return []domain.Field{{Path: path, Code: e.Code, Text: e.Text}}
	case u.Above(LosingTime) && term.WorkingDays+term.WorkingMinutes > 0:
		return []domain.Field{{Path: path, Code: "round-the-clock", Text: "Danger to people or animals does not wait for office hours: give minutes."}}
	default:
		return nil
	}
}

// Terms are a branch's calendar and its due table: what turns an urgency and
// an instant into due times.
type Terms struct {
	Calendar calendar.Calendar
	Table    DueTable
}

// Due is the instants by which a ticket of that urgency that came up at t
// wants its first word and its plan, in UTC.
func (t Terms) Due(u Urgency, at time.Time) (firstWord, plan time.Time) {
	d := t.Table[u]
	return t.Calendar.By(at, d.FirstWord), t.Calendar.By(at, d.Plan)
}
