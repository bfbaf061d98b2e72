package matrix_test

import (
	"math"
	"testing"

	"tendfold/domain"
	"tendfold/domain/husbandry/matrix"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Projections worked out apart from this code, for herds like those of the
// three species: lambda a month and a year.
var herds = map[string]struct {
	matrix.Stages
	month, year float64
}{
	"S1, like Archachatina marginata": {matrix.Stages{Juvenile: 10, JuvenileSurvival: .95, AdultSurvival: .98, BirthsPerMonth: 80 * .80 / 12}, 1.270773186, 17.734400},
	"S2, like Achatina achatina":      {matrix.Stages{Juvenile: 16, JuvenileSurvival: .92, AdultSurvival: .98, BirthsPerMonth: 200 * .90 / 12}, 1.198376250, 8.772398},
	"S3, like Lissachatina fulica":    {matrix.Stages{Juvenile: 6, JuvenileSurvival: .85, AdultSurvival: .97, BirthsPerMonth: 1000 * .90 / 12}, 1.800437279, 1160.208},
	"S4, declining":                   {matrix.Stages{Juvenile: 12, JuvenileSurvival: .70, AdultSurvival: .90, BirthsPerMonth: 2}, 0.950748178, 0.545489},
	"S5":                              {matrix.Stages{Juvenile: 1, JuvenileSurvival: .1, AdultSurvival: .9, BirthsPerMonth: 2}, 1.084428877, math.Pow(1.084428877, 12)},
}

func TestGrowthOfKnownHerds(t *testing.T) {
	for name, h := range herds {
		got, err := h.Growth()
		require.NoError(t, err)
		require.InDelta(t, h.month, got, 1e-8, name)
		require.InEpsilon(t, h.year, math.Pow(got, 12), 1e-5, name)
		byMatrix, err := matrix.Dominant(h.Rows())
		require.NoError(t, err)
		require.InDelta(t, got, byMatrix, 1e-9, "gonum's eigenvalues of %s", name)
	}
}

func TestProjectKnownHerd(t *testing.T) {
	got, err := herds["S1, like Archachatina marginata"].Project(matrix.Count{Adults: 10}, 24)
	require.NoError(t, err)
	require.Len(t, got, 25)
	require.Equal(t, matrix.Count{Adults: 10}, got[0])
	for month, want := range map[int]matrix.Count{
		1: {53.333333, 9.8}, 2: {102.933333, 9.604}, 3: {149.008000, 9.41192}, 6: {268.000872, 8.858424}, 10: {388.152654, 8.170728},
		11: {380.389601, 39.939950}, 12: {543.089205, 70.435135}, 18: {4305.491336, 228.723652}, 24: {12622.745186, 937.542642},
	} {
		require.InDelta(t, want.Juveniles, got[month].Juveniles, 1e-6, "month %d", month)
		require.InDelta(t, want.Adults, got[month].Adults, 1e-6, "month %d", month)
	}
}

// Nothing but deaths: 1000 x 0.95^12, 1000 x 0.90^6 and 100 x 0.98^12.
func TestProjectSurvivalOnly(t *testing.T) {
	young, err := matrix.Stages{Juvenile: 20, JuvenileSurvival: .95, AdultSurvival: 1}.Project(matrix.Count{Juveniles: 1000}, 12)
	require.NoError(t, err)
	require.InDelta(t, 540.360088, young[12].Juveniles, 1e-6)
	young, err = matrix.Stages{Juvenile: 20, JuvenileSurvival: .90, AdultSurvival: 1}.Project(matrix.Count{Juveniles: 1000}, 6)
	require.NoError(t, err)
	require.InDelta(t, 531.441, young[6].Juveniles, 1e-9)
	old, err := matrix.Stages{Juvenile: 1, JuvenileSurvival: 0, AdultSurvival: .98}.Project(matrix.Count{Adults: 100}, 12)
	require.NoError(t, err)
	require.InDelta(t, 78.471672, old[12].Adults, 1e-6)
}

// Published matrices. Loggerhead turtle: Crouse, Crowder and Caswell (1987),
// Ecology 68:1412, table 4. Killer whale: Brault and Caswell (1993), Ecology
// 74:1444. The third is the imprimitive one of R's popbio, whose three
// eigenvalues are of equal modulus. Numbers of the first two from memory; they
// agree with the published growth.
func TestDominantOfPublishedMatrices(t *testing.T) {
	for name, c := range map[string]struct {
		rows      [][]float64
		want, off float64
	}{
		"loggerhead": {[][]float64{
			{0, 0, 0, 0, 127, 4, 80},
			{.6747, .7370, 0, 0, 0, 0, 0},
			{0, .0486, .6610, 0, 0, 0, 0},
			{0, 0, .0147, .6907, 0, 0, 0},
			{0, 0, 0, .0518, 0, 0, 0},
			{0, 0, 0, 0, .8091, 0, 0},
			{0, 0, 0, 0, 0, .8091, .8089},
		}, 0.945, 5e-4},
		"killer whale": {[][]float64{{0, .0043, .1132, 0}, {.9775, .9111, 0, 0}, {0, .0736, .9534, 0}, {0, 0, .0452, .9804}}, 1.0254413, 5e-8},
		"imprimitive":  {[][]float64{{0, 0, 2}, {.3, 0, 0}, {0, .6, 0}}, 0.711379, 5e-7},
		"textbook":     {[][]float64{{0, 1, 5}, {.3, 0, 0}, {0, .5, 0}}, 1.018150, 5e-6},
	} {
		got, err := matrix.Dominant(c.rows)
		require.NoError(t, err)
		require.InDelta(t, c.want, got, c.off, name)
	}
}

// However many stages and whatever the rates, growth is finite and equals what
// gonum finds for the matrix.
func TestGrowthIsTheMatrixs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := matrix.Stages{
			Juvenile:         rapid.IntRange(1, 12).Draw(t, "stages"),
			JuvenileSurvival: rapid.Float64Range(.3, 1).Draw(t, "young"),
			AdultSurvival:    rapid.Float64Range(0, 1).Draw(t, "adults"),
			BirthsPerMonth:   rapid.Float64Range(.01, 100).Draw(t, "births"),
		}
		got, err := s.Growth()
		require.NoError(t, err)
		want, err := matrix.Dominant(s.Rows())
		require.NoError(t, err)
		require.InEpsilon(t, want, got, 1e-5)
	})
}

