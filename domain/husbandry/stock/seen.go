package stock

import (
	"fmt"
	"math"

	"tendfold/domain"
	"tendfold/domain/calendar"
)

// window is how many weeks of entries are held against the runs as one sum:
// single days say more of the writer than of the animals.
const window = 4

// Answer is what the farm said when it was asked about a count that does not
// fit.
type Answer string

// The answers.
const (
	NotAsked  Answer = ""
	Stands    Answer = "stands"    // counted again: the count is right
	Miscount  Answer = "miscount"  // the count is set aside
	Escape    Answer = "escape"    // the missing are entered as taken, and the count stands
	WasStolen Answer = "theft"     // likewise
	Pending   Answer = "no-answer" // asked, and nothing said yet: the count is set aside
)

// believed says whether a count may move a rate without a further question.
func (a Answer) believed() bool { return a == Stands || a == Escape || a == WasStolen }

// Count is animals counted on a day: all past their first month.
type Count struct {
	On     calendar.Date `json:"on"`
	N      float64       `json:"n"`
	Answer Answer        `json:"answer,omitempty"`
}

// Weighing is a sample of one batch, taken without choosing.
type Weighing struct {
	On    calendar.Date `json:"on"`
	Batch int           `json:"batch"` // place in Plan.Batches
	MeanG float64       `json:"mean_g"`
	N     int           `json:"n"`
}

// Day is what the daybook says of one day. A number below 0 was not written.
type Day struct {
	On     calendar.Date `json:"on"`
	Deaths float64       `json:"deaths"`
	Eggs   float64       `json:"eggs"`
}

// Seen is what the farm knows of its own animals.
type Seen struct {
	Days      []Day      `json:"days"`
	Counts    []Count    `json:"counts"`
	Weighings []Weighing `json:"weighings"`
}

func (s Seen) empty() bool { return len(s.Days)+len(s.Counts)+len(s.Weighings) == 0 }

// Check says what cannot be.
func (s Seen) Check(p Plan) error {
	var bad []domain.Field
	wrong := func(path string, i int, text string) {
		bad = append(bad, domain.Field{Path: fmt.Sprintf("%s.%d", path, i), Code: "out-of-range", Text: text})
	}
	for i, d := range s.Days {
		if !(d.Deaths <= mostAnimals && d.Eggs <= mostAnimals) {
			wrong("days", i, fmt.Sprintf("at most %d deaths and eggs a day", mostAnimals))
		}
	}
	for i, c := range s.Counts {
		if !(c.N >= 0 && c.N <= mostAnimals) {
			wrong("counts", i, fmt.Sprintf("must lie from 0 to %d", mostAnimals))
		}
	}
	for i, w := range s.Weighings {
		if !(w.MeanG >= 0.001 && w.MeanG <= 1e5) || w.N < 1 || w.Batch < 0 || w.Batch >= len(p.Batches) {
			wrong("weighings", i, "needs a batch of the plan, one animal at least, and 0.001 to 100000 g")
		}
	}
	if bad != nil {
		return domain.Invalid("stock-seen", "What was written of this unit cannot be used.", bad...)
	}
	return nil
}

// tally is what was written in one window: the sum, and the share of its days
// of which anything was written. A day without a word is not a day without
// deaths.
type tally struct{ deaths, eggs, daysOfDeaths, daysOfEggs float64 }

// evidence is what was seen, laid on the weeks of a plan.
type evidence struct {
	tallies   []tally // by window
	counts    map[int][]int
	weighings map[int][]int
	seen      Seen
	use       []bool // counts that may speak
}

