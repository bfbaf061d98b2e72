package stock

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"tendfold/domain/calendar"

	"github.com/stretchr/testify/require"
)

// world makes the hidden truth of a farm: how many are for sale at the end of
// each week, and what the farm writes down of it.
type world interface {
	live(p Plan, f Figures, seed uint64) (saleable []float64, seen Seen)
}

// fair is a farm that lives by the engine's own laws.
type fair struct{ m *Model }

func (w fair) live(p Plan, f Figures, seed uint64) ([]float64, Seen) {
	p.Today = p.From.Add(7 * p.Weeks)
	t := p.timed(f.Season)
	r := w.m.newRun()
	z := drawn(seed, 1)
	r.set(&f, w.m.ready, &z, days)
	r.chance.pcg.Seed(seed, 1)
	r.begin(p.FloorM2)
	r.roams = true
	pen := newPen(seed, p, f)
	out := make([]float64, p.Weeks)
	for i := range p.Weeks {
		r.flow = flows{}
		r.week(&p, t, i)
		for k := range r.live {
			out[i] += r.saleable(k, p.Harvest.MarketG)
		}
		grams := 0.0
		if r.live > 0 && r.from[0] == 0 {
			grams = r.grams[0]
		}
		pen.week(i, r.foundBodies, r.foundEggs, r.flow.bodies, r.flow.laid, r.countable(), grams)
	}
	return out, pen.seen()
}

// pen writes a farm's daybook: bouts of care, sums of four weeks on one day of
// the last, a count and a weighing every four weeks.
type pen struct {
	chance       *rand.Rand
	p            Plan
	f            Figures
	bodies, eggs float64
	out          Seen
}

func newPen(seed uint64, p Plan, f Figures) *pen {
	return &pen{chance: rand.New(rand.NewPCG(seed, 99)), p: p, f: f}
}

// bout is a gamma number with mean 1 (Marsaglia and Tsang 2000, from memory).
func (n *pen) bout(shape float64) float64 {
	d := shape - 1.0/3
	for {
		x := n.chance.NormFloat64()
		v := math.Pow(1+x/math.Sqrt(9*d), 3)
		if v > 0 && math.Log(n.chance.Float64()) < x*x/2+d-d*v+d*math.Log(v) {
			return d * v / shape
		}
	}
}

func (n *pen) poisson(mean float64) float64 {
	var c chance
	c.pcg.Seed(n.chance.Uint64(), 5)
	return c.events(mean)
}

func (n *pen) week(w int, foundBodies, foundEggs, bodies, laid, there, grams float64) {
	n.bodies += bodies
	n.eggs += laid
	if (w+1)%window == 0 {
		deaths := n.poisson(max(n.bodies, 0) * foundBodies * n.bout(bodySize))
		clutches := n.poisson(n.eggs / n.f.ClutchEggs * foundEggs * n.bout(clutchSize))
		for d := range 7 * window { // written every day, all on the last
			day := Day{On: n.p.From.Add(7*(w-window+1) + d)}
			if d == 7*window-1 {
				day.Deaths, day.Eggs = deaths, clutches*n.f.ClutchEggs
			}
			n.out.Days = append(n.out.Days, day)
		}
		n.bodies, n.eggs = 0, 0
	}
	on := n.p.From.Add(7*w + 6)
	if (w+1)%4 == 0 {
		n.out.Counts = append(n.out.Counts, Count{On: on, N: math.Round(max(there*(1+countCV*n.chance.NormFloat64()), 0))})
	}
	if (w+1)%4 == 0 && grams > 0 {
		const sample = 10
		sd := math.Sqrt(n.f.WeightCV*n.f.WeightCV/sample + weighCV*weighCV)
		n.out.Weighings = append(n.out.Weighings, Weighing{On: on, MeanG: grams * math.Exp(sd*n.chance.NormFloat64()), N: sample})
	}
}

func (n *pen) seen() Seen { return n.out }

// until is what had been written by a day.
func (s Seen) until(day calendar.Date) Seen {
	var out Seen
	for _, d := range s.Days {
		if d.On < day {
			out.Days = append(out.Days, d)
		}
	}
	for _, c := range s.Counts {
		if c.On < day {
			out.Counts = append(out.Counts, c)
		}
	}
	for _, w := range s.Weighings {
		if w.On < day {
			out.Weighings = append(out.Weighings, w)
		}
	}
	return out
}

// strange is a farm that lives by other laws, written apart from the engine:
// single animals, each with its own von Bertalanffy size; Weibull ages at
// death; losses in raids; triangular instead of log-normal farms; growth that
// wanders from month to month; clutches of uneven size; crowding as a straight
// line.
type strange struct{}

