package sweep

import (
	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/ticket"
)

// Condition is what a rule says of one subject on one day.
type Condition struct {
	Unit       string // "" for the farm
	Cycle      string
	Subject    string
	Reasons    []domain.Reason
	Impact     ticket.Impact
	TimeToLoss ticket.TimeToLoss
	Grace      int
	Value      float64 // what may grow worse, in the rule's measure
}

// Clock is the memory of one finding from day to day: since when its
// condition has held, or since when it has been gone.
type Clock struct {
	Key
	TrueSince  calendar.Date
	FalseSince calendar.Date // zero while the condition holds
	Still      int           // days on which the recovery clock stood still
	LastOn     calendar.Date // last day worked out
	MutedBy    Key           // the cause that silences it, zero when none
	Reasons    []domain.Reason
}

// Held says whether the condition held on the day before on. It is asked
// again on the same day whenever the farm changes, so a clock that began
// today, or was told "gone" today, answers for yesterday.
func (c Clock) Held(on calendar.Date) bool {
	return c.TrueSince != 0 && c.TrueSince < on && (c.FalseSince == 0 || c.FalseSince >= on)
}

// Muted says whether a cause silences the finding.
func (c Clock) Muted() bool { return c.MutedBy != Key{} }

// Gone says for how many days the condition has been gone, standing days
// left out; 0 while it holds.
func (c Clock) Gone(on calendar.Date) int {
	if c.FalseSince == 0 {
		return 0
	}
	return on.Sub(c.FalseSince) - c.Still
}

// tick moves the clock to the day; holds is the rule's answer. The same day
// may be ticked again with other facts.
func (c Clock) tick(on calendar.Date, holds bool) Clock {
	switch {
	case holds && c.TrueSince == 0:
		c.TrueSince, c.FalseSince, c.Still = on, 0, 0
	case holds:
		c.FalseSince, c.Still = 0, 0
	case c.FalseSince == 0:
		c.FalseSince, c.Still = on, 0
	}
	return c
}

// stand keeps the recovery clock where it was: a muted finding does not
// recover.
func (c Clock) stand(on calendar.Date) Clock {
	if c.FalseSince != 0 && c.LastOn < on {
		c.Still++
	}
	return c
}
