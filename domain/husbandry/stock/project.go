package stock

import (
	"math/rand/v2"
	"slices"

	"tendfold/domain/calendar"
	"tendfold/domain/rank"
)

// Runs is how many lives of a unit are tried, DrawSeed where their chance
// begins: one answer, whoever asks.
const (
	Runs            = 1000
	DrawSeed uint64 = 20261128
)

// Band is the middle and the middle 80 of 100 runs.
type Band struct {
	Low    float64 `json:"low"`    // one run in ten is below
	Likely float64 `json:"likely"` // half are
	High   float64 `json:"high"`   // one in ten is above
}

// Point is what the unit holds on a day. What is counted up (lost, sold,
// eaten) is of the time since the point before.
type Point struct {
	On         calendar.Date `json:"on"`
	Weeks      int           `json:"weeks"` // since the point before
	Eggs       Band          `json:"eggs"`
	Hatchlings Band          `json:"hatchlings"`
	Juveniles  Band          `json:"juveniles"`
	Growers    Band          `json:"growers"`
	Adults     Band          `json:"adults"`
	Animals    Band          `json:"animals"` // all but eggs
	Kg         Band          `json:"kg"`
	Crowding   Band          `json:"crowding"` // biomass against what the floor carries
	Saleable   Band          `json:"saleable"` // at or above the market weight
	Dead       Band          `json:"dead"`     // with a body
	Unseen     Band          `json:"unseen"`   // without
	Moved      Band          `json:"moved"`
	Sold       Band          `json:"sold"`
	SoldKg     Band          `json:"sold_kg"`
	DryKg      Band          `json:"dry_kg_week"`
	FreshKg    Band          `json:"fresh_kg_week"`
	CalciumKg  Band          `json:"calcium_kg_week"`
}

// The streams of a point, in the order of Point's bands.
const (
	sEggs = iota
	sHatchlings
	sJuveniles
	sGrowers
	sAdults
	sAnimals
	sKg
	sCrowding
	sSaleable
	sDead
	sUnseen
	sMoved
	sSold
	sSoldKg
	sDry
	sFresh
	sCalcium
	streams
)

func (p *Point) bands() [streams]*Band {
	return [streams]*Band{
		&p.Eggs, &p.Hatchlings, &p.Juveniles, &p.Growers, &p.Adults, &p.Animals, &p.Kg, &p.Crowding, &p.Saleable,
		&p.Dead, &p.Unseen, &p.Moved, &p.Sold, &p.SoldKg, &p.DryKg, &p.FreshKg, &p.CalciumKg,
	}
}

// Projection is what a plan leads to.
type Projection struct {
	Points []Point `json:"points"` // from today on: the last week of every month, and of all
	// FullOn is when the floor first carries more than it can bear: the day
	// by which half of the runs that ever do have done so, and the earliest
	// tenth; nil when fewer than half ever do.
	FullOn      *calendar.Date `json:"full_on"`
	FullEarly   *calendar.Date `json:"full_early"` // one run in ten is full by then; nil when fewer ever are
	FullShare   float64        `json:"full_share"` // of runs, by the end
	FullSoon    float64        `json:"full_soon"`  // of runs, within 28 days of today
	EmptyShare  float64        `json:"empty_share"`
	FirstSaleOn *calendar.Date `json:"first_sale_on"` // half of the runs have sold by then
	Learned     Learned        `json:"learned"`
}

// Model is a species made ready; safe for concurrent use.
type Model struct {
	figures Figures
	ready   *prepared
	spread  *spread
}

// days is the length of a step.
const days = 7

// NewModel makes figures ready, or says which cannot be.
func NewModel(f Figures) (*Model, error) {
	if err := f.Check(); err != nil {
		return nil, err
	}
	return &Model{figures: f, ready: prepare(f, days), spread: newSpread(f.WeightCV)}, nil
}