type beast struct {
	age, size, dies float64
	bought          bool
}

func (strange) live(p Plan, f Figures, seed uint64) ([]float64, Seen) {
	c := rand.New(rand.NewPCG(seed, 7))
	tri := func(s Span) float64 { // the outer twentieths lie near low and high
		a, b, m := s.Low-(s.Likely-s.Low)*0.25, s.High+(s.High-s.Likely)*0.25, s.Likely
		a = max(a, s.Low*0.5)
		if u := c.Float64(); u < (m-a)/(b-a) {
			return a + math.Sqrt(u*(b-a)*(m-a))
		} else {
			return b - math.Sqrt((1-u)*(b-a)*(b-m))
		}
	}
	// By the pack's likely weights at 6, 12, 18 and 24 months (68, 150, 220 and
	// 260 g) a von Bertalanffy curve from 2.5 g ends near 343 g at 0.10 a month.
	last := f.Growth[len(f.Growth)-1].Grams
	end := 343 * tri(last) / last.Likely
	speed := 0.10 * math.Exp(0.12*c.NormFloat64()) // a month, on the cube root of weight
	start := f.Growth[0].Grams.Likely
	curve := func(months float64) float64 {
		l0, l1 := math.Cbrt(start), math.Cbrt(end)
		return math.Pow(l1-(l1-l0)*math.Exp(-speed*months), 3)
	}
	infant, young, old := tri(f.HatchlingLoss), tri(f.JuvenileLoss), tri(f.AdultLoss)
	raids, capacity, ripe := tri(f.UnseenLoss), tri(f.CapacityKgM2), tri(f.MaturityMonths)
	eggs, hatch := tri(f.EggsYear), min(tri(f.Hatch), 0.99)
	foundBodies, foundEggs := min(tri(foundBodies), 1), min(tri(foundEggs), 1)

	var all []beast
	for range int(p.Batches[0].Count) {
		age := 0.0
		for curve(age) < p.Batches[0].MeanG && age < 40 {
			age += 0.05
		}
		all = append(all, beast{age: age, size: math.Exp(0.24 * c.NormFloat64()), dies: c.ExpFloat64(), bought: true})
	}
	scale := p.Batches[0].MeanG / curve(all[0].age)
	const month = 7 / DaysPerMonth
	nest := map[int]int{}
	pen := newPen(seed, p, f)
	out := make([]float64, p.Weeks)
	wander := 0.0
	for w := range p.Weeks {
		if w%4 == 0 {
			wander = 0.7*wander + 0.15*c.NormFloat64()
		}
		weigh := func(b beast) float64 { return curve(b.age) * b.size * scale }
		var kg, adults float64
		for _, b := range all {
			kg += weigh(b) / 1000
			if b.age > ripe {
				adults++
			}
		}
		x := kg / capacity / p.FloorM2
		squeeze := min(1, max(0.1, 1.8-0.8*x))
		laid := 0.0
		for range int(pen.poisson(adults * eggs * 7 / 365.25 * squeeze / f.ClutchEggs)) {
			laid += 1 + pen.poisson(f.ClutchEggs-1)
		}
		nest[w+4] += int(laid)
		for range nest[w] {
			if c.Float64() < hatch*squeeze {
				all = append(all, beast{size: math.Exp(0.24 * c.NormFloat64()), dies: c.ExpFloat64()})
			}
		}
		raid := 0.0
		if c.Float64() < 0.1 {
			raid = -math.Log1p(-min(raids, 0.9)) * month * 10
		}
		bodies, rest := 0.0, all[:0]
		for _, b := range all {
			hazard := old
			switch {
			case b.age < 1:
				hazard = infant
			case b.age < ripe:
				hazard = young
			}
			b.dies -= -math.Log1p(-min(hazard, 0.9)) * month * max(1, x)
			b.age += month * squeeze * math.Exp(wander)
			switch {
			case b.dies < 0:
				bodies++
			case c.Float64() < raid:
			default:
				rest = append(rest, b)
			}
		}
		all = rest
		var there, grams, bought float64
		for _, b := range all {
			if g := weigh(b); g >= p.Harvest.MarketG {
				out[w]++
			}
			if b.age >= 1 {
				there++
			}
			if b.bought {
				grams += weigh(b)
				bought++
			}
		}
		if bought > 0 {
			grams /= bought
		}
		pen.week(w, foundBodies, foundEggs, bodies, laid, there, grams)
	}
	return out, pen.seen()
}

// someHouse is a house of a seed: the same calendar for all.
func someHouse(seed uint64) Plan {
	c := rand.New(rand.NewPCG(seed, 11))
	p := house(92) // to the last week of month 21
	p.FloorM2 = 15 + 45*c.Float64()
	p.Batches[0].Count = math.Round(80 + 320*c.Float64())
	p.Batches[0].MeanG = 60 + 30*c.Float64()
	p.Harvest = Harvest{MarketG: 85}
	return p
}

