package checklists

import (
	"errors"
	"sync"
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/domain/programme"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestAPackOfOnesOwnTakesThePlaceOfAShippedOne(t *testing.T) {
	set := fresh(t)
	_, err := set.Network("snail", programme.GrowOut, programme.Season{})
	require.NoError(t, err)
	require.NoError(t, set.Add(bent(t, packFile, "enterprise: duck", "enterprise: snail")))
	p, _ := set.Pack("snail")
	require.Equal(t, "Ducks", p.Name.EN)
	n, err := set.Network("snail", programme.GrowOut, programme.Season{})
	require.NoError(t, err)
	require.Len(t, n.Milestones(), 3, "the network of the old pack is gone with it")
}

func TestABrokenPackLeavesTheSetAsItWas(t *testing.T) {
	set := fresh(t)
	err := set.Add(bent(t, trainingFile, "months: 6", "months: 0"))
	var refused *domain.Error
	require.True(t, errors.As(err, &refused))
	require.Equal(t, domain.KindInvalid, refused.Kind)
	require.Equal(t, []domain.Field{{
		Path: "training.yaml:5:13", Code: "pack-wrong", Text: "months: 0 is out of range; it must lie between 1 and 120",
	}}, refused.Fields)
	require.Contains(t, err.Error(), "training.yaml:5:13")
	require.Equal(t, []string{"catfish", "snail"}, set.Enterprises())
}

func TestNetworksAreCompiledOnceASeason(t *testing.T) {
	set := embedded(t)
	season := func(months ...time.Month) programme.Season {
		return programme.Season{NotIn: map[string][]time.Month{"stocked": months}}
	}
	get := func(purpose programme.Purpose, s programme.Season) *programme.Network {
		n, err := set.Network("snail", purpose, s)
		require.NoError(t, err)
		return n
	}
	first := get(programme.GrowOut, season(time.July))
	require.Same(t, first, get(programme.GrowOut, season(time.July)), "equal seasons share one network")
	require.NotSame(t, first, get(programme.GrowOut, season(time.August)))
	require.NotSame(t, first, get(programme.Breeding, season(time.July)))
}

func TestNetworkRefusesWhatItCannotCompile(t *testing.T) {
	set := embedded(t)
	_, err := set.Network("goat", programme.GrowOut, programme.Season{})
	require.Equal(t, "enterprise-unknown", domain.CodeOf(err))
	require.ErrorContains(t, err, "catfish, snail")
	_, err = set.Network("catfish", programme.Breeding, programme.Season{NotIn: map[string][]time.Month{"never": {1}}})
	require.Equal(t, domain.KindInvalid, domain.KindOf(err))
}

func TestASetServesManyAtOnce(t *testing.T) {
	set := embedded(t)
	var wg sync.WaitGroup
	for i := range 8 {
		wg.Go(func() {
			for month := time.January; month <= time.December; month++ {
				_, err := set.Network("snail", programme.Breeding, programme.Season{NotIn: map[string][]time.Month{"stocked": {month, time.Month(1 + i)}}})
				if err != nil {
					t.Errorf("month %d: %v", month, err)
				}
			}
		})
	}
	wg.Wait()
}

func TestTheCacheIsBounded(t *testing.T) {
	set := fresh(t)
	for i := range mostNetworks + 5 {
		var season programme.Season
		for m := range season.Rate {
			season.Rate[m] = 1
		}
		season.Rate[0] = 1 + float64(i)/1e4
		_, err := set.Network("catfish", programme.GrowOut, season)
		require.NoError(t, err)
	}
	require.LessOrEqual(t, len(set.networks), mostNetworks)
}

func TestWordsAreFoundHoweverTheyAreTyped(t *testing.T) {
	p := pack(t, "snail")
	for typed, want := range map[string]string{
		"concrete-block": "concrete-block", "Concrete Blocks": "concrete-block", "PARPAINGS": "concrete-block", "agglomérés": "concrete-block",
		"agglomeres": "concrete-block", "  cement_blocks ": "concrete-block", "Béton": "concrete", "beton": "concrete", "bois.": "timber",
	} {
		w, ok := p.Word("wall_base", typed)
		require.True(t, ok, typed)
		require.Equal(t, want, w.Key, typed)
	}
	for _, typed := range []string{"", "  ", "-", "gold", "concrete blocks and gold"} {
		_, ok := p.Word("wall_base", typed)
		require.False(t, ok, typed)
	}
	_, ok := p.Word("colour", "wood")
	require.False(t, ok, "no such column")
}

// The build sheet's own words for water, both languages (product words).
func TestWaterWordsOfTheRegister(t *testing.T) {
	for _, enterprise := range embedded(t).Enterprises() {
		for typed, want := range map[string]string{
			"mains": "mains", "well": "well", "borehole": "borehole", "river": "river", "rain": "rain", "pump": "pump", "gravity": "gravity",
			"réseau": "mains", "puits": "well", "forage": "borehole", "rivière": "river", "pluie": "rain", "pompe": "pump", "gravité": "gravity",
		} {
			w, ok := pack(t, enterprise).Word("water", typed)
			require.True(t, ok, typed)
			require.Equal(t, want, w.Key)
		}
	}
}

