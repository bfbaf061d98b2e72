package truth

import "math"

// particles is how many courses up to stocking the reader imagines: the
// chance of four in five is then known to about three in a hundred.
const particles = 160 // a fifth of them may disagree

// prior chance that the reader gives each fault of a step before he has seen
// anything: about what is injected.
const faultPrior = .07

// seesDelay says whether the step of the fault is held to be seven days late
// of its own, with its float used up.
func (r *reader) seesDelay(k Case, day int) bool {
	b := r.belief(day)
	against := 0
	for n := range particles {
		if !b.shows(k, b.imagine(r.luck.At(n))) {
			against++
		}
		if against > particles/5 {
			return false
		}
	}
	return true
}

// shows says whether an imagined course has the fault.
func (b *belief) shows(k Case, d draft) bool {
	if k.Kind == MissedSeason {
		return d.end[b.Plan.At(Stocked)] > k.Complete
	}
	i := b.Plan.At(k.Kind.Step())
	own := d.end[i] - d.start[i] - round(b.typical(i, d.start[i]))
	return own >= 7 && d.holdsUp(b, i)
}

// belief is what the reader makes of the evidence on a day.
type belief struct {
	*reader
	day         int
	mean, sigma float64 // of the farm effect
	cover       []coverNode
}

func (r *reader) belief(day int) *belief {
	mean, variance := r.effect()
	b := &belief{reader: r, day: day, mean: mean, sigma: math.Sqrt(variance)}
	if i := r.Plan.At(CoverReady); i >= 0 && r.done[i] < 0 && len(r.looks) > 0 {
		b.cover = b.plants(i)
	}
	return b
}

// typical is the median of a step that starts on a day, in days.
func (b *belief) typical(i, start int) float64 {
	st := &b.Plan.Steps[i]
	m := st.median(b.World)
	if st.Nature == Covers {
		return b.leaves.after(float64(start), m) - float64(start)
	}
	return m
}

// draft is one imagined course up to stocking.
type draft struct{ start, end []int }

// imagine draws a course that agrees with the evidence. Steps after stocking
// are left out.
func (b *belief) imagine(s Stream) draft {
	n := b.Plan.At(Stocked) + 1
	d := draft{start: make([]int, n), end: make([]int, n)}
	effect := b.mean + b.sigma*s.N(0)
	for i := range n {
		for _, p := range b.Plan.Steps[i].After {
			d.start[i] = max(d.start[i], d.end[p])
		}
		if d.end[i] = b.done[i]; d.end[i] < 0 {
			d.end[i] = b.draw(i, d.start[i], effect, s.At(i))
		}
		if b.Plan.Steps[i].Closed && b.done[i] < 0 {
			d.end[i] = int(b.Plan.Season.open(b.Start, float64(d.end[i])))
		}
	}
	return d
}

// holdsUp says whether the house would be ready sooner had the step taken its
// median.
func (d draft) holdsUp(b *belief, i int) bool {
	ready := b.Plan.At(Ready)
	end := make([]int, ready)
	at := 0
	for j := range ready {
		start := 0
		for _, p := range b.Plan.Steps[j].After {
			start = max(start, end[p])
		}
		end[j] = start + d.end[j] - d.start[j]
		if j == i {
			end[j] = start + round(b.typical(i, start))
		}
	}
	for _, p := range b.Plan.Steps[ready].After {
		at = max(at, end[p])
	}
	return at < d.start[ready]
}

// tries is how often a step is drawn anew before the reader falls back on the
// plain law of what is left.
const tries = 24

// draw is the end of a step nobody has told of, given that nobody has:
// drawn from its law, faults included, until it agrees.
func (b *belief) draw(i, start int, effect float64, s Stream) int {
	lags := b.laws.caretaker
	if staffStep(b.Plan.Steps[i].Name) {
		lags = b.laws.staff
	}
	for t := range tries {
		at := s.At(t)
		end := start + round(b.takes(i, start, effect, at))
		if end <= b.undone[i] || end > b.by[i] {
			continue
		}
		if end <= b.day && end+lags[int(at.U(9)*float64(len(lags)))] <= b.day {
			continue
		}
		return end
	}
	if b.by[i] < farAway {
		return max(start, b.by[i])
	}
	return max(start, b.undone[i], b.day) + 1 + int(s.Exp(tries, 7))
}