// someHouseMonths is how many points such a house has from its first day on.
const someHouseMonths = 21

// made is one band and what came of it.
type made struct{ low, high, truth, share float64 }

// score is the interval score of a band of 80 in 100 (Gneiting and Raftery
// 2007, from memory): its width, and ten times what it misses by.
func (m made) score() float64 {
	return m.high - m.low + 10*max(m.low-m.truth, 0) + 10*max(m.truth-m.high, 0)
}

type outcome struct {
	bands  map[[2]int][]made // by month made, month meant
	plain  map[int][]float64 // share of the animals put in that is for sale, by month meant
	asked  int
	weak   int
	farms  int
	counts int
}

// farmed projects farms of a world at several months for several months.
func farmed(t testing.TB, w world, seed uint64, farms int, ways [][2]int) outcome {
	t.Helper()
	f := marginata()
	m, err := NewModel(f)
	require.NoError(t, err)
	o := outcome{bands: map[[2]int][]made{}, plain: map[int][]float64{}, farms: farms}
	for i := range farms {
		p := someHouse(seed + uint64(i))
		saleable, seen := w.live(p, f, seed^uint64(i)<<20)
		projected := map[int]*Projection{}
		for _, way := range ways {
			at, to := way[0], way[1]
			if projected[at] == nil {
				q := p
				q.Today = p.From.Add(int(float64(at) * DaysPerMonth))
				told := seen.until(q.Today)
				out, err := m.Project(q, told, DrawSeed+uint64(i), Runs)
				require.NoError(t, err)
				o.asked += len(out.Learned.Questions)
				o.counts += len(told.Counts)
				if len(out.Learned.Questions) > 0 {
					for _, q := range out.Learned.Questions {
						told.Counts[q.Count].Answer = Stands // counted again
					}
					out, err = m.Project(q, told, DrawSeed+uint64(i), Runs)
					require.NoError(t, err)
				}
				if out.Learned.Tempered < 1 {
					o.weak++
				}
				projected[at] = out
			}
			points := projected[at].Points
			point := points[len(points)-1-(someHouseMonths-to)]
			week := point.On.Sub(p.From)/7 - 1
			b := made{point.Saleable.Low, point.Saleable.High, saleable[week], saleable[week] / p.Batches[0].Count}
			o.bands[way] = append(o.bands[way], b)
		}
	}
	return o
}

func (o outcome) covered(way [2]int) float64 {
	var in float64
	for _, b := range o.bands[way] {
		if b.truth >= b.low && b.truth <= b.high {
			in++
		}
	}
	return in / float64(len(o.bands[way]))
}

// historic is the score of "typical value with historic spread": the middle 80
// of 100 shares of other farms, times the animals put in.
func (o outcome) scores(way [2]int, seed uint64) (ours, historic float64) {
	var shares []float64
	for _, b := range o.bands[way] {
		shares = append(shares, b.share)
	}
	slices.Sort(shares)
	low, high := shares[len(shares)/10], shares[len(shares)*9/10]
	for i, b := range o.bands[way] {
		n := someHouse(seed + uint64(i)).Batches[0].Count
		ours += b.score()
		historic += made{low: low * n, high: high * n, truth: b.truth}.score()
	}
	return ours, historic
}

func (o outcome) width(way [2]int) float64 {
	var all []float64
	for _, b := range o.bands[way] {
		all = append(all, b.high-b.low)
	}
	slices.Sort(all)
	return all[len(all)/2]
}

// ways are (made in month, meant for month): 3, 6 and 12 months ahead, at
// stocking and half a year on, and one date seen from stocking and month 9.
var ways = [][2]int{{0, 3}, {0, 6}, {0, 12}, {6, 9}, {6, 12}, {6, 18}, {9, 12}}

func report(t testing.TB, name string, o outcome, seed uint64) {
	for _, way := range ways {
		ours, historic := o.scores(way, seed)
		t.Logf("%s: made in month %d for month %d: covers %.1f %%, score %.3f of historic spread's, width %.0f",
			name, way[0], way[1], 100*o.covered(way), ours/historic, o.width(way))
	}
	t.Logf("%s: %d farms, %d of %d counts asked about, %d times tempered", name, o.farms, o.asked, o.counts, o.weak)
}

// trialSeed is where the farms of a trial begin. The seeds below 77,000 were
// looked at while the engine was written; this one was not.
const trialSeed = 77_000

