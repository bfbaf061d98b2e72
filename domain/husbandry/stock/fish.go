package stock

import (
	"fmt"
	"math"

	"tendfold/domain"
	"tendfold/domain/calendar"
)

// RationPoint is the share of its body weight that a fish of so many grams is
// fed in a day.
type RationPoint struct {
	Grams float64 `json:"grams"`
	Share float64 `json:"share"`
}

// FishFigures are what is held true of fish that are grown and not bred.
type FishFigures struct {
	Ration       []RationPoint // by rising weight; straight in ln(weight), level beyond the ends
	FCR          Span          // kg of feed a kg of gain
	Survival     Span          // share alive after SurvivalDays
	SurvivalDays float64
	Unseen       Span    // a month eaten or taken without a body
	WeightCV     float64 // spread of single fish about the mean weight
	Classes      []float64
}

// Check says what cannot be.
func (f FishFigures) Check() error {
	var bad []domain.Field
	wrong := func(path, text string) {
		bad = append(bad, domain.Field{Path: path, Code: "out-of-range", Text: text})
	}
	if len(f.Ration) < 1 || len(f.Ration) > 60 {
		wrong("ration", "needs 1 to 60 points")
	}
	for i, r := range f.Ration {
		if !(r.Grams > 0 && r.Grams <= 1e5 && r.Share > 0 && r.Share <= 0.5) || i > 0 && r.Grams <= f.Ration[i-1].Grams {
			wrong(fmt.Sprintf("ration.%d", i), "weights must rise to 100000 g at most, shares lie above 0 and up to 0.5")
		}
	}
	for _, r := range []namedSpan{
		{"fcr", f.FCR, 0.3, 20}, {"survival", f.Survival, 0.001, 1}, {"unseen_loss", f.Unseen, 1e-6, 0.99},
	} {
		if !r.span.within(r.low, r.high) {
			wrong(r.name, fmt.Sprintf("low, likely and high must rise and lie from %g to %g", r.low, r.high))
		}
	}
	if !(f.SurvivalDays >= 1 && f.SurvivalDays <= 3650) {
		wrong("survival_days", "must lie from 1 to 3650")
	}
	if !(f.WeightCV >= 0 && f.WeightCV <= 1) {
		wrong("weight_cv", "must lie from 0 to 1")
	}
	if len(f.Classes) > 10 {
		wrong("classes", "at most 10")
	}
	for i, c := range f.Classes {
		if !(c > 0 && c <= 1e5) || i > 0 && c <= f.Classes[i-1] {
			wrong(fmt.Sprintf("classes.%d", i), "weights must rise, up to 100000 g")
		}
	}
	if bad != nil {
		return domain.Invalid("stock-figures", "These figures of a species cannot be used for a projection.", bad...)
	}
	return nil
}

// RationAt is the share of body weight fed in a day to fish of so many grams:
// a straight line in ln(weight) between the points, level beyond them.
func (f FishFigures) RationAt(grams float64) float64 {
	last := len(f.Ration) - 1
	if grams <= f.Ration[0].Grams {
		return f.Ration[0].Share
	}
	for i := 1; i <= last; i++ {
		if a, b := f.Ration[i-1], f.Ration[i]; grams <= b.Grams {
			return a.Share + (b.Share-a.Share)*math.Log(grams/a.Grams)/math.Log(b.Grams/a.Grams)
		}
	}
	return f.Ration[last].Share
}

// Class is the fish of a weight class: at least From grams, below To (0 = no
// end).
type Class struct {
	From float64 `json:"from_g"`
	To   float64 `json:"to_g"`
	Fish Band    `json:"fish"`
	Kg   Band    `json:"kg"`
}

// FishPoint is what a tank holds at the end of a week.
type FishPoint struct {
	On      calendar.Date `json:"on"`
	Fish    Band          `json:"fish"`
	MeanG   Band          `json:"mean_g"`
	Kg      Band          `json:"kg"`
	FeedKg  Band          `json:"feed_kg"` // of the week
	Classes []Class       `json:"classes"`
}

// FishProjection is what a tank leads to.
type FishProjection struct {
	Points   []FishPoint `json:"points"` // from today on
	Survival Band        `json:"survival"`
	FCR      Band        `json:"fcr"`
	// Feed is what to order for the four weeks from today.
	Feed Band `json:"feed_kg_4_weeks"`
	// ReadyOn is when the mean weight passes the market weight: one run in ten
	// by Early, half by Likely, nine in ten by Late; nil when fewer do.
	ReadyEarly  *calendar.Date `json:"ready_early"`
	ReadyLikely *calendar.Date `json:"ready_likely"`
	ReadyLate   *calendar.Date `json:"ready_late"`
	Learned     Learned        `json:"learned"`
}

