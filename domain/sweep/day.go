package sweep

import (
	"slices"
	"strings"

	"tendfold/domain/calendar"
	"tendfold/domain/programme"
	"tendfold/domain/ticket"
)

// Finding is a condition with its clock on a day.
type Finding struct {
	Clock
	Condition
	Urgency   ticket.Urgency
	Confirmed bool // the condition has held for the rule's grace
}

// Day is what the sweep finds on one farm on one day.
type Day struct {
	On        calendar.Date
	Findings  []Finding // conditions that hold, in order of rule, unit, cycle, subject
	Clocks    []Clock   // memory for the next day, same order
	Cleared   []Key     // gone for the rule's recovery today
	Cycles    []CycleDay
	Standing  programme.Standing // of the farm, as if it were watched
	OwnSlip   int                // the worst of its cycles'
	QuietDays int                // since LastHeard; 0 when that lies ahead
	VisitDays int                // the visit interval of the farm's stages
}

// CycleDay is a cycle's standing and forecast.
type CycleDay struct {
	UnitID   string
	CycleID  string
	Verdict  programme.Verdict
	Forecast programme.Forecast
	Next     string // the milestone whose stage it is in
}

// Memory is what a sweep remembers of a farm: the clocks, and which keys have
// an open ticket or one at rest.
type Memory struct {
	Clocks []Clock
	Open   map[Key]bool          // a ticket is open
	Rests  map[Key]calendar.Date // last day on which a settled ticket rests
}

// Look works out one farm on one day: its standing, what holds, and how the
// clocks of its findings stand. It reads nothing but its arguments and may be
// asked again for the same day.
func Look(f *Facts, mem Memory, on calendar.Date, o programme.Options) Day {
	clocks := byKey(mem.Clocks)
	v := look(f, on, o)
	v.held = func(rule, unit, cycle, subject string) bool {
		c, ok := clocks[Key{FarmID: f.FarmID, UnitID: unit, CycleID: cycle, Rule: rule, Subject: subject}]
		return ok && c.Held(on)
	}
	held := v.conditions()
	day := v.day()
	for key := range mem.Open {
		// A ticket whose finding was never remembered (another rule book, a
		// farm that is no longer swept) still has to recover.
		if _, ok := clocks[key]; !ok && key.Rule != "" && OpensTickets(key.Rule) {
			clocks[key] = Clock{Key: key, TrueSince: on.Add(-1)}
		}
	}
	for key := range held {
		if _, ok := clocks[key]; !ok {
			clocks[key] = Clock{Key: key}
		}
	}
	for _, key := range sortedKeys(clocks) {
		cond, holds := held[key]
		day.add(v, clocks[key].tick(on, holds), cond, holds)
	}
	day.mute(v, mem)
	day.settle(v, mem)
	return day
}

// window is how many days are worked out again at most when none were for
// long: longer than any rule's grace and recovery together.
const window = 35

// Advance works out every day from the one after last up to on, so that
// grace and recovery count civil days even when the server slept: a first
// sweep opens what has long been wrong, and nothing opens or clears late.
// last is zero when the farm was never swept. The forecast of the days in
// between needs no account of losses, so only the last day obeys o.
func Advance(f *Facts, mem Memory, last, on calendar.Date, o programme.Options) Day {
	from := max(last.Add(1), on.Add(-window))
	if last == 0 {
		from = on.Add(-firstLook)
	}
	var cleared []Key
	for d := from; d < on; d++ {
		day := Look(f, mem, d, programme.Options{})
		mem.Clocks = day.Clocks
		cleared = append(cleared, day.Cleared...)
	}
	day := Look(f, mem, on, o)
	for _, key := range cleared {
		if day.finding(key) == nil && !slices.Contains(day.Cleared, key) {
			day.Cleared = append(day.Cleared, key)
		}
	}
	return day
}

// firstLook is how many days before a first sweep are worked out: longer than
// any rule's grace.
const firstLook = 7

func byKey(clocks []Clock) map[Key]Clock {
	m := make(map[Key]Clock, len(clocks)+8)
	for _, c := range clocks {
		m[c.Key] = c
	}
	return m
}

func sortedKeys(clocks map[Key]Clock) []Key {
	keys := make([]Key, 0, len(clocks))
	for k := range clocks {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, compareKeys)
	return keys
}

func compareKeys(a, b Key) int {
	for _, d := range [...]int{
		strings.Compare(a.Rule, b.Rule), strings.Compare(a.UnitID, b.UnitID),
		strings.Compare(a.CycleID, b.CycleID), strings.Compare(a.Subject, b.Subject),
	} {
		if d != 0 {
			return d
		}
	}
	return 0
}

