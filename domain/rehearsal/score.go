package rehearsal

import (
	"slices"

	"tendfold/domain/rehearsal/truth"
	"tendfold/domain/sweep"
)

// Tally is how one kind of fault, or several together, fared.
type Tally struct {
	Share           // caught out of counted
	Days  []float64 // from the detectable day to the catch, of those caught in the end, early ones below 0
	Never int       // not caught at all
	Half  int       // caught before half the loss
}

// Median is the middle of the days, endless ones included; false when it is
// endless.
func (t Tally) Median() (float64, bool) { return middle(t.Days, t.Never) }

func (t *Tally) add(f Seen, day int, caught bool) {
	t.All++
	switch {
	case !caught:
		t.Never++
	default:
		t.Days = append(t.Days, float64(day-f.Detectable))
		if f.inTime(day) {
			t.Of++
		}
		if f.byHalf(day) {
			t.Half++
		}
	}
}

// Score is what a rehearsal comes to. Inference rules only, unless said
// otherwise.
type Score struct {
	Injected     int
	Undetectable map[truth.Kind]int // of those that cost enough to count
	Costly       map[truth.Kind]int // major ones, seen in time or not
	Major, Minor Tally
	ByKind       map[truth.Kind]*Tally // of the major ones
	Inference    Tally                 // major ones that inference rules must catch

	Precision Share
	ByRule    map[string]Share // true out of opened, record rules too
	// On farms without faults: days watched, tickets opened, and those that
	// real lateness does not explain, by rule.
	CleanDays    int
	Clean        map[string]int
	Unexplained  map[string]int
	Load         []int // tickets raised, by desk and day, record rules too
	Flaps        Share // of all rules
	Naive, Plain Naive // the date check, and the rules on the same faults
	Stocking     []Promise
	HalfWay      []Promise
}

// Naive compares on schedule faults.
type Naive struct{ Recall, Precision Share }

// scheduleRules are those that are compared with the date check.
var scheduleRules = []string{sweep.MilestoneBehind, sweep.HarvestSlip, sweep.CoverShort, sweep.SeasonRisk}

// Score grades the rehearsal.
func (r *Rehearsal) Score() *Score {
	s := newScore()
	for i := range r.Runs {
		s.add(r.scripts[r.Runs[i].Way], &r.Runs[i])
	}
	s.Load = load(r.Runs)
	return s
}

func newScore() *Score {
	return &Score{
		Undetectable: map[truth.Kind]int{}, Costly: map[truth.Kind]int{}, ByKind: map[truth.Kind]*Tally{},
		ByRule: map[string]Share{}, Clean: map[string]int{}, Unexplained: map[string]int{},
	}
}

func (s *Score) add(script *script, run *FarmRun) {
	s.faults(script, run)
	s.tickets(run)
	s.dates(run)
}

// faults grades what was caught.
func (s *Score) faults(script *script, run *FarmRun) {
	for _, f := range run.Faults {
		s.Injected++
		if f.Major() {
			s.Costly[f.Kind]++
		}
		switch {
		case !f.Major() && !f.Minor():
		case !f.Counted:
			s.Undetectable[f.Kind]++
		case f.Major():
			s.major(script, run, f)
		default:
			day, ok := catch(script, f, run.Tickets, answers[f.Kind])
			s.Minor.add(f, day, ok)
		}
	}
}

func (s *Score) major(script *script, run *FarmRun, f Seen) {
	day, ok := catch(script, f, run.Tickets, answers[f.Kind])
	s.Major.add(f, day, ok)
	if s.ByKind[f.Kind] == nil {
		s.ByKind[f.Kind] = &Tally{}
	}
	s.ByKind[f.Kind].add(f, day, ok)
	if f.Kind != truth.GoAheadSkipped {
		s.Inference.add(f, day, ok)
	}
	if f.Kind.Schedule() {
		s.Plain.Recall.count(ok && f.inTime(day))
		day, ok = catch(script, f, run.Naive, []string{NaiveRule})
		s.Naive.Recall.count(ok && f.inTime(day))
	}
}

func (s *Share) count(yes bool) {
	s.All++
	if yes {
		s.Of++
	}
}

// tickets grades what was opened.
func (s *Score) tickets(run *FarmRun) {
	if run.Faultless {
		s.CleanDays += run.Days + 1
	}
	for _, t := range run.Tickets {
		rule := s.ByRule[t.Rule]
		rule.count(t.True)
		s.ByRule[t.Rule] = rule
		s.flaps(t)
		if !sweep.Inference(t.Rule) {
			continue
		}
		s.Precision.count(t.True)
		if slices.Contains(scheduleRules, t.Rule) {
			s.Plain.Precision.count(t.Planned)
		}
		if run.Faultless {
			s.Clean[t.Rule]++
			if !t.True {
				s.Unexplained[t.Rule]++
			}
		}
	}
	for _, t := range run.Naive {
		s.Naive.Precision.count(t.Planned)
	}
}

// again is within how many days a cleared ticket must not be back.
const again = 14

// flaps counts the tickets that were cleared, and those of them that were
// reopened soon after.
func (s *Score) flaps(t Ticket) {
	for i, h := range t.Life {
		if h.Doing != Cleared {
			continue
		}
		s.Flaps.count(i+1 < len(t.Life) && t.Life[i+1].Doing == Reopened && t.Life[i+1].Day-h.Day <= again)
	}
}

// dates gathers the promises of farms without faults.
func (s *Score) dates(run *FarmRun) {
	if !run.Faultless {
		return
	}
	if run.Stocking.Made {
		s.Stocking = append(s.Stocking, run.Stocking)
	}
	if run.HalfWay.Made {
		s.HalfWay = append(s.HalfWay, run.HalfWay)
	}
}

// perYear is a count on farms without faults, all rules together, as one of a
// farm's year.
func (s *Score) perYear(counts map[string]int) float64 {
	sum := 0
	for _, n := range counts {
		sum += n
	}
	return s.yearly(sum)
}

func (s *Score) yearly(n int) float64 {
	if s.CleanDays == 0 {
		return 0
	}
	return float64(n) * 365.25 / float64(s.CleanDays)
}
