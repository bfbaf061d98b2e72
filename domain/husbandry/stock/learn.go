package stock

import (
	"math"
	"math/rand/v2"
)

// Learned says what the farm's own numbers have done to the runs.
type Learned struct {
	// Used is false when nothing had been seen: the runs are the pack's.
	Used bool `json:"used"`
	// Effective is how many runs that explain the farm equally well would say
	// as much (effective sample size); below 100 the runs are drawn again.
	Effective float64 `json:"effective"`
	Rounds    int     `json:"rounds"`
	// Tempered is below 1 when no round found enough runs: the farm's numbers
	// then speak with that part of their weight only.
	Tempered float64 `json:"tempered"`
	// Questions are counts that differ by more than their error. They move
	// nothing until the farm has answered.
	Questions []Question `json:"questions"`
}

// Question is put to the farm before a count moves a rate: escape, theft or
// miscount?
type Question struct {
	Count    int     `json:"count"` // place in Seen.Counts
	N        float64 `json:"n"`
	Expected Band    `json:"expected"` // of a count: the runs and the counting error
}

const (
	enough   = 100 // effective runs
	rounds   = 10
	fallback = 0.1 // share of a round that is drawn from the pack, whatever was learned
	widen    = 1.0 // spread of the next round against the last one's
	shrink   = 0.1 // part of a covariance between parameters that is not believed
	// surprise is how many standard deviations a count may lie off before it
	// is asked about: one in twenty by chance.
	surprise = 1.96
)

// particle is one run: its parameters, its stream of chance, and how well it
// explains the farm.
type particle struct {
	z     values
	seed  uint64
	line  uint64
	fit   float64 // log likelihood
	dense float64 // density of the draws against the pack's, a sum over the rounds
	far   float64 // minus the logarithm of its mean
	count []float64
}

// learn finds runs that explain what was seen.
func (m *Model) learn(p Plan, t *timetable, e *evidence, seed uint64, runs int) ([]particle, Learned) {
	ps, l := m.rounds(p, t, e, seed, runs)
	if open := e.open(); len(open) > 0 {
		weights := tempered(ps, l.Tempered)
		for _, i := range open {
			q, asks := e.question(i, ps, weights)
			if asks {
				l.Questions = append(l.Questions, q)
			} else {
				e.use[i] = true
			}
		}
		if len(l.Questions) < len(open) {
			asked := l.Questions
			ps, l = m.rounds(p, t, e, seed, runs)
			l.Questions = asked
		}
	}
	return resample(ps, tempered(ps, l.Tempered), runs, seed), l
}

// open are the counts that nobody has been asked about.
func (e *evidence) open() []int {
	var out []int
	for _, places := range e.counts {
		for _, i := range places {
			if e.seen.Counts[i].Answer == NotAsked {
				out = append(out, i)
			}
		}
	}
	return out
}

// question holds a count against the runs that explain everything else.
func (e *evidence) question(i int, ps []particle, weights []float64) (Question, bool) {
	var mean, square float64
	for k := range ps {
		n := ps[k].count[i]
		mean += weights[k] * n
		square += weights[k] * n * n
	}
	sd := math.Sqrt(max(square-mean*mean, 0) + countCV*countCV*mean*mean + 1)
	n := e.seen.Counts[i].N
	const at90 = 1.2815515655446004
	q := Question{Count: i, N: n, Expected: Band{max(mean-at90*sd, 0), mean, mean + at90*sd}}
	return q, math.Abs(n-mean) > surprise*sd
}

// rounds draws until enough runs explain the farm: the first round from the
// pack, each further one about those that have done best so far. Every run
// counts against the mixture of all that were drawn from (adaptive multiple
// importance sampling; Cornuet, Marin, Mira and Robert 2012, from memory), so
// that no round is thrown away. Where all rounds together do not suffice, what
// was seen speaks with less weight.
func (m *Model) rounds(p Plan, t *timetable, e *evidence, seed uint64, runs int) ([]particle, Learned) {
	pool := make([]particle, 0, rounds*runs)
	l := Learned{Used: true, Tempered: 1, Questions: []Question{}}
	aims := []*aim{nil}
	for round := range rounds {
		fresh := pool[len(pool) : len(pool)+runs]
		m.try(p, t, e, fresh, aims[round], seed+uint64(round)*0x9E3779B97F4A7C15)
		pool = pool[:len(pool)+runs]
		mix(pool, aims)
		l.Rounds = round + 1
		if l.Effective = effective(tempered(pool, 1)); l.Effective >= enough {
			return pool, l
		}
		if round+1 < rounds {
			aims = append(aims, aimAt(pool))
		}
	}
	l.Tempered = temper(pool, enough)
	l.Effective = effective(tempered(pool, l.Tempered))
	return pool, l
}

