package truth

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tendfold/domain/calendar"
)

var newYear = calendar.MustDate("2024-01-01")

func land(w World) *Land { return NewLand(5, w, newYear) }

// farmOf is the first farm of a plan.
func farmOf(t *testing.T, l *Land, enterprise, purpose string) *Farm {
	for i := range 200 {
		if f := l.Farm(i); f.Plan.Enterprise == enterprise && f.Plan.Purpose == purpose {
			return f
		}
	}
	t.Fatal("no such farm")
	return nil
}

func TestSameSeedSameFarms(t *testing.T) {
	for i := range 20 {
		a, b := land(Fair).Farm(i), land(Fair).Farm(i)
		x, y := a.Run(a.Inject(Kinds(), 540)), b.Run(b.Inject(Kinds(), 540))
		require.Equal(t, x.Faults, y.Faults)
		require.Equal(t, x.Done, y.Done)
		require.Equal(t, x.Evidence(540), y.Evidence(540))
		require.Equal(t, x.Cases(), y.Cases())
	}
	require.NotEqual(t, land(Fair).Farm(0).days, NewLand(6, Fair, newYear).Farm(0).days)
}

// Real growth has a law of its own, but in the middle of all farms steps take
// what the table says.
func TestStepsKeepTheirMedians(t *testing.T) {
	for _, w := range Worlds() {
		took := map[string][]float64{}
		plans := map[string]*Plan{}
		for i := range 1500 {
			f := land(w).Farm(i)
			for s := range f.Plan.Steps {
				key := f.Plan.Purpose + f.Plan.Enterprise + f.Plan.Steps[s].Name
				took[key], plans[key] = append(took[key], f.days[s]), f.Plan
			}
		}
		for key, days := range took {
			slices.Sort(days)
			st := plans[key].Steps[plans[key].At(key[len(plans[key].Purpose+plans[key].Enterprise):])]
			want := st.median(w) - st.sale(w)
			require.InDelta(t, want, days[len(days)/2], .12*want+.01, "%s in the %s world", key, w)
		}
	}
}

func TestStepsFollowEachOther(t *testing.T) {
	for i := range 200 {
		f := land(Fair).Farm(i)
		c := f.Run(f.Inject(Kinds(), 540))
		for s, st := range f.Plan.Steps {
			for _, p := range st.After {
				if st.Name == Stocked && c.fault(GoAheadSkipped) != nil {
					continue // that is the fault
				}
				require.GreaterOrEqual(t, c.Done[s], c.Done[p], "farm %d: %s before %s", i, st.Name, f.Plan.Steps[p].Name)
			}
		}
		month := f.Start.Add(c.Stocked()).Month()
		require.False(t, f.Plan.Season.Closed[month-1], "farm %d stocked in %s", i, month)
	}
}

func TestRatesThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		start := newYear.Add(rapid.IntRange(0, 700).Draw(t, "start"))
		r := sums(&southWest.Rate, start, 900)
		from, days := rapid.Float64Range(0, 800).Draw(t, "from"), rapid.Float64Range(0, 600).Draw(t, "days")
		end := r.after(from, days)
		require.InDelta(t, days, r.at(end)-r.at(from), 1e-9)
		require.GreaterOrEqual(t, end, from-1e-9)
	})
}

// A year of the table is a year of average days.
func TestSeasonsAverageOne(t *testing.T) {
	for _, s := range []*Season{&southWest, &warmWater} {
		for _, table := range [][12]float64{s.Rate, s.Plants} {
			sum := 0.0
			for _, r := range table {
				sum += r
			}
			if sum > 0 {
				require.InDelta(t, 12, sum, 1e-9)
			}
		}
	}
}

func TestCurvesRunFromCornerToCorner(t *testing.T) {
	require.InDelta(t, 0, Cover(0), 1e-9)
	require.InDelta(t, coverReady, Cover(1), 1e-9)
	for _, h := range []*Herd{&growers, &breeders, &fish} {
		last := h.Weight(h.FromG, 0)
		require.InDelta(t, h.FromG, last, 1e-9)
		for p := .01; p < 1.2; p += .01 {
			w := h.Weight(h.FromG, p)
			require.Greater(t, w, last)
			last = w
		}
		require.InDelta(t, h.MarketG, h.Weight(h.FromG, 1), 1e-9)
	}
	require.InDelta(t, 35, breeders.Weight(2.5, breeders.SortedAt), 1e-9)
}

// Planning curve of the snail reference, section 3b (g at months of age), and
// the growth by the feed curve of the catfish reference, section 4b, worked
// out at 1.2 kg feed a kg: 146 g at half the time.
func TestCurvesLieOnTheReference(t *testing.T) {
	for month, g := range map[float64]float64{4: 35, 6: 68, 8: 95, 10: 125, 12: 150, 18: 220} {
		require.InEpsilon(t, g, growers.Weight(35, (month-4)/14), .03)
		require.InEpsilon(t, g, breeders.Weight(2.5, month/18), .03)
	}
	for month, g := range map[float64]float64{1: 5, 2: 12, 3: 22} {
		require.InEpsilon(t, g, breeders.Weight(2.5, month/18), .06)
	}
	require.InEpsilon(t, 146.2, fish.Weight(8.5, .5), .03)
}

func TestWorldsMakeDeathsWorse(t *testing.T) {
	dead := map[World]float64{}
	for _, w := range Worlds() {
		for i := range 300 {
			c := land(w).Farm(i).Run(nil)
			for day := c.Stocked(); day < c.Stocked()+60; day++ {
				dead[w] += float64(c.Deaths(day)) / float64(c.Farm.count)
			}
		}
	}
	require.InEpsilon(t, 1.3, dead[Optimistic]/dead[Fair], .05)
	require.InEpsilon(t, 0.7, dead[Pessimistic]/dead[Fair], .05)
}

// Luck is the same with and without a fault: a silent farm has written the
// same entries up to its silence, and what dies of other causes is the same.
func TestFaultsShiftNoOtherLuck(t *testing.T) {
	f := farmOf(t, land(Fair), "catfish", "grow-out")
	silent := f.Run([]Fault{{Kind: SilentFarm, From: 100, Days: 40, Factor: 1}})
	twin := f.Run(nil)
	before := func(c *Course) (out []Entry) {
		for _, e := range c.Evidence(300) {
			if e.Received < f.Start.Add(100) {
				out = append(out, e)
			}
		}
		return out
	}
	require.NotEmpty(t, before(twin))
	require.Equal(t, before(twin), before(silent))
	for day := range 100 {
		require.Equal(t, twin.Deaths(day), silent.Deaths(day))
	}
	require.Greater(t, silent.Harvest(), twin.Harvest())
}

func TestWorkStandsStillInSilence(t *testing.T) {
	c := Course{silences: []span{{10, 20}, {22, 25}}}
	for _, x := range []struct {
		from     int
		days     float64
		end      int
		question string
	}{
		{0, 8, 8, "done before"},
		{0, 13, 26, "ten days and three stand still"},
		{12, 4, 27, "begun in the silence"},
		{0, 11.4, 21, "rounded"},
		{30, 5, 35, "after all of it"},
	} {
		require.Equal(t, x.end, c.work(x.from, x.days), x.question)
	}
}

func TestRoundsHalfUp(t *testing.T) {
	require.Equal(t, 3, round(2.5))
	require.Equal(t, 2, round(math.Nextafter(2.5, 0)))
}
