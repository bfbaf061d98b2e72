package rehearsal

import (
	"fmt"
	"time"

	"tendfold/domain/calendar"
	"tendfold/domain/rehearsal/truth"
	"tendfold/domain/sweep"
	"tendfold/domain/ticket"
)

// Happening is one line of a ticket's life that counts for the score.
type Happening struct {
	Day   int // days after the farm's start
	Doing Doing
}

// Doing is what happened to a ticket.
type Doing string

// The doings.
const (
	Opened   Doing = "opened"
	Reopened Doing = "reopened"
	Worsened Doing = "worse"
	Cleared  Doing = "cleared" // by the sweep
	Settled  Doing = "settled" // by a person
)

// Ticket is a ticket of the rehearsal and its life.
type Ticket struct {
	Rule    string
	Subject string
	Life    []Happening // the first is its opening
	Late    int         // days by which the farm was really late when it was opened
	True    bool        // explained by a fault of any kind, or by real lateness
	Planned bool        // the same, by faults of the schedule only
}

// Day is the day on which it was opened.
func (t Ticket) Day() int { return t.Life[0].Day }

// desk keeps a farm's tickets and lets staff work on them.
type desk struct {
	farm    *truth.Farm
	course  *truth.Course
	terms   ticket.Terms
	figures map[string]sweep.RuleFigures
	tickets []ticket.Ticket
	logs    []Ticket
	todo    []task // beside tickets
	raised  int    // tickets opened or reopened so far
	visits  int
}

// task is what staff will do about a ticket.
type task struct {
	since int // day on which it was opened or reopened
	truth.Handling
}

// visitNumber sets visits that tickets bring apart from those of the calendar.
const visitNumber = 10_000

func (d *desk) act(day int, person string) ticket.Act {
	on := d.farm.Start.Add(day)
	return ticket.Act{PersonID: person, On: on, At: on.In(time.UTC).Add(9 * time.Hour)}
}

// carryOut does to the tickets what the sweep decided.
func (d *desk) carryOut(day int, changes []sweep.Change) error {
	for _, c := range changes {
		if err := d.change(day, c); err != nil {
			return fmt.Errorf("%s %s on %s: %w", c.Doing, c.Key.Rule, d.farm.Start.Add(day), err)
		}
	}
	return nil
}

func (d *desk) change(day int, c sweep.Change) error {
	if c.Doing == sweep.Opens {
		return d.open(day, c)
	}
	i := d.find(c.TicketID)
	t, reasons := &d.tickets[i], c.Finding.Clock.Reasons
	var err error
	switch c.Doing {
	case sweep.Reopens:
		*t, _, err = t.SweepReopen(d.act(day, ""), reasons, c.Finding.Value, d.terms)
		d.raise(i, day, Reopened)
	case sweep.Updates:
		*t = t.Renew(reasons)
	case sweep.Worsens:
		*t, _, err = t.Worsen(reasons, c.Finding.Value)
		d.note(i, day, Worsened)
	case sweep.Clears:
		*t, _, err = t.Clear(d.act(day, ""))
		d.note(i, day, Cleared)
	case sweep.Goes:
		*t, _, err = t.Lift(d.act(day, ""))
	case sweep.Returns:
		*t, _, err = t.Return(reasons)
	case sweep.Opens:
	}
	return err
}

func (d *desk) find(id string) int {
	for i := range d.tickets {
		if d.tickets[i].ID == id {
			return i
		}
	}
	panic("rehearsal: the sweep changed a ticket that was never opened: " + id)
}

func (d *desk) open(day int, c sweep.Change) error {
	act := d.act(day, "")
	t, _, err := ticket.Open(ticket.Opening{
		ID: fmt.Sprintf("t%d", len(d.tickets)+1), Seq: len(d.tickets) + 1, Year: act.On.Year(), Key: c.Key, Origin: ticket.FromSweep,
		Impact: c.Finding.Impact, TimeToLoss: c.Finding.TimeToLoss, Reasons: c.Finding.Clock.Reasons,
		Value: c.Finding.Value, PreviousID: c.Previous,
	}, act, d.terms)
	if err != nil {
		return err
	}
	d.tickets = append(d.tickets, t)
	d.logs = append(d.logs, Ticket{Rule: c.Key.Rule, Subject: c.Key.Subject})
	d.todo = append(d.todo, task{})
	d.raise(len(d.tickets)-1, day, Opened)
	return nil
}

// raise puts a ticket before staff.
func (d *desk) raise(i, day int, doing Doing) {
	d.note(i, day, doing)
	d.todo[i] = task{since: day, Handling: d.farm.Handle(d.raised)}
	d.raised++
}

func (d *desk) note(i, day int, doing Doing) {
	d.logs[i].Life = append(d.logs[i].Life, Happening{day, doing})
}

// work is a day of the staff: they take tickets in hand, call, visit and
// settle. What they bring home is new evidence.
func (d *desk) work(day int) ([]truth.Entry, error) {
	var out []truth.Entry
	for i := range d.tickets {
		if !d.tickets[i].Open() {
			continue
		}
		found, err := d.handle(i, day)
		if err != nil {
			return nil, err
		}
		out = append(out, found...)
	}
	return out, nil
}

func (d *desk) handle(i, day int) (found []truth.Entry, err error) {
	t, x, since := &d.tickets[i], d.todo[i], day-d.todo[i].since
	if since == x.Take {
		*t, _, err = t.TakeInHand(d.act(day, "staff"))
	}
	if err == nil && since == x.Act {
		found = d.goThere(x.Visit, day)
	}
	gone := t.GoneOn != 0 && t.GoneOn < d.farm.Start.Add(day)
	if err == nil && (since == x.Settle || gone) {
		*t, _, err = t.Settle(d.act(day, "staff"), ticket.Settlement{Outcome: "dealt with", RestDays: d.figures[t.Rule].Rest})
		d.note(i, day, Settled)
	}
	return found, err
}

// goThere is a visit or a call.
func (d *desk) goThere(visit bool, day int) []truth.Entry {
	if !visit {
		return d.course.CallOn(day)
	}
	d.visits++
	return d.course.VisitOn(day, visitNumber+d.visits)
}

// memory is what the sweep must remember of the tickets.
func (d *desk) memory(clocks []sweep.Clock) sweep.Memory {
	m := sweep.Memory{Clocks: clocks, Open: map[sweep.Key]bool{}, Rests: map[sweep.Key]calendar.Date{}}
	for i := range d.tickets {
		switch t := &d.tickets[i]; {
		case t.Open():
			m.Open[t.Key] = true
		case t.RestsUntil != 0:
			m.Rests[t.Key] = t.RestsUntil
		}
	}
	return m
}