// takes is a duration drawn from the law of a step, in days.
func (b *belief) takes(i, start int, effect float64, s Stream) float64 {
	st := &b.Plan.Steps[i]
	z := math.Sqrt(rho)*effect + math.Sqrt(1-rho)*s.N(0)
	days := st.median(b.World) * math.Exp(st.Sigma*z)
	faulty := s.U(1) < faultPrior
	if st.Nature == Covers {
		if b.cover != nil {
			days = pick(b.cover, s.U(2))
		} else if faulty {
			days /= s.Between(3, coverLow, coverHigh)
		}
		return b.leaves.after(float64(start), days) - float64(start)
	}
	if faulty && (st.Name == Planted || st.Name == Trained || st.Name == Ordered) {
		days += s.LogNormal(4, delayMedian, delaySigma)
	}
	return days
}

// coverNode is one possible length of the plants' growth and its chance.
type coverNode struct{ days, weight float64 }

// plants weighs the possible lengths of the plants' growth by the looks.
func (b *belief) plants(i int) []coverNode {
	const nodes = 60
	st := &b.Plan.Steps[i]
	mu := math.Log(st.median(b.World)) + st.Sigma*math.Sqrt(rho)*b.mean
	sd := st.Sigma * math.Sqrt(1-rho+rho*b.sigma*b.sigma)
	from := b.planted()
	out := make([]coverNode, nodes)
	best := math.Inf(-1)
	for n := range out {
		x := mu - 3*sd + (6*sd+math.Log(2.2))*float64(n)/(nodes-1)
		like := math.Log(coverPrior(x, mu, sd)) + b.likeLooks(coverLaw{from: from, days: math.Exp(x), rates: b.leaves})
		out[n] = coverNode{math.Exp(x), like}
		best = max(best, like)
	}
	sum := 0.0
	for n := range out {
		out[n].weight = math.Exp(out[n].weight - best)
		sum += out[n].weight
	}
	for n := range out {
		out[n].weight /= sum
	}
	return out
}

// planted is the day from which plants grow, as far as the reader knows.
func (b *belief) planted() int {
	i := b.Plan.At(Planted)
	if b.done[i] >= 0 {
		return b.done[i]
	}
	return max(0, b.looks[0].day-7)
}

// coverPrior is the density of the logarithm of the growth's length: slow
// plants among the others.
func coverPrior(x, mu, sd float64) float64 {
	p := (1 - faultPrior) * bell((x-mu)/sd)
	for _, f := range []float64{.50, .65, .80} {
		p += faultPrior / 3 * bell((x-mu+math.Log(f))/sd)
	}
	return p + 1e-12
}

func bell(z float64) float64 { return math.Exp(-z * z / 2) }

// likeLooks is the log-likelihood of the looks: errors of one look, an eye
// that is always the same, and slips of the finger.
func (b *belief) likeLooks(l coverLaw) float64 {
	total := math.Inf(-1)
	for _, eye := range []float64{-1.22, 0, 1.22} { // three nodes stand for the normal law of the eye
		like := 0.0
		for _, o := range b.looks {
			want, sd := Cover(l.progress(float64(o.day))), coverErrStaff
			if !o.staff {
				want, sd = want+eye*coverEye, coverErr
			}
			like += math.Log((1-slip)*bell((o.value-min(100, want))/sd)/(sd*2.507) + slip/100)
		}
		weight := math.Log(1. / 3)
		total = logSum(total, like+weight)
	}
	return total
}

func logSum(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	return a + math.Log1p(math.Exp(b-a))
}

// pick is the node at which the cumulative weight passes u.
func pick(nodes []coverNode, u float64) float64 {
	for _, n := range nodes {
		if u -= n.weight; u < 0 {
			return n.days
		}
	}
	return nodes[len(nodes)-1].days
}
