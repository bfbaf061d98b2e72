package training

import (
	"cmp"
	"slices"

	"tendfold/domain/calendar"
)

// Attempt is one round of questions by one person on one module. Ids sort by
// the time of their making.
type Attempt struct {
	ID     string
	On     calendar.Date
	Passed bool
	// AtOnce says that stocking waited for the module: a retake the same day
	// counts.
	AtOnce bool
}

// Check is one practical check: a member of staff saw the tasks done, or saw
// that they are not done yet.
type Check struct {
	ID     string
	On     calendar.Date
	Passed bool
	How    How
	By     string
}

// Earned is a pass with the check that completed or carried it.
type Earned struct {
	Pass
	CheckID string
}

// Progress is where somebody stands with a module between passes.
type Progress struct {
	AnsweredOn calendar.Date // questions passed, the practical check is still to come
	CheckedOn  calendar.Date // practical check passed, the questions are still to come
	FailedOn   calendar.Date // the last round of questions since then that did not pass
	RedoOn     calendar.Date // the last practical check since then that did not pass
}

// PartsApart is for how many days one part of a pass waits for the other.
// Refreshing starts at three months (see Months), so older parts prove
// nothing. Our choice.
const PartsApart = 90

// RefreshWithin is how many days a standing pass is still good for after a
// check that failed. Our choice.
const RefreshWithin = 30

// Follow works out the passes that attempts and checks earn, and what is
// still open on a day. Each part counts for one pass. It reads whole days, so
// that neither the order of arrival nor that within a day matters, apart from
// which of two attempts or of two checks came last. A failed check ends a
// standing pass after RefreshWithin days and halves the validity of the next.
func Follow(module string, months int, attempts []Attempt, checks []Check, on calendar.Date) ([]Earned, Progress) {
	c := course{module: module, months: months}
	attempts, checks = inOrder(attempts, func(a Attempt) (calendar.Date, string) { return a.On, a.ID }), inOrder(checks, func(k Check) (calendar.Date, string) { return k.On, k.ID })
	for len(attempts)+len(checks) > 0 {
		day := firstDay(attempts, checks)
		if day > on {
			break
		}
		for ; len(attempts) > 0 && attempts[0].On == day; attempts = attempts[1:] {
			c.attempt(attempts[0])
		}
		for ; len(checks) > 0 && checks[0].On == day; checks = checks[1:] {
			c.check(checks[0])
		}
		c.complete(day)
	}
	c.expire(on)
	return c.earned, c.Progress
}

func inOrder[T any](all []T, key func(T) (calendar.Date, string)) []T {
	return slices.SortedFunc(slices.Values(all), func(a, b T) int {
		aDay, aID := key(a)
		bDay, bID := key(b)
		return cmp.Or(cmp.Compare(aDay, bDay), cmp.Compare(aID, bID))
	})
}

func firstDay(attempts []Attempt, checks []Check) calendar.Date {
	switch {
	case len(attempts) == 0:
		return checks[0].On
	case len(checks) == 0:
		return attempts[0].On
	}
	return min(attempts[0].On, checks[0].On)
}

// course is the state of following one person through one module.
type course struct {
	Progress
	module string
	months int
	seen   Check // the check that CheckedOn speaks of
	halved bool  // a check failed since the last pass
	earned []Earned
}

// attempt counts unless it repeats a failed one on the same day.
func (c *course) attempt(a Attempt) {
	switch early := c.FailedOn == a.On && !a.AtOnce; {
	case early:
	case a.Passed:
		c.AnsweredOn, c.FailedOn = a.On, 0
	default:
		c.FailedOn = a.On
	}
}

func (c *course) check(k Check) {
	if k.Passed {
		c.CheckedOn, c.RedoOn, c.seen = k.On, 0, k
		return
	}
	c.CheckedOn, c.RedoOn, c.halved = 0, k.On, true
	for i := range c.earned {
		c.earned[i].ValidUntil = min(c.earned[i].ValidUntil, k.On.Add(RefreshWithin))
	}
}

// complete makes a pass when both parts are there.
func (c *course) complete(day calendar.Date) {
	c.expire(day)
	if c.AnsweredOn == 0 || c.CheckedOn == 0 {
		return
	}
	months := c.months
	if c.halved {
		months = max(1, months/2)
	}
	c.earned = append(c.earned, Earned{NewPass(c.module, day, months, c.seen.How, c.seen.By), c.seen.ID})
	c.Progress, c.halved = Progress{}, false
}

// expire forgets a part that has waited too long for the other.
func (c *course) expire(day calendar.Date) {
	if day.Sub(c.AnsweredOn) > PartsApart {
		c.AnsweredOn = 0
	}
	if day.Sub(c.CheckedOn) > PartsApart {
		c.CheckedOn = 0
	}
}

// RetakeOn is the first day on which the questions may be answered again: the
// day after a failed round, or at once where stocking waits. Zero is at once.
func (p Progress) RetakeOn(stockingWaits bool) calendar.Date {
	if p.FailedOn == 0 || stockingWaits {
		return 0
	}
	return p.FailedOn.Add(1)
}