// conditions are what the rules say today, by key.
func (v *view) conditions() map[Key]Condition {
	held := map[Key]Condition{}
	for _, r := range rules {
		var found []Condition
		if r.farm != nil {
			found = r.farm(v)
		} else {
			for i := range v.cycles {
				if !v.cycles[i].over() {
					found = append(found, r.cycle(v, &v.cycles[i])...)
				}
			}
		}
		for _, c := range found {
			held[Key{FarmID: v.FarmID, UnitID: c.Unit, CycleID: c.Cycle, Rule: r.name, Subject: c.Subject}] = c
		}
	}
	return held
}

// day is the farm's standing, before the findings are put in.
func (v *view) day() Day {
	d := Day{On: v.on}
	d.VisitDays, _ = v.visitEvery()
	if v.heard != 0 {
		d.QuietDays = v.on.Sub(v.heard)
	}
	standings := make([]programme.Standing, 0, len(v.cycles))
	for i := range v.cycles {
		c := &v.cycles[i]
		standings = append(standings, c.verdict.Standing)
		if i == 0 || c.forecast.Slip.Own > d.OwnSlip {
			d.OwnSlip = c.forecast.Slip.Own
		}
		d.Cycles = append(d.Cycles, CycleDay{
			UnitID: c.unit.ID, CycleID: c.ID, Verdict: c.verdict, Forecast: c.forecast, Next: c.stage.Key,
		})
	}
	d.Standing = programme.WorstOf(standings)
	return d
}

func (d *Day) add(v view, c Clock, cond Condition, holds bool) {
	if holds {
		c.Reasons = cond.Reasons
		f := Finding{Clock: c, Condition: cond, Urgency: ticket.UrgencyOf(cond.Impact, cond.TimeToLoss)}
		f.Confirmed = d.On.Sub(c.TrueSince) >= cond.Grace
		d.Findings = append(d.Findings, f)
	}
	d.Clocks = append(d.Clocks, c)
}

// mute silences findings whose cause holds. The cause is a confirmed finding
// that is itself neither muted nor at rest, on the same cycle or on the whole
// farm. Danger to people or animals is never silenced.
func (d *Day) mute(v view, mem Memory) {
	causes := d.causes(v, mem)
	for i := range d.Clocks {
		c := &d.Clocks[i]
		cause, muted := causes.of(c.Key)
		f := d.finding(c.Key)
		if f != nil && (f.Urgency == ticket.PersonInDanger || f.Urgency == ticket.AnimalsAtRisk) {
			muted = false
		}
		c.MutedBy = Key{}
		if muted {
			c.MutedBy = cause
			*c = c.stand(d.On)
		}
		if f != nil {
			f.MutedBy = c.MutedBy
		}
		c.LastOn = d.On
	}
}

func (d *Day) finding(k Key) *Finding {
	for i := range d.Findings {
		if d.Findings[i].Clock.Key == k {
			return &d.Findings[i]
		}
	}
	return nil
}

// causes are the confirmed findings that mute others, each with the names of
// the rules it mutes.
type causes []struct {
	key   Key
	mutes []string
}

func (d *Day) causes(v view, mem Memory) causes {
	var out causes
	for _, f := range d.Findings {
		mutes := v.figures(f.Clock.Key).Mutes
		if f.Confirmed && len(mutes) > 0 && mem.Rests[f.Clock.Key] < d.On {
			out = append(out, struct {
				key   Key
				mutes []string
			}{f.Clock.Key, mutes})
		}
	}
	return out
}

// of is the cause that mutes a key: another key's, on the whole farm or on the
// same cycle. A cause that is muted itself passes its silence on unchanged.
func (cs causes) of(k Key) (Key, bool) {
	for _, c := range cs {
		if c.key != k && c.key.Rule != k.Rule && (c.key.CycleID == "" || c.key.CycleID == k.CycleID) && slices.Contains(c.mutes, k.Rule) {
			return c.key, true
		}
	}
	return Key{}, false
}

// settle drops the clocks that are over: at once when no ticket was opened,
// after the rule's recovery when one was.
func (d *Day) settle(v view, mem Memory) {
	keep := d.Clocks[:0]
	for _, c := range d.Clocks {
		over := c.FalseSince != 0 && (!mem.Open[c.Key] || (!c.Muted() && c.Gone(d.On) >= v.figures(c.Key).Recovery))
		switch {
		case !over:
			keep = append(keep, c)
		case mem.Open[c.Key]:
			d.Cleared = append(d.Cleared, c.Key)
		}
	}
	d.Clocks = keep
}

// figures are the figures of a key's rule: of its cycle's plan, else of the
// first plan on the farm.
func (f *Facts) figures(k Key) RuleFigures {
	var first *Plan
	for i := range f.Units {
		u := &f.Units[i]
		if u.Plan == nil {
			continue
		}
		if u.ID == k.UnitID {
			return u.Plan.Rules[k.Rule]
		}
		if first == nil {
			first = u.Plan
		}
	}
	if first == nil {
		return RuleFigures{}
	}
	return first.Rules[k.Rule]
}