func (s Seen) on(p Plan, t *timetable) *evidence {
	e := &evidence{
		tallies: make([]tally, t.today/window), counts: map[int][]int{}, weighings: map[int][]int{}, seen: s,
		use: make([]bool, len(s.Counts)),
	}
	week := func(d calendar.Date) int {
		n := d.Sub(p.From)
		if n < 0 || n >= 7*t.today {
			return -1
		}
		return n / 7
	}
	for _, d := range s.Days {
		w := week(d.On)
		if w < 0 || w/window >= len(e.tallies) {
			continue
		}
		k := &e.tallies[w/window]
		if d.Deaths >= 0 {
			k.deaths += d.Deaths
			k.daysOfDeaths++
		}
		if d.Eggs >= 0 {
			k.eggs += d.Eggs
			k.daysOfEggs++
		}
	}
	for i, c := range s.Counts {
		if w := week(c.On); w >= 0 {
			e.counts[w] = append(e.counts[w], i)
			e.use[i] = c.Answer.believed()
		}
	}
	for i, g := range s.Weighings {
		if w := week(g.On); w >= 0 {
			e.weighings[w] = append(e.weighings[w], i)
		}
	}
	return e
}

// Errors of what is seen. Ours, constructed: no farm has been counted twice.
const (
	countCV    = 0.10 // standard deviation of a count, share of the animals
	weighCV    = 0.05 // of a sample's mean beyond chance: scale and choice
	bodySize   = 4.0  // size of the negative binomial: deaths come in bouts
	clutchSize = 4.0  // and so do clutches found
	leastMean  = 0.02 // nothing that was written is impossible
)

// foundBodies and foundEggs are the shares of what dies and is laid that is
// found and written down.
var (
	foundBodies = Span{0.5, 0.8, 0.95}
	foundEggs   = Span{0.2, 0.5, 0.9}
)

// windowSaid is how well a run's window explains what was written.
func windowSaid(k tally, f *flows, r *rates) float64 {
	const all = 7 * window
	var l float64
	if k.daysOfDeaths > 0 {
		l += negativeBinomial(k.deaths, max(f.meant*r.foundBodies*k.daysOfDeaths/all, leastMean), bodySize)
	}
	if k.daysOfEggs > 0 {
		clutches := math.Round(k.eggs / r.clutch)
		l += negativeBinomial(clutches, max(f.laid/r.clutch*r.foundEggs*k.daysOfEggs/all, leastMean), clutchSize)
	}
	return l
}

// negativeBinomial is the logarithm of the chance of k events with a mean and
// a size: the variance is mean + mean^2/size.
func negativeBinomial(k, mean, size float64) float64 {
	a, _ := math.Lgamma(k + size)
	b, _ := math.Lgamma(size)
	c, _ := math.Lgamma(k + 1)
	return a - b - c + size*math.Log(size/(size+mean)) + k*math.Log(mean/(size+mean))
}

// countSaid is how well a run explains a count, and moves its animals by what
// the count says of them: between the count's own error and the doubt that
// bouts of deaths and raids have left.
func (r *run) countSaid(n float64, doubt *float64) float64 {
	there := r.countable()
	all := *doubt + countCV*countCV + 1/(there+1)
	d := math.Log((n + 0.5) / (there + 0.5))
	gain := *doubt / all
	r.scaleAll(math.Exp(gain * d))
	*doubt *= 1 - gain
	return -d*d/(2*all) - math.Log(all)/2
}

// scaleAll makes the animals past their first month more or fewer by a
// factor.
func (r *run) scaleAll(by float64) {
	r.settle()
	for i := range r.live {
		if r.age[i] < r.infant {
			continue
		}
		n := r.n[i] * by
		if r.noise {
			n = r.chance.whole(n)
		}
		r.n[i], r.base[i] = n, n
	}
	r.tidy()
}

// countable is the animals past their first month.
func (r *run) countable() float64 {
	var n float64
	for i := range r.live {
		if r.age[i] >= r.infant {
			n += r.n[i]
		}
	}
	return n
}

// unlikely stands for a run that has lost a batch which was weighed.
const unlikely = -50

// weighSaid is how well a run explains a weighed sample, and moves the batch
// by what the sample says of it.
func (r *run) weighSaid(w Weighing, cv float64, doubt *[mostBatches]float64) float64 {
	for i := range r.live {
		if r.from[i] != w.Batch {
			continue
		}
		v := &doubt[w.Batch]
		all := *v + cv*cv/float64(w.N) + weighCV*weighCV
		d := math.Log(w.MeanG / r.grams[i])
		gain := *v / all
		r.shift(i, gain*d)
		*v *= 1 - gain
		return -d*d/(2*all) - math.Log(all)/2
	}
	return unlikely
}
