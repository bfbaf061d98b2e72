package truth

import (
	"math"
	"slices"
)

// sure is the probability at which the reader calls a fault seen.
const sure = 0.8

// Quiet is for how many days a farm may be unheard before and after stocking;
// silence is measured by the limit that the firm has set itself.
type Quiet struct{ Before, After int }

// Laws are the truth's laws and errors, worked out once for all readers of a
// world. A reader knows them and what the server holds, but neither the
// farm's luck nor its twin: what he cannot know, no rule can be asked for.
type Laws struct {
	caretaker []int // lags of told steps in days; forgotten = farAway
	staff     []int
}

const farAway = 100_000

// NewLaws samples the law of reporting: keepers, forgetting and phones pooled.
func NewLaws() *Laws {
	const n = 512
	l := &Laws{caretaker: make([]int, n), staff: make([]int, n)}
	s := NewStream(20, 0).Sub("laws")
	for i := range n {
		k := newKeeper(s.Sub("keeper").At(i))
		if lag, told := tells(s.Sub("tells").At(i), false); told {
			l.caretaker[i] = k.sends(100+lag) - 100
		} else {
			l.caretaker[i] = farAway
		}
		if lag, told := tells(s.Sub("staff").At(i), true); told {
			l.staff[i] = lag
		} else {
			l.staff[i] = farAway
		}
	}
	return l
}

// reader holds what the server has received of one farm.
type reader struct {
	Face
	laws   *Laws
	rates  rates  // of animals
	leaves rates  // of plants
	luck   Stream // the reader's own dice, the same for every day
	done   []int  // stated day of each step, -1 unknown
	undone []int  // last day on which the step was seen not done
	by     []int  // the step must have been done by then
	looks  []look
	weighs []sample
	fromG  float64
	news   []int  // stated days with evidence of any kind
	flock  []rear // imagined growths, weighed by the samples known so far; nil when something new came
}

type look struct {
	day   int
	value float64
	staff bool
}

type sample struct {
	day   int
	value float64
	n     int
}

func newReader(f *Farm, l *Laws) *reader {
	n := len(f.Plan.Steps)
	return &reader{
		Face: f.Face, laws: l, rates: f.rates, leaves: f.leaves, luck: NewStream(f.Seed, f.Index).Sub("reader"),
		done: slices.Repeat([]int{-1}, n), undone: slices.Repeat([]int{-1}, n), by: slices.Repeat([]int{farAway}, n),
		fromG: f.Plan.Herd.FromG,
	}
}

// Detectable is the first day from a fault's start on which a reader holds it
// for at least four in five likely, and false when that never comes, comes
// less than two days before the loss is complete, or not within so many days.
// heard is what the server received, in the order of its arrival.
func (f *Farm) Detectable(k Case, heard []Entry, q Quiet, l *Laws, days int) (int, bool) {
	r := newReader(f, l)
	next := 0
	for day := 0; day <= min(k.Complete-2, days); day++ {
		for ; next < len(heard) && heard[next].Received <= f.Start.Add(day); next++ {
			r.learn(heard[next])
		}
		if day >= k.Start && r.sees(k, q, day) {
			return day, true
		}
	}
	return 0, false
}

// learn takes in one entry.
func (r *reader) learn(e Entry) {
	day := e.Stated.Sub(r.Start)
	if e.Sort == StepDone || e.Sort == Weighed {
		r.flock = nil
	}
	r.news = append(r.news, day)
	switch e.Sort {
	case StepDone:
		i := r.Plan.At(e.Step)
		r.done[i] = min(day, e.Received.Sub(r.Start))
		if e.Step == Stocked && e.Value > 0 && r.Plan.Herd.AdultG == 0 {
			r.fromG = e.Value
		}
	case Looked:
		r.looks = append(r.looks, look{day, e.Value, e.Staff})
		if i := r.Plan.At(Planted); day > 0 {
			r.by[i] = min(r.by[i], day)
		}
	case Weighed:
		r.weighs = append(r.weighs, sample{day, e.Value, e.N})
	case Visit, Call:
		for _, name := range e.Open {
			r.undone[r.Plan.At(name)] = day
		}
	}
}

// sees says whether the reader holds the fault for likely enough on a day.
func (r *reader) sees(k Case, q Quiet, day int) bool {
	switch k.Kind {
	case SilentFarm:
		return r.quiet(day) > q.limit(r.done[r.Plan.At(Stocked)] >= 0)
	case GoAheadSkipped:
		at := r.done[r.Plan.At(Stocked)]
		return at >= 0 && at <= day
	case PumpFailure, DieOff, Overcrowding:
		// Sudden losses show in the first entry that speaks of them;
		// overcrowding in the delivery note.
		return slices.ContainsFunc(r.news, func(d int) bool { return d >= k.Start && d <= day })
	case SlowGrowth, PoorFeed:
		return r.seesGrowth(k, day)
	default:
		return r.seesDelay(k, day)
	}
}

func (q Quiet) limit(stocked bool) int {
	if stocked {
		return q.After
	}
	return q.Before
}

// quiet is the number of days since the last evidence that states a day not
// after day.
func (r *reader) quiet(day int) int {
	last := 0
	for _, d := range r.news {
		if d <= day {
			last = max(last, d)
		}
	}
	return day - last
}

// effect is what the known durations say of the farm as a whole: mean and
// variance of its standard normal effect, by conjugacy. Outliers are clipped,
// for they may be faults.
func (r *reader) effect() (mean, variance float64) {
	sum, n := 0.0, 0.0
	for i := range r.Plan.Steps {
		st := &r.Plan.Steps[i]
		start, ok := r.start(i)
		if r.done[i] < 0 || !ok || st.Sigma == 0 || st.Nature == Fixed || st.Nature == Waits || st.Name == Stocked {
			continue
		}
		took := math.Max(0.5, float64(r.done[i]-start))
		if st.Nature == Covers {
			took = r.leaves.at(float64(r.done[i])) - r.leaves.at(float64(start))
		}
		z := math.Log(math.Max(took, .5)/st.median(r.World)) / st.Sigma
		sum += min(2, max(-2, z))
		n++
	}
	precision := 1 + n*rho/(1-rho)
	return math.Sqrt(rho) / (1 - rho) * sum / precision, 1 / precision
}

// start is the day on which a step could begin, if all before it are known.
func (r *reader) start(i int) (int, bool) {
	start := 0
	for _, p := range r.Plan.Steps[i].After {
		if r.done[p] < 0 {
			return 0, false
		}
		start = max(start, r.done[p])
	}
	return start, true
}