// Project tries a plan runs times from a seed. What the farm has seen moves
// the runs towards those that explain it.
func (m *Model) Project(p Plan, seen Seen, seed uint64, runs int) (*Projection, error) {
	if err := p.Check(); err != nil {
		return nil, err
	}
	if err := seen.Check(p); err != nil {
		return nil, err
	}
	t := p.timed(m.figures.Season)
	out := newRecord(len(t.points), runs)
	r := m.newRun()
	learned := Learned{Tempered: 1, Effective: float64(runs), Questions: []Question{}}
	if t.today == 0 || seen.empty() {
		for k := range runs {
			z := drawn(seed, k)
			r.set(&m.figures, m.ready, &z, days)
			r.chance.pcg.Seed(seed, uint64(k)<<1|1)
			r.begin(p.FloorM2)
			r.roams = true
			for w := range t.today {
				r.week(&p, t, w)
			}
			r.ahead(&p, t, out, k)
		}
	} else {
		e := seen.on(p, t)
		var ps []particle
		ps, learned = m.learn(p, t, e, seed, runs)
		count := make([]float64, len(seen.Counts))
		for k := range ps {
			r.set(&m.figures, m.ready, &ps[k].z, days)
			r.chance.pcg.Seed(ps[k].seed, ps[k].line)
			left := m.explain(r, p, t, e, count)
			r.chance.pcg.Seed(seed, uint64(k)<<1|1)
			r.part(left)
			r.ahead(&p, t, out, k)
		}
	}
	projection := out.projection(p, t)
	projection.Learned = learned
	return projection, nil
}

func (m *Model) newRun() *run {
	return &run{spread: m.spread, noise: true, crowds: true, gather: gather}
}

// drawn are the parameters of run k.
func drawn(seed uint64, k int) values {
	normal := rand.New(rand.NewPCG(seed, uint64(k)<<1))
	var z values
	for i := range z {
		z[i] = normal.NormFloat64()
	}
	return z
}

// ahead plays a run from today to the end.
func (r *run) ahead(p *Plan, t *timetable, out *record, k int) {
	out.full[k], out.sale[k] = -1, -1
	r.flow = flows{}
	for w := t.today; w < t.weeks; w++ {
		r.week(p, t, w)
		if r.x > 1 && out.full[k] < 0 {
			out.full[k] = int32(w)
		}
		if r.flow.sold > 0 && out.sale[k] < 0 {
			out.sale[k] = int32(w)
		}
		if at := t.report[w]; at >= 0 {
			out.take(r, p.Harvest.MarketG, at, k)
		}
	}
	out.empty[k] = r.live == 0
}

// week is what happens in one: what is known to have been put in and taken
// out, a step of life, and what the plan takes out.
func (r *run) week(p *Plan, t *timetable, w int) {
	for _, b := range t.batches[w] {
		r.stock(b, p.Batches[b].Count, p.Batches[b].MeanG)
	}
	for _, k := range t.taken[w] {
		switch k.Way {
		case Sold:
			r.soldKnown(k.Count, p.Harvest.MarketG)
		default:
			r.leave(k.Count, 0, k.Way == Moved)
		}
	}
	r.step(w, t.season[w])
	if t.harvest[w] {
		r.sell(p.Harvest.MarketG, p.Harvest.Parents)
	}
	if p.Harvest.ThinTo > 0 && w >= t.today {
		r.thin(p.Harvest.ThinTo, p.Harvest.Parents)
	}
}

// record keeps what every run says at every point: each stream of a point is
// a row of runs.
type record struct {
	runs  int
	rows  []float32
	full  []int32
	sale  []int32
	empty []bool
}

func newRecord(points, runs int) *record {
	return &record{
		runs: runs, rows: make([]float32, points*streams*runs),
		full: make([]int32, runs), sale: make([]int32, runs), empty: make([]bool, runs),
	}
}

func (o *record) row(point, stream int) []float32 {
	at := (point*streams + stream) * o.runs
	return o.rows[at : at+o.runs]
}

