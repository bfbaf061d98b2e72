package programme

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	vectors "gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

func growthCurve() Curve {
	c := weightCurve()
	c.ScaleCV = 0.04
	return c
}

// The filter's likelihood and state against the normal law of all weighings
// taken together, solved at once by gonum's Cholesky: textbook formulas of the
// multivariate normal law and of its conditional mean.
func TestTheFilterIsTheConditionalNormal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bend := rapid.Float64Range(10, 200).Draw(t, "bend")
		var seen []grown
		for range rapid.IntRange(1, 6).Draw(t, "weighings") {
			seen = append(seen, grown{
				gone: rapid.Float64Range(5, 300).Draw(t, "gone"), made: rapid.Float64Range(-20, 400).Draw(t, "made"),
				scale: rapid.Float64Range(10, 300).Draw(t, "scale"), variance: rapid.Float64Range(4, 400).Draw(t, "variance"),
			})
		}
		l := newLine(25, 0.04, 1.2)
		for _, g := range seen {
			l.learn(g, bend)
		}
		state, log := together(t, newLine(25, 0.04, 1.2), seen, bend)
		require.InDelta(t, log, l.log-float64(len(seen))*math.Log(2*math.Pi)/2, 1e-6)
		require.InDeltaSlice(t, state, l.mean[:], 1e-6)
	})
}

// together is the mean of the state given all weighings at once, and the
// logarithm of their density.
func together(t require.TestingT, prior line, seen []grown, bend float64) (state []float64, log float64) {
	n := len(seen)
	rows, noise, miss := mat.NewDense(n, 4, nil), mat.NewDiagDense(n, nil), mat.NewVecDense(n, nil)
	for i, g := range seen {
		h := []float64{1, g.gone, g.scale, max(0, g.gone-bend)}
		rows.SetRow(i, h)
		noise.SetDiag(i, g.variance)
		miss.SetVec(i, g.made-vectors.Dot(h, prior.mean[:]))
	}
	cov := mat.NewDense(4, 4, nil)
	for i := range 4 {
		cov.SetRow(i, prior.cov[i][:])
	}
	var cross, spread mat.Dense
	cross.Mul(cov, rows.T())
	spread.Mul(rows, &cross)
	spread.Add(&spread, noise)
	var chol mat.Cholesky
	require.True(t, chol.Factorize(mat.NewSymDense(n, spread.RawMatrix().Data)))
	var solved, moved mat.VecDense
	require.NoError(t, chol.SolveVecTo(&solved, miss))
	moved.MulVec(&cross, &solved)
	state = vectors.AddTo(make([]float64, 4), prior.mean[:], moved.RawVector().Data)
	return state, -(float64(n)*math.Log(2*math.Pi) + chol.LogDet() + mat.Dot(miss, &solved)) / 2
}

// weights of a farm that grows at a pace, and at another from a day on; off
// is by how much its scale is wrong.
func weights(c Curve, pace, since, slower, off float64, days ...float64) []mark {
	var out []mark
	for _, day := range days {
		made := pace * (min(day, since) + slower*max(0, day-since))
		out = append(out, mark{gone: day, value: (1 + off) * (c.From + (c.To-c.From)*c.share(made/240)), n: 30})
	}
	return out
}

// One line for each way to be ahead, behind, or wrong: only a bend is one.
func TestOnlyALossOfPaceIsOne(t *testing.T) {
	c := growthCurve()
	never := math.Inf(1)
	months := []float64{30, 60, 90, 120, 150, 180}
	for _, x := range []struct {
		name  string
		marks []mark
		took  float64
		low   float64
		high  float64
	}{
		{"steady", weights(c, 1, never, 1, 0, months...), 240, 0, 0.1},
		{"steady and fast", weights(c, 1.3, never, 1, 0, months...), 185, 0, 0.1},
		{"steady and slow", weights(c, 0.7, never, 1, 0, months...), 343, 0, 0.2},
		{"a scale that weighs too little", weights(c, 1, never, 1, -0.05, months...), 250, 0, 0.1},
		{"feed fails on a fast farm", weights(c, 1.4, 75, 0.1, 0, months...), 220, 0.8, 1},
		{"feed fails on a slow farm", weights(c, 0.7, 60, 0, 0, months...), 420, 0.8, 1},
		{"one weight", weights(c, 1, 10, 0, 0, 30), 300, 0, 0},
	} {
		t.Run(x.name, func(t *testing.T) {
			got := c.slump(x.marks, 240, x.took)
			require.GreaterOrEqual(t, got.chance, x.low)
			require.LessOrEqual(t, got.chance, x.high)
		})
	}
	failed := c.slump(weights(c, 1.4, 75, 0.1, 0, months...), 240, 220)
	require.InDelta(t, 0.2, failed.pace, 0.2, "and it says how slow they are now")
}

func TestAMistypedWeightIsNoLossOfPace(t *testing.T) {
	c := growthCurve()
	for _, times := range []float64{0.1, 10} {
		marks := weights(c, 1, math.Inf(1), 1, 0, 30, 60, 90, 120)
		marks[3].value *= times
		require.Less(t, c.slump(marks, 240, 240).chance, 0.1)
	}
}

func TestLossOfPaceIsAlwaysAChance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := growthCurve()
		c.Shape = rapid.SampledFrom([][]Point{nil, {{0, 0}, {0.3, 0}, {1, 1}}, {{0, 0}, {0.7, 1}, {1, 1}}, {{0, 0}, {0.5, 0.2}, {1, 1}}}).Draw(t, "shape")
		var marks []mark
		for range rapid.IntRange(0, 20).Draw(t, "weights") {
			marks = append(marks, mark{gone: rapid.Float64Range(0.5, 700).Draw(t, "gone"), value: rapid.Float64Range(0, 1e5).Draw(t, "value"), n: 10})
		}
		got := c.slump(marks, 240, rapid.Float64Range(180, 900).Draw(t, "took"))
		require.True(t, got.chance >= 0 && got.chance <= 1, got)
		require.True(t, got.pace >= 0 && got.pace <= 1, got)
	})
}
