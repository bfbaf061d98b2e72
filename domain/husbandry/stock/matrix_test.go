package stock

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// plainCase is a stage matrix of husbandry facts section 11.3: m juvenile
// stages a month each, of which every one survives by sj, adults by sa; an
// adult puts f young a month into the first stage, and the last stage joins
// the adults. The growth rate a month was worked out outside this program by
// L^m (L - sa) = f sj^m.
type plainCase struct {
	name       string
	m          int
	sj, sa, f  float64
	lambda     float64
	monthsToGo int
}

var plainCases = []plainCase{
	{"S1", 10, 0.95, 0.98, 80 * 0.80 / 12, 1.270773186, 240},
	{"S2", 16, 0.92, 0.98, 200 * 0.90 / 12, 1.198376250, 400},
	{"S3", 6, 0.85, 0.97, 1000 * 0.90 / 12, 1.800437279, 200},
	{"S4", 12, 0.70, 0.90, 2, 0.950748178, 600},
	{"S5", 1, 0.1, 0.9, 2, 1.084428877, 200},
}

// plain is a run without chance, crowding or harvest, of steps of so many
// months. A birth in a monthly step is counted at its end, half a month late
// on average; shorter steps wait that half month as incubation.
func (c plainCase) plain(months float64) *run {
	r := &run{gather: 1, spread: newSpread(0)}
	r.eggs1(c.f * months)
	wait := (0.5 - months/2) / months
	r.wait = int(wait)
	r.later = wait - float64(r.wait)
	r.ramp = 1
	r.lays = float64(c.m)/months - 1
	r.hazard = [3]float64{0, -math.Log(c.sj) * months, -math.Log(c.sa) * months}
	r.capacity = 1
	r.weight[0] = 1
	r.begin(1)
	if months < 1 {
		r.gather = 4
	}
	return r
}

func (r *run) eggs1(f float64) { r.rates.eggs, r.clutch, r.rates.hatch = f, 1, 1 }

// matrix is the same as numbers.
func (c plainCase) matrix() *mat.Dense {
	a := mat.NewDense(c.m+1, c.m+1, nil)
	a.Set(0, c.m, c.f)
	for i := 1; i < c.m; i++ {
		a.Set(i, i-1, c.sj)
	}
	a.Set(c.m, c.m-1, c.sj)
	a.Set(c.m, c.m, c.sa)
	return a
}

// dominant is the largest real part among the eigenvalues, by gonum.
func dominant(t *testing.T, a mat.Matrix) float64 {
	t.Helper()
	var e mat.Eigen
	require.True(t, e.Factorize(a, mat.EigenNone))
	best := math.Inf(-1)
	for _, v := range e.Values(nil) {
		best = max(best, real(v))
	}
	return best
}

// total counts the animals; lambda is their growth in a step once the mixture
// of ages has settled, read over a whole number of steps.
func (r *run) total() float64 {
	var n float64
	for i := range r.live {
		n += r.n[i]
	}
	return n
}

func (r *run) lambda(steps, over int) float64 {
	for t := range steps {
		r.step(t, 1)
		r.shrink()
	}
	before := r.total()
	var grown float64 = 1
	for t := range over {
		r.step(steps+t, 1)
		now := r.total()
		grown *= now / before
		before = now
	}
	return math.Pow(grown, 1/float64(over))
}

// shrink keeps numbers that explode within what a float holds: the engine is
// linear without crowding.
func (r *run) shrink() {
	if n := r.total(); n > 1e12 || n < 1e-2 && n > 0 {
		for i := range r.live {
			r.n[i] /= n / 1e3
		}
		for i := range r.eggs {
			r.eggs[i] /= n / 1e3
		}
	}
}

func TestMonthlyWithoutChanceIsTheStageMatrix(t *testing.T) {
	for _, c := range plainCases {
		t.Run(c.name, func(t *testing.T) {
			want := dominant(t, c.matrix())
			require.InDelta(t, c.lambda, want, 1e-8, "gonum against the outside figure")
			r := c.plain(1)
			r.stock(0, 10, 1)
			r.age[0] = oldest
			require.InDelta(t, want, r.lambda(c.monthsToGo, 100), 1e-6)
		})
	}
}

func TestWeeksGrowAsMonthsDo(t *testing.T) {
	for _, c := range plainCases[:4] { // S5 has one stage of a month: no weeks fit into it
		t.Run(c.name, func(t *testing.T) {
			const week = 7 / DaysPerMonth
			r := c.plain(week)
			r.stock(0, 10, 1)
			r.age[0] = oldest
			got := math.Pow(r.lambda(c.monthsToGo*4, 400), 1/week)
			require.InEpsilon(t, c.lambda, got, 0.015)
			t.Logf("%s: %.4f by weeks, %.4f by months", c.name, got, c.lambda)
		})
	}
}

// The trajectory of S1 from ten adults, husbandry facts section 11.3.
func TestTheTrajectoryOfS1(t *testing.T) {
	want := map[int][2]float64{
		1: {53.333333, 9.8}, 2: {102.933333, 9.604}, 3: {149.008000, 9.41192}, 6: {268.000872, 8.858424},
		10: {388.152654, 8.170728}, 11: {380.389601, 39.939950}, 12: {543.089205, 70.435135},
		18: {4305.491336, 228.723652}, 24: {12622.745186, 937.542642},
	}
	c := plainCases[0]
	r := c.plain(1)
	r.stock(0, 10, 1)
	r.age[0] = oldest
	for month := 1; month <= 24; month++ {
		r.step(month-1, 1)
		var young, grown float64
		for i := range r.live {
			ripe := r.ripe(r.age[i])
			grown += r.n[i] * ripe
			young += r.n[i] * (1 - ripe)
		}
		if w, ok := want[month]; ok {
			require.InDelta(t, w[0], young, 1e-5*w[0], "juveniles in month %d", month)
			require.InDelta(t, w[1], grown, 1e-5*w[1], "adults in month %d", month)
		}
	}
}