// mix sets how far every run of the pool lies from the mixture of the laws
// that the rounds drew from; the first is the pack's own.
func mix(pool []particle, aims []*aim) {
	runs := len(pool) / len(aims)
	newest := len(aims) - 1
	for k := range pool {
		q := &pool[k]
		from := 0
		if k < newest*runs {
			from = newest // the older laws are in the sum already
		}
		for _, a := range aims[from:] {
			q.dense += a.against(&q.z)
		}
		q.far = -math.Log(q.dense / float64(len(aims)))
	}
}

// try draws a round and holds every run against what was seen.
func (m *Model) try(p Plan, t *timetable, e *evidence, ps []particle, from *aim, seed uint64) {
	r := m.newRun()
	for k := range ps {
		normal := rand.New(rand.NewPCG(seed, uint64(k)<<1))
		q := particle{seed: seed, line: uint64(k)<<1 | 1, count: make([]float64, len(e.seen.Counts))}
		for i := range q.z {
			q.z[i] = normal.NormFloat64()
		}
		if from != nil {
			if normal.Float64() >= fallback {
				from.draw(&q.z)
			}
		}
		r.set(&m.figures, m.ready, &q.z, days)
		r.chance.pcg.Seed(seed, q.line)
		q.fit = m.explain(r, p, t, e, q.count).fit
		ps[k] = q
	}
}

// told is what a run's past says: how well it explains the farm, and the
// variance of ln(weight) that is left about each batch.
type told struct {
	fit   float64
	doubt [mostBatches]float64
	crowd float64 // variance of ln(animals) that is left
}

// roaming is the variance of how far ahead in months a batch is after a month
// of a pace that wanders, in the long run: (wanders / (1 - keeps))^2.
const roaming = wanders * wanders / ((1 - keeps) * (1 - keeps))

// explain lives a run up to today and says how well it explains the farm. The
// pace of growth is not drawn but followed: what a weighing says is shared
// between its own error and the doubt that has grown since the last one
// (Kalman's filter, in one number a batch), so that a run is not thrown away
// for a month's weather.
func (m *Model) explain(r *run, p Plan, t *timetable, e *evidence, count []float64) told {
	r.begin(p.FloorM2)
	r.roams = false
	var out told
	for w := range t.today {
		r.week(&p, t, w)
		if (w+1)%window == 0 {
			r.doubts(&out)
			if w/window < len(e.tallies) {
				out.fit += windowSaid(e.tallies[w/window], &r.flow, &r.rates)
			}
			r.flow = flows{}
		}
		for _, i := range e.counts[w] {
			count[i] = r.countable()
			if e.use[i] {
				out.fit += r.countSaid(e.seen.Counts[i].N, &out.crowd)
			}
		}
		for _, i := range e.weighings[w] {
			out.fit += r.weighSaid(e.seen.Weighings[i], m.figures.WeightCV, &out.doubt)
		}
	}
	return out
}

// mostDoubt bounds the variance of ln(animals): a run is in doubt by a half,
// or raids without end would explain every count.
const mostDoubt = 0.25

// doubts grow by a month.
func (r *run) doubts(out *told) {
	die, unseen := r.hazard[juvenile]*window, r.rates.unseen*window
	out.crowd = min(out.crowd+die*die*boutVar+unseen*unseen*raidVar, mostDoubt)
	for i := range r.live {
		if b := r.from[i]; b >= 0 {
			s := r.slope(i) * window
			out.doubt[b] += s * s * roaming
		}
	}
}

// slope is how much ln(weight) of a cohort grows in a step.
func (r *run) slope(i int) float64 {
	return math.Log(r.weightAt(r.age[i]+1) / r.weightAt(r.age[i]))
}

// leastSlope is below which a cohort's weight says nothing of its age.
const leastSlope = 1e-3

// shift puts a batch ahead, or behind, by a part of its weight.
func (r *run) shift(i int, by float64) {
	s := r.slope(i)
	if s < leastSlope {
		return
	}
	r.age[i] = min(max(r.age[i]+min(max(by/s, -window*3), window*3), 0), oldest)
	r.grams[i] = r.weightAt(r.age[i]) * r.scale[i]
	if r.gone[i] > 0 {
		r.grams[i] *= r.spread.left(r.gone[i])
	}
}

