package stock

import (
	"math"
	"testing"

	"tendfold/domain"
	"tendfold/domain/calendar"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

func project(t *testing.T, f Figures, p Plan) *Projection {
	t.Helper()
	m, err := NewModel(f)
	require.NoError(t, err)
	out, err := m.Project(p, Seen{}, DrawSeed, Runs)
	require.NoError(t, err)
	return out
}

// A drawn value's fifth and ninety-fifth percentile are the pack's low and
// high: gonum's normal distribution says which z that is.
func TestLowAndHighAreTheOuterTwentieths(t *testing.T) {
	s, share := Span{12, 60, 100}, Span{0.44, 0.8, 0.98}
	for _, c := range []struct{ p, want, part float64 }{{0.05, 12, 0.44}, {0.5, 60, 0.8}, {0.95, 100, 0.98}} {
		z := distuv.UnitNormal.Quantile(c.p)
		require.InDelta(t, c.want, s.drawn(z), 1e-9)
		require.InDelta(t, c.part, share.share(z), 1e-9)
	}
}

// Whole animals lost have the mean and the variance of gonum's binomial, on
// both sides of the border between inversion and the normal curve.
func TestDrawnLossesAreBinomial(t *testing.T) {
	for _, c := range []struct{ n, p float64 }{{1, 0.3}, {5, 0.9}, {40, 0.05}, {400, 0.03}, {60, 0.5}, {2000, 0.2}} {
		want := distuv.Binomial{N: c.n, P: c.p}
		var r chance
		r.pcg.Seed(1, 2)
		const draws = 200_000
		var sum, squares float64
		for range draws {
			k := r.lost(c.n, -math.Log1p(-c.p))
			require.True(t, k >= 0 && k <= c.n && k == math.Trunc(k))
			sum += k
			squares += k * k
		}
		mean := sum / draws
		require.InDelta(t, want.Mean(), mean, 4*want.StdDev()/math.Sqrt(draws)+0.002*want.Mean())
		require.InEpsilon(t, want.Variance(), squares/draws-mean*mean, 0.03, "n=%g p=%g", c.n, c.p)
	}
}

// The share above a weight and the mean of the rest are those of gonum's
// log-normal distribution.
func TestSpreadIsLogNormal(t *testing.T) {
	s := newSpread(0.25)
	sigma := math.Sqrt(math.Log1p(0.25 * 0.25))
	d := distuv.LogNormal{Mu: -sigma * sigma / 2, Sigma: sigma}
	require.InDelta(t, 0.25, d.StdDev()/d.Mean(), 1e-12)
	for _, ratio := range []float64{0.5, 0.8, 1, 1.2, 1.9} {
		require.InDelta(t, 1-d.CDF(1/ratio), s.over(ratio), 1e-4)
	}
	for _, gone := range []float64{0.1, 0.5, 0.9} {
		var mean float64
		for i := range 100_000 {
			mean += d.Quantile((1-gone)*(float64(i)+0.5)/100_000) / 100_000
		}
		require.InDelta(t, mean, s.left(gone), 1e-3)
	}
}

func TestTheSameSeedGivesTheSameAnswer(t *testing.T) {
	require.Equal(t, project(t, marginata(), house(60)), project(t, marginata(), house(60)))
}

func TestAHouseThatFillsCrowdsAndSaysWhen(t *testing.T) {
	p := house(260)
	p.Harvest.Every = 0
	out := project(t, marginata(), p)
	require.NotNil(t, out.FullOn)
	require.Greater(t, out.FullShare, 0.9)
	last := out.Points[len(out.Points)-1]
	require.Less(t, last.Kg.High, 3*1.6*p.FloorM2, "crowding holds the house near what its floor carries")
	require.Greater(t, last.Kg.Low, 0.5*1.0*p.FloorM2)

	p.Harvest.ThinTo = 0.9
	thinned := project(t, marginata(), p)
	end := thinned.Points[len(thinned.Points)-1]
	require.LessOrEqual(t, end.Crowding.High, 1.02)
	require.Greater(t, end.Moved.Likely, 0.0)
}

func TestAHouseThatLosesMoreThanItBreedsDiesOut(t *testing.T) {
	f := marginata()
	f.AdultLoss, f.JuvenileLoss = Span{0.5, 0.6, 0.7}, Span{0.5, 0.6, 0.7}
	p := house(150)
	p.Harvest.Every = 0
	out := project(t, f, p)
	require.Greater(t, out.EmptyShare, 0.99)
	require.Zero(t, out.Points[len(out.Points)-1].Kg.High)
	require.Nil(t, out.FullOn)
}

func TestAHarvestLeavesTheParents(t *testing.T) {
	f := marginata()
	f.AdultLoss, f.UnseenLoss = Span{1e-6, 1e-6, 1e-6}, Span{1e-6, 1e-6, 1e-6}
	p := house(104)
	p.Batches = []Batch{{On: p.From, Count: 100, MeanG: 260}}
	p.Harvest = Harvest{From: p.From, Every: 30, MarketG: 120, Parents: 60}
	out := project(t, f, p)
	require.InDelta(t, 40, out.Points[0].Sold.Likely, 1.5)
	for _, point := range out.Points {
		require.GreaterOrEqual(t, point.Adults.Low, 58.0)
	}
	var sold float64
	for _, point := range out.Points[12:] {
		sold += point.Sold.Likely
	}
	require.Greater(t, sold, 50.0, "the young are sold when they are heavy enough")
}

// Florida 1966: three snails became over 18,000 in seven years (USDA APHIS
// pest alert; husbandry facts W12, factor 6,000). With the most that is
// published for that species and all the room of a town, the engine must be
// able to reach it; with room for nobody it must not.
func TestFloridaIsACeilingOfSanity(t *testing.T) {
	f := marginata()
	f.EggsYear, f.MaturityMonths = Span{100, 500, 1200}, Span{5, 6, 16}
	p := house(7 * 52)
	p.FloorM2 = 1e6
	p.Batches = []Batch{{On: p.From, Count: 3, MeanG: 300}}
	p.Harvest.Every = 0
	out := project(t, f, p)
	require.Greater(t, out.Points[83].Animals.High, 18_000.0)
	p.FloorM2 = 1
	require.Less(t, project(t, f, p).Points[83].Kg.High, 6.0, "one square metre carries a kilogram or two, whatever is laid")
}

func TestNothingIsNotANumber(t *testing.T) {
	m, err := NewModel(marginata())
	require.NoError(t, err)
	rapid.Check(t, func(t *rapid.T) {
		from := calendar.NewDate(2026, 1, 1)
		day := func(name string) calendar.Date { return from.Add(rapid.IntRange(-30, 900).Draw(t, name)) }
		p := Plan{
			FloorM2: rapid.Float64Range(0.01, 1e6).Draw(t, "floor"), From: from, Today: from.Add(rapid.IntRange(0, 400).Draw(t, "today")),
			Weeks: rapid.IntRange(1, 150).Draw(t, "weeks"),
			Harvest: Harvest{
				From: day("from"), Every: rapid.IntRange(0, 90).Draw(t, "every"),
				MarketG: rapid.Float64Range(0.01, 1e5).Draw(t, "market"), Parents: rapid.Float64Range(0, 1000).Draw(t, "parents"),
				ThinTo: rapid.Float64Range(0, 1).Draw(t, "thin"),
			},
		}
		for range rapid.IntRange(0, 4).Draw(t, "batches") {
			p.Batches = append(p.Batches, Batch{day("on"), float64(rapid.IntRange(0, mostAnimals).Draw(t, "count")), rapid.Float64Range(0.01, 1e5).Draw(t, "g")})
		}
		for range rapid.IntRange(0, 4).Draw(t, "takings") {
			p.Taken = append(p.Taken, Taken{day("out"), float64(rapid.IntRange(0, 1000).Draw(t, "n")), rapid.SampledFrom([]Way{Sold, Moved, Stolen}).Draw(t, "way")})
		}
		out, err := m.Project(p, Seen{}, 7, 8)
		require.NoError(t, err)
		for i := range out.Points {
			for s, b := range out.Points[i].bands() {
				require.False(t, math.IsNaN(b.Low+b.Likely+b.High) || math.IsInf(b.Low+b.Likely+b.High, 0), "stream %d", s)
				require.LessOrEqual(t, b.Low, b.Likely)
				require.LessOrEqual(t, b.Likely, b.High)
			}
		}
	})
}

func TestBadFiguresAndPlansAreRefusedByName(t *testing.T) {
	f := marginata()
	f.Hatch = Span{0.9, 0.8, 0.7}
	f.WeightCV = math.NaN()
	_, err := NewModel(f)
	require.Equal(t, "stock-figures", domain.CodeOf(err))
	require.ErrorContains(t, err, "hatch")
	require.ErrorContains(t, err, "weight_cv")

	m, err := NewModel(marginata())
	require.NoError(t, err)
	for _, spoil := range []func(*Plan){
		func(p *Plan) { p.FloorM2 = 0 },
		func(p *Plan) { p.FloorM2 = math.NaN() },
		func(p *Plan) { p.Weeks = 0 },
		func(p *Plan) { p.Weeks = 1e6 },
		func(p *Plan) { p.Batches[0].Count = -1 },
		func(p *Plan) { p.Batches[0].MeanG = math.Inf(1) },
		func(p *Plan) { p.Harvest.MarketG = 0 },
		func(p *Plan) { p.Today = p.From.Add(-1) },
	} {
		p := house(52)
		spoil(&p)
		_, err := m.Project(p, Seen{}, 1, 10)
		require.Equal(t, "stock-plan", domain.CodeOf(err))
	}
}
