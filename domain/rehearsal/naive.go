package rehearsal

import (
	"slices"

	"tendfold/domain/calendar"
)

// NaiveRule is the name under which the plain date check stands in tables.
const NaiveRule = "date-passed"

// naive is what anybody would do with a spreadsheet: a ticket for each
// milestone whose planned middle date has passed and of which nobody has told.
type naive struct {
	record  *record
	tickets []Ticket
}

func (n *naive) look(day int, on calendar.Date) {
	for _, w := range n.record.cycle.Baseline {
		step, ok := n.record.script.step[w.Key]
		if !ok || on <= w.Target || n.record.knows(step, on) {
			continue
		}
		if !slices.ContainsFunc(n.tickets, func(t Ticket) bool { return t.Subject == w.Key }) {
			n.tickets = append(n.tickets, Ticket{Rule: NaiveRule, Subject: w.Key, Life: []Happening{{day, Opened}}})
		}
	}
}