// part sends a run into a future of its own: what is in doubt about its
// batches is drawn, and the pace begins to wander.
func (r *run) part(left told) {
	doubt := left.doubt
	r.roams = true
	r.wander = wanders / math.Sqrt(1-keeps*keeps) * r.chance.normal()
	r.scaleAll(math.Exp(math.Sqrt(left.crowd)*r.chance.normal() - left.crowd/2))
	for i := range r.live {
		if b := r.from[i]; b >= 0 && doubt[b] > 0 {
			r.shift(i, math.Sqrt(doubt[b])*r.chance.normal())
		}
	}
	r.weigh()
}

// tempered are the weights of a round, adding up to one, when what was seen
// speaks with a part of its weight.
func tempered(ps []particle, part float64) []float64 {
	w := make([]float64, len(ps))
	top := math.Inf(-1)
	for k := range ps {
		w[k] = part*ps[k].fit + ps[k].far
		top = max(top, w[k])
	}
	var sum float64
	for k := range w {
		w[k] = math.Exp(w[k] - top)
		sum += w[k]
	}
	for k := range w {
		w[k] /= sum
	}
	return w
}

// effective is Kish's effective sample size of weights that add up to one.
func effective(w []float64) float64 {
	var squares float64
	for _, x := range w {
		squares += x * x
	}
	return 1 / squares
}

// temper finds the part of its weight with which a round's evidence leaves so
// many effective runs.
func temper(ps []particle, want float64) float64 {
	low, high := 0.0, 1.0
	for range 40 {
		mid := (low + high) / 2
		if effective(tempered(ps, mid)) >= want {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// resample gives so many runs of equal weight (systematic; one uniform number
// for all).
func resample(ps []particle, w []float64, runs int, seed uint64) []particle {
	out := make([]particle, 0, runs)
	step := 1 / float64(runs)
	at := rand.New(rand.NewPCG(seed, 3)).Float64() * step
	var sum float64
	for k := range ps {
		for sum += w[k]; at < sum && len(out) < runs; at += step {
			out = append(out, ps[k])
		}
	}
	for len(out) < runs {
		out = append(out, ps[len(ps)-1])
	}
	return out
}

// aim is a normal law about the runs that did best.
type aim struct {
	mid  [zLearned]float64
	root [zLearned][zLearned]float64 // lower triangle: covariance = root root'
	log  float64                     // sum of the logarithms of the root's diagonal
}

// aimAt fits a law to a round.
func aimAt(ps []particle) *aim {
	w := tempered(ps, temper(ps, enough))
	a := &aim{}
	for k := range ps {
		for i := range a.mid {
			a.mid[i] += w[k] * ps[k].z[i]
		}
	}
	var cov [zLearned][zLearned]float64
	for k := range ps {
		for i := range a.mid {
			for j := range i + 1 {
				cov[i][j] += w[k] * (ps[k].z[i] - a.mid[i]) * (ps[k].z[j] - a.mid[j])
			}
		}
	}
	for i := range cov {
		for j := range i {
			cov[i][j] *= (1 - shrink) * widen
		}
		cov[i][i] = cov[i][i]*widen + 1e-4
	}
	a.cholesky(&cov)
	return a
}

// cholesky takes the root of a covariance (lower triangle given).
func (a *aim) cholesky(cov *[zLearned][zLearned]float64) {
	for i := range cov {
		for j := range i + 1 {
			sum := cov[i][j]
			for k := range j {
				sum -= a.root[i][k] * a.root[j][k]
			}
			if i == j {
				a.root[i][i] = math.Sqrt(max(sum, 1e-6))
				a.log += math.Log(a.root[i][i])
			} else {
				a.root[i][j] = sum / a.root[j][j]
			}
		}
	}
}

// draw turns standard normal numbers into a draw of the law; what leaves no
// trace stays the pack's.
func (a *aim) draw(z *values) {
	var out [zLearned]float64
	for i := range out {
		out[i] = a.mid[i]
		for j := range i + 1 {
			out[i] += a.root[i][j] * z[j]
		}
	}
	copy(z[:zLearned], out[:])
}

// against is a round's density at a draw against the pack's: nil is the pack.
func (a *aim) against(z *values) float64 {
	if a == nil {
		return 1
	}
	var own, packs float64 // half squared distances
	var u [zLearned]float64
	for i := range u {
		u[i] = z[i] - a.mid[i]
		for j := range i {
			u[i] -= a.root[i][j] * u[j]
		}
		u[i] /= a.root[i][i]
		own += u[i] * u[i] / 2
		packs += z[i] * z[i] / 2
	}
	return fallback + (1-fallback)*math.Exp(min(packs-own-a.log, 600))
}