func TestSpeciesAreFoundByAnyOfTheirNames(t *testing.T) {
	p := pack(t, "snail")
	for typed, want := range map[string]string{
		"Archachatina marginata": "archachatina-marginata", "A. marginata": "archachatina-marginata", "marginata": "archachatina-marginata",
		"Achatina fulica": "lissachatina-fulica", "L.fulica": "lissachatina-fulica", "escargot tigré": "achatina-achatina",
	} {
		s, ok := p.FindSpecies(typed)
		require.True(t, ok, typed)
		require.Equal(t, want, s.Key, typed)
	}
	_, ok := p.FindSpecies("Helix aspersa")
	require.False(t, ok)
}

func TestSpeciesDoNotShareNames(t *testing.T) {
	for _, enterprise := range embedded(t).Enterprises() {
		p := pack(t, enterprise)
		for _, s := range p.Species {
			for _, typed := range append(s.Also, s.Key, s.Latin, s.Name.EN, s.Name.FR) {
				found, ok := p.FindSpecies(typed)
				require.True(t, ok)
				require.Equal(t, s.Key, found.Key, typed)
			}
		}
	}
}

func TestDensityFollowsTheWeight(t *testing.T) {
	p := pack(t, "snail")
	for g, perM2 := range map[float64]float64{1: 200, 5: 100, 35: 80, 99: 80, 100: 10, 400: 10, 0: 200} {
		d, ok := p.Species[0].DensityAt(g)
		require.True(t, ok)
		require.Equal(t, perM2, d.PerM2.Value, "%v g", g)
	}
	_, ok := Species{}.DensityAt(10)
	require.False(t, ok)
}

// A crowded tray of the Ghana survey, 100 snails of 50 g on 0.6 x 0.3 m, must
// be flagged and yet be possible (PLEC Ghana, pp. 237-238: 555 a square metre
// and 27.8 kg).
func TestTheMostCrowdedTrayIsFlaggedNotRefused(t *testing.T) {
	s := pack(t, "snail").Species[0]
	perM2, kgPerM2 := 100/(0.6*0.3), 5/(0.6*0.3)
	require.InDelta(t, 555.6, perM2, 0.1)
	require.InDelta(t, 27.8, kgPerM2, 0.1)
	d, _ := s.DensityAt(50)
	require.Greater(t, perM2, d.PerM2.Value)
	require.Greater(t, kgPerM2, d.KgPerM2.Value)
	require.Less(t, perM2, s.MaxPerM2.Value)
}

// Weekly for six weeks after handover, then fortnightly, monthly, quarterly:
// common practice.
func TestVisitsThinOutAfterHandover(t *testing.T) {
	p := pack(t, "snail")
	for since, every := range map[int]int{0: 7, 41: 7, 42: 14, 125: 14, 126: 30, 365: 30, 366: 91, 2000: 91} {
		require.Equal(t, every, p.VisitEvery("first-harvest", since), "%d days after handover", since)
	}
	require.Equal(t, 14, p.VisitEvery("cover-ready", 400), "a late build is still seen fortnightly")
	require.Equal(t, 91, p.VisitEvery("first-harvest", -1), "handover not known")
	require.Zero(t, p.VisitEvery("no-such", -1))
}

func TestLookUps(t *testing.T) {
	p := pack(t, "catfish")
	m, ok := p.Milestone("stocked")
	require.True(t, ok)
	require.Equal(t, "Empoissonné", m.Name.In("fr"))
	require.Equal(t, "Stocked", m.Name.In("de"), "English for any other language")
	_, ok = p.Item("rcd-tested")
	require.True(t, ok)
	_, ok = p.Module("grading")
	require.True(t, ok)
	sign, ok := p.Sign("gasping")
	require.True(t, ok)
	require.False(t, sign.Danger)
	g, ok := p.GoAhead("ready-to-stock")
	require.True(t, ok)
	require.Equal(t, 14, g.LeadDays)
	for _, miss := range []bool{
		second(p.Milestone("x")), second(p.Item("x")), second(p.Module("x")), second(p.Sign("x")), second(p.GoAhead("x")), second(p.GoAheadOf("x")),
	} {
		require.False(t, miss)
	}
}

func second[T any](_ T, ok bool) bool { return ok }

func TestMeasuredHoldsItsEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low, high := rapid.Float64Range(0, 50).Draw(t, "low"), rapid.Float64Range(50, 100).Draw(t, "high")
		v := rapid.Float64Range(0, 100).Draw(t, "v")
		for _, c := range []struct {
			low, high *float64
			want      bool
		}{{&low, &high, low <= v && v <= high}, {&low, nil, v >= low}, {nil, &high, v <= high}, {nil, nil, true}} {
			require.Equal(t, c.want, Measured{Low: c.low, High: c.high}.OK(v))
			require.Equal(t, c.want, Limit{Low: c.low, High: c.high}.OK(v))
		}
	})
}

func TestEveryMeasureIsBounded(t *testing.T) {
	for _, m := range Measures() {
		low, high := m.Possible()
		require.Less(t, low, high, m)
	}
}

func TestFoldForgetsCapitalsAccentsAndMarks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "s")
		once := fold(s)
		require.Equal(t, once, fold(once), "folding twice is folding once")
	})
}