// fishRun is one possible life of a tank.
type fishRun struct {
	fcr, ration, die, unseen, found float64
	put                             float64 // animals put in
	fed, week                       float64 // kg, from the start and in this week
	gained                          float64 // kg
	flow                            flows
	chance                          chance
}

// rationSpread is how far a farm's hand lies from the ration of the pack.
var rationSpread = Span{0.8, 1, 1.15}

// ProjectFish tries a tank runs times from a seed. Days are stepped one by
// one; batches of one tank are followed apart and weighed together.
func ProjectFish(f FishFigures, p Plan, seen Seen, seed uint64, runs int) (*FishProjection, error) {
	if err := f.Check(); err != nil {
		return nil, err
	}
	if err := p.Check(); err != nil {
		return nil, err
	}
	if err := seen.Check(p); err != nil {
		return nil, err
	}
	t := p.timed([12]float64{1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1})
	e := seen.on(p, t)
	for i, c := range seen.Counts {
		e.use[i] = c.Answer == NotAsked || c.Answer.believed()
	}
	ps := make([]particle, runs)
	for k := range ps {
		ps[k] = particle{z: drawn(seed, k), seed: seed, line: uint64(k)<<1 | 1}
		if t.today > 0 && !seen.empty() {
			ps[k].fit = f.live(p, t, e, &ps[k], t.today, fork{}, nil)
		}
	}
	l := Learned{Used: t.today > 0 && !seen.empty(), Rounds: 1, Tempered: 1, Questions: []Question{}}
	if l.Effective = effective(tempered(ps, 1)); l.Effective < enough {
		l.Tempered = temper(ps, min(enough, float64(runs)))
		l.Effective = effective(tempered(ps, l.Tempered))
	}
	if l.Used {
		ps = resample(ps, tempered(ps, l.Tempered), runs, seed)
	}
	out := newFishRecord(p, t, f, runs)
	for k := range ps {
		out.k = k
		f.live(p, t, e, &ps[k], t.weeks, fork{at: t.today, seed: seed ^ 0xF15, line: uint64(k)<<1 | 1}, out)
	}
	projection := out.projection(p, t, f)
	projection.Learned = l
	return projection, nil
}

// fork gives a run another future from a step on.
type fork struct {
	at         int
	seed, line uint64
}

// live plays a tank for so many weeks and says how well it explains the farm.
func (f FishFigures) live(p Plan, t *timetable, e *evidence, q *particle, weeks int, fork fork, out *fishRecord) float64 {
	r := fishRun{
		fcr:    f.FCR.drawn(q.z[zGrowth]),
		ration: rationSpread.drawn(q.z[zDry]),
		die:    -math.Log(f.Survival.share(q.z[zJuvenile])) / f.SurvivalDays,
		unseen: hazardOf(f.Unseen.share(q.z[zUnseen]), 1),
		found:  foundBodies.share(q.z[zBodies]),
	}
	r.chance.pcg.Seed(q.seed, q.line)
	groups := make([]fishGroup, 0, len(p.Batches))
	var fit float64
	for w := range weeks {
		if out != nil && fork.at == w {
			r.chance.pcg.Seed(fork.seed, fork.line)
		}
		for _, b := range t.batches[w] {
			groups = append(groups, fishGroup{batch: b, n: p.Batches[b].Count, grams: p.Batches[b].MeanG})
			r.put += p.Batches[b].Count
		}
		for _, k := range t.taken[w] {
			takeFish(groups, k.Count)
		}
		r.week = 0
		for i := range groups {
			r.grow(&groups[i], f)
		}
		if (w+1)%window == 0 && w/window < len(e.tallies) {
			fit += r.said(e.tallies[w/window])
			r.flow = flows{}
		}
		if w < t.today {
			fit += r.weighed(e, w, groups, f.WeightCV)
		}
		if out != nil && w >= t.today {
			out.take(&r, groups, w)
		}
	}
	return fit
}

type fishGroup struct {
	batch    int
	n, grams float64
}

// grow is a week of days: fed by the ration of their weight, they gain what
// the feed gives.
func (r *fishRun) grow(g *fishGroup, f FishFigures) {
	if g.n <= 0 {
		return
	}
	for range 7 {
		feed := g.n * g.grams * f.RationAt(g.grams) * r.ration / 1000
		r.fed += feed
		r.week += feed
		r.gained += feed / r.fcr
		g.grams += g.grams * f.RationAt(g.grams) * r.ration / r.fcr
	}
	lost := r.chance.lost(g.n, 7*(r.die+r.unseen))
	r.flow.meant += g.n * 7 * r.die
	g.n -= lost
}

func (r *fishRun) said(k tally) float64 {
	if k.daysOfDeaths == 0 {
		return 0
	}
	return negativeBinomial(k.deaths, max(r.flow.meant*r.found*k.daysOfDeaths/(7*window), leastMean), bodySize)
}