func TestGrowthAtTheEdges(t *testing.T) {
	for want, s := range map[float64]matrix.Stages{
		.5: {Juvenile: 3, JuvenileSurvival: 0, AdultSurvival: .5, BirthsPerMonth: 10},
		.6: {Juvenile: 3, JuvenileSurvival: 1, AdultSurvival: .6},
		0:  {Juvenile: 1},
	} {
		got, err := s.Growth()
		require.NoError(t, err)
		require.InDelta(t, want, got, 0)
	}
	_, err := matrix.Stages{Juvenile: 1, JuvenileSurvival: 1, AdultSurvival: 1, BirthsPerMonth: 1e5}.Project(matrix.Count{Adults: 1e9}, 600)
	require.ErrorContains(t, err, "months")
}

func TestRefusals(t *testing.T) {
	good := matrix.Stages{Juvenile: 2, JuvenileSurvival: .9, AdultSurvival: .9, BirthsPerMonth: 1}
	for field, s := range map[string]func(*matrix.Stages){
		"juvenile_stages":   func(s *matrix.Stages) { s.Juvenile = 0 },
		"juvenile_survival": func(s *matrix.Stages) { s.JuvenileSurvival = 1.1 },
		"adult_survival":    func(s *matrix.Stages) { s.AdultSurvival = math.NaN() },
		"births_per_month":  func(s *matrix.Stages) { s.BirthsPerMonth = math.Inf(1) },
	} {
		bad := good
		s(&bad)
		_, err := bad.Growth()
		var e *domain.Error
		require.ErrorAs(t, err, &e)
		require.Equal(t, field, e.Fields[0].Path)
	}
	_, err := good.Project(matrix.Count{Juveniles: -1}, 3)
	require.ErrorContains(t, err, "juveniles")
	_, err = good.Project(matrix.Count{}, 601)
	require.ErrorContains(t, err, "months")
	_, err = matrix.Dominant([][]float64{{1, 2}, {3}})
	require.ErrorContains(t, err, "row 2")
	_, err = matrix.Dominant(nil)
	require.Error(t, err)
}