// The whole trial takes minutes, so it stands with the figures of make bench.
// It is held to the house's figure; a world of other laws is reported beside it.
func BenchmarkBandsCoverInAWholeTrial(t *testing.B) {
	m, err := NewModel(marginata())
	require.NoError(t, err)
	o := farmed(t, fair{m}, trialSeed, 600, ways)
	report(t, "fair", o, trialSeed)
	report(t, "strange", farmed(t, strange{}, trialSeed, 600, ways), trialSeed)
	for _, way := range [][2]int{{6, 9}, {6, 12}, {6, 18}} { // 3, 6 and 12 months ahead
		t.ReportMetric(100*o.covered(way), fmt.Sprintf("%%-covered-%d-to-%d", way[0], way[1]))
		require.InDelta(t, 0.80, o.covered(way), 0.03, "made in month %d for month %d", way[0], way[1])
		ours, historic := o.scores(way, trialSeed)
		require.Less(t, ours, historic)
	}
	require.LessOrEqual(t, o.width([2]int{9, 12}), 0.6*o.width([2]int{0, 12}))
}

// Forty farms, as many as every run of the tests can bear: by chance alone a
// share of 0.80 lies outside 0.60 to 0.95 once in two hundred times, so it
// catches a band that is badly wrong, not one that is a little off.
func TestBandsCoverInAFairWorld(t *testing.T) {
	m, err := NewModel(marginata())
	require.NoError(t, err)
	few := [][2]int{{0, 12}, {6, 9}, {6, 12}}
	o := farmed(t, fair{m}, 1000, 40, few)
	for _, way := range few {
		require.InDelta(t, 0.775, o.covered(way), 0.175, "made in month %d for month %d", way[0], way[1])
	}
	ours, historic := o.scores([2]int{6, 12}, 1000)
	require.Less(t, ours, historic, "what a farm has written is worth more than what other farms did")
}

// A count far off what the rest explains asks first, and moves nothing until
// the farm has answered.
func TestACountThatDoesNotFitAsksFirst(t *testing.T) {
	m, err := NewModel(marginata())
	require.NoError(t, err)
	p := house(92)
	p.Harvest.Every = 0
	p.Today = p.From.Add(120)
	var days []Day
	for d := range 120 {
		days = append(days, Day{On: p.From.Add(d), Eggs: -1})
	}
	calm := Seen{Days: days}
	before, err := m.Project(p, calm, DrawSeed, Runs)
	require.NoError(t, err)
	with := func(answer Answer, n float64) *Projection {
		s := calm
		s.Counts = []Count{{On: p.From.Add(110), N: n, Answer: answer}}
		out, err := m.Project(p, s, DrawSeed, Runs)
		require.NoError(t, err)
		return out
	}
	asked := with(NotAsked, 60)
	require.Len(t, asked.Learned.Questions, 1)
	require.Greater(t, asked.Learned.Questions[0].Expected.Low, 60.0)
	require.Equal(t, before.Points[3].Animals, asked.Points[3].Animals, "nothing has moved")
	require.Equal(t, before.Points[3].Animals, with(Miscount, 60).Points[3].Animals)
	told := with(Stands, 60)
	require.Empty(t, told.Learned.Questions)
	require.Less(t, told.Points[0].Animals.Likely, before.Points[0].Animals.Likely)
	require.Empty(t, with(NotAsked, before.Points[0].Animals.Likely).Learned.Questions, "one that fits is not asked about")
}

// Where no run explains a farm its numbers speak with less weight, and the
// answer says so.
func TestNumbersThatCannotBeAreTempered(t *testing.T) {
	m, err := NewModel(marginata())
	require.NoError(t, err)
	p := house(92)
	p.Today = p.From.Add(300)
	s := Seen{Counts: []Count{{On: p.From.Add(250), N: 9000, Answer: Stands}, {On: p.From.Add(280), N: 3, Answer: Stands}}}
	out, err := m.Project(p, s, DrawSeed, Runs)
	require.NoError(t, err)
	require.Less(t, out.Learned.Tempered, 1.0)
	require.InDelta(t, enough, out.Learned.Effective, 1)
	require.Equal(t, rounds, out.Learned.Rounds)
}

func TestTheLikelihoodIsTheNegativeBinomial(t *testing.T) {
	// Sums to one, with the mean and the variance that it is called by.
	const mean, size = 7.0, 4.0
	var all, first, second float64
	for k := range 400 {
		p := math.Exp(negativeBinomial(float64(k), mean, size))
		all += p
		first += float64(k) * p
		second += float64(k*k) * p
	}
	require.InDelta(t, 1, all, 1e-9)
	require.InDelta(t, mean, first, 1e-9)
	require.InDelta(t, mean+mean*mean/size, second-first*first, 1e-6)
}