// take writes a run's point down and begins the next.
func (o *record) take(r *run, market float64, point, k int) {
	var v [streams]float64
	for i := range r.live {
		n := r.n[i]
		v[sAnimals] += n
		v[sSaleable] += r.saleable(i, market)
		switch age := r.age[i]; {
		case age < r.infant:
			v[sHatchlings] += n
		case age > r.lays:
			ripe := r.ripe(age)
			v[sAdults] += n * ripe
			v[sGrowers] += n * (1 - ripe)
		case age < r.young:
			v[sJuveniles] += n
		default:
			v[sGrowers] += n
		}
	}
	v[sEggs], v[sKg], v[sCrowding] = r.eggsWaiting(), r.kg, r.x
	f := &r.flow
	v[sDead], v[sUnseen], v[sMoved], v[sSold], v[sSoldKg] = f.bodies, f.unseen, f.moved, f.sold, f.soldKg
	v[sDry], v[sFresh], v[sCalcium] = f.dryKg, f.freshKg, f.calciumKg
	r.flow = flows{}
	at := point*streams*o.runs + k
	for _, x := range v {
		o.rows[at] = float32(x)
		at += o.runs
	}
}

func (o *record) projection(p Plan, t *timetable) *Projection {
	out := &Projection{Points: make([]Point, len(t.points))}
	for i := range out.Points {
		point := &out.Points[i]
		point.On, point.Weeks = t.points[i], t.since[i]
		for s, band := range point.bands() {
			*band = bandOf(o.row(i, s))
			if s >= sDry {
				band.spread(1 / float64(t.since[i]))
			}
		}
	}
	day := func(weeks []int32, share float64) *calendar.Date {
		return firstBy(p.From, weeks, share)
	}
	out.FullOn, out.FullEarly, out.FirstSaleOn = day(o.full, 0.5), day(o.full, 0.1), day(o.sale, 0.5)
	for k := range o.runs {
		if o.full[k] >= 0 {
			out.FullShare++
			if int(o.full[k]) < t.today+4 {
				out.FullSoon++
			}
		}
		if o.empty[k] {
			out.EmptyShare++
		}
	}
	n := float64(o.runs)
	out.FullShare, out.FullSoon, out.EmptyShare = out.FullShare/n, out.FullSoon/n, out.EmptyShare/n
	return out
}

func (b *Band) spread(by float64) { b.Low, b.Likely, b.High = b.Low*by, b.Likely*by, b.High*by }

// firstBy is the end of the week by which a share of all runs have come so
// far; -1 stands for never.
func firstBy(from calendar.Date, weeks []int32, share float64) *calendar.Date {
	var came []int32
	for _, w := range weeks {
		if w >= 0 {
			came = append(came, w)
		}
	}
	need := int(share * float64(len(weeks)))
	if len(came) <= need {
		return nil
	}
	slices.Sort(came)
	d := from.Add(7*int(came[need]) + 7)
	return &d
}

// bandOf is the middle and the middle 80 of 100 of a row, which it reorders.
// An order statistic is looked for, not sorted for; once the middle is found
// each outer one has only its half to search.
func bandOf(row []float32) Band {
	n := len(row)
	if same(row) {
		return Band{Low: float64(row[0]), Likely: float64(row[0]), High: float64(row[0])}
	}
	mid := quantile(row, 0, n, 0.5)
	cut := rankOf(n, 0.5)
	return Band{Low: quantile(row, 0, cut+1, 0.1), Likely: mid, High: quantile(row, cut, n, 0.9)}
}

// same says whether all runs agree, as on what is never done.
func same(row []float32) bool {
	for _, v := range row {
		if v != row[0] {
			return false
		}
	}
	return true
}

func rankOf(n int, p float64) int { return min(max(int(float64(n)*p-0.5), 0), n-1) }

// quantile of all of a row, known to lie in row[low:high]: order statistics
// at (r + 1/2)/n with a straight line between them (Hyndman and Fan 1996,
// definition 5, from memory).
func quantile(row []float32, low, high int, p float64) float64 {
	r := rankOf(len(row), p)
	rank.Pick(row, low, high, r)
	at := float64(len(row))*p - 0.5 - float64(r)
	if at <= 0 || r+1 >= len(row) {
		return float64(row[r])
	}
	next := row[r+1]
	for _, v := range row[min(r+1, len(row)-1):max(high, r+2)] {
		next = min(next, v)
	}
	return float64(row[r]) + at*(float64(next)-float64(row[r]))
}