// weighed is how well the tank explains the counts and weighings of a week.
func (r *fishRun) weighed(e *evidence, w int, groups []fishGroup, cv float64) float64 {
	var fit, all float64
	for _, g := range groups {
		all += g.n
	}
	for _, i := range e.counts[w] {
		if e.use[i] {
			sd := math.Hypot(countCV*all, 1)
			d := (e.seen.Counts[i].N - all) / sd
			fit += -d*d/2 - math.Log(sd)
		}
	}
	for _, i := range e.weighings[w] {
		s := e.seen.Weighings[i]
		for _, g := range groups {
			if g.batch == s.Batch && g.n > 0 {
				d := math.Log(s.MeanG/g.grams) / math.Sqrt(cv*cv/float64(s.N)+weighCV*weighCV)
				fit -= d * d / 2
			}
		}
	}
	return fit
}

// takeFish takes fish out of all batches alike.
func takeFish(groups []fishGroup, n float64) {
	var all float64
	for _, g := range groups {
		all += g.n
	}
	if all <= 0 {
		return
	}
	for i := range groups {
		groups[i].n = max(math.Round(groups[i].n*(1-min(n/all, 1))), 0)
	}
}

// fishRecord keeps what every run says of every week to come.
type fishRecord struct {
	runs, k, from int
	streams       int
	rows          []float32
	survival, fcr []float32
	feed          []float32
	ready         []int32
	spread        *spread
	edges         []float64
	market        float64
}

// The streams of a fish point; two a class follow.
const (
	sFish = iota
	sMean
	sFishKg
	sFeed
	sClass
)

func newFishRecord(p Plan, t *timetable, f FishFigures, runs int) *fishRecord {
	n := sClass + 2*(len(f.Classes)+1)
	o := &fishRecord{
		runs: runs, from: t.today, streams: n, rows: make([]float32, (t.weeks-t.today)*n*runs),
		survival: make([]float32, runs), fcr: make([]float32, runs), feed: make([]float32, runs), ready: make([]int32, runs),
		spread: newSpread(f.WeightCV), edges: f.Classes, market: p.Harvest.MarketG,
	}
	for k := range o.ready {
		o.ready[k] = -1
	}
	return o
}

func (o *fishRecord) row(week, stream int) []float32 {
	at := ((week-o.from)*o.streams + stream) * o.runs
	return o.rows[at : at+o.runs]
}

func (o *fishRecord) take(r *fishRun, groups []fishGroup, w int) {
	put := func(stream int, v float64) { o.row(w, stream)[o.k] += float32(v) }
	var n, kg float64
	for _, g := range groups {
		n += g.n
		kg += g.n * g.grams / 1000
		over, mass := 1.0, 1.0
		for c := range len(o.edges) + 1 {
			next, rest := 0.0, 0.0
			if c < len(o.edges) {
				next = o.spread.over(g.grams / o.edges[c])
				rest = 1 - (1-next)*o.spread.left(next)
			}
			put(sClass+2*c, g.n*(over-next))
			put(sClass+2*c+1, g.n*g.grams/1000*max(mass-rest, 0))
			over, mass = next, rest
		}
	}
	mean := 0.0
	if n > 0 {
		mean = kg * 1000 / n
	}
	put(sFish, n)
	put(sMean, mean)
	put(sFishKg, kg)
	put(sFeed, r.week)
	if w < o.from+4 {
		o.feed[o.k] += float32(r.week)
	}
	if o.ready[o.k] < 0 && mean >= o.market {
		o.ready[o.k] = int32(w)
	}
	if r.put > 0 {
		o.survival[o.k] = float32(n / r.put)
	}
	if r.gained > 0 {
		o.fcr[o.k] = float32(r.fed / r.gained)
	}
}

func (o *fishRecord) projection(p Plan, t *timetable, f FishFigures) *FishProjection {
	out := &FishProjection{
		Survival: bandOf(o.survival), FCR: bandOf(o.fcr), Feed: bandOf(o.feed),
		ReadyEarly: firstBy(p.From, o.ready, 0.1), ReadyLikely: firstBy(p.From, o.ready, 0.5), ReadyLate: firstBy(p.From, o.ready, 0.9),
	}
	for w := t.today; w < t.weeks; w++ {
		point := FishPoint{
			On: p.From.Add(7*w + 7), Fish: bandOf(o.row(w, sFish)), MeanG: bandOf(o.row(w, sMean)),
			Kg: bandOf(o.row(w, sFishKg)), FeedKg: bandOf(o.row(w, sFeed)),
		}
		for c := range len(f.Classes) + 1 {
			class := Class{Fish: bandOf(o.row(w, sClass+2*c)), Kg: bandOf(o.row(w, sClass+2*c+1))}
			if c > 0 {
				class.From = f.Classes[c-1]
			}
			if c < len(f.Classes) {
				class.To = f.Classes[c]
			}
			point.Classes = append(point.Classes, class)
		}
		out.Points = append(out.Points, point)
	}
	return out
}
