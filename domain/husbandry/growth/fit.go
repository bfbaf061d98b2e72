package growth

import (
	"math"

	"tendfold/domain"
	"tendfold/domain/husbandry"

	"gonum.org/v1/gonum/mat"
)

// Curve is a law of growth.
type Curve string

// The curves. A is the final size, t the time.
const (
	Logistic      Curve = "logistic"             // A / (1 + exp(b - k t))
	Gompertz      Curve = "gompertz"             // A exp(-b exp(-k t))
	Bertalanffy   Curve = "von-bertalanffy"      // A (1 - exp(-k (t - t0)))
	BertalanffyT0 Curve = "von-bertalanffy-from" // A (1 - exp(-k t)), from nothing at 0
)

// Curves are all of them.
func Curves() []Curve { return []Curve{Logistic, Gompertz, Bertalanffy, BertalanffyT0} }

// Names are what the parameters of a curve are called, in order.
func (c Curve) Names() []string {
	switch c {
	case Bertalanffy:
		return []string{"a", "k", "t0"}
	case BertalanffyT0:
		return []string{"a", "k"}
	}
	return []string{"a", "b", "k"}
}

// At is the curve's value.
func (c Curve) At(p []float64, t float64) float64 {
	switch c {
	case Logistic:
		return p[0] / (1 + math.Exp(p[1]-p[2]*t))
	case Gompertz:
		return p[0] * math.Exp(-p[1]*math.Exp(-p[2]*t))
	case Bertalanffy:
		return p[0] * (1 - math.Exp(-p[1]*(t-p[2])))
	}
	return p[0] * (1 - math.Exp(-p[1]*t))
}

// slopes are the derivatives of the value by each parameter.
func (c Curve) slopes(p []float64, t float64, out []float64) {
	switch c {
	case Logistic:
		e := math.Exp(p[1] - p[2]*t)
		d := 1 + e
		out[0], out[1], out[2] = 1/d, -p[0]*e/(d*d), p[0]*e*t/(d*d)
	case Gompertz:
		e := math.Exp(-p[2] * t)
		y := math.Exp(-p[1] * e)
		out[0], out[1], out[2] = y, -p[0]*y*e, p[0]*y*p[1]*t*e
	case Bertalanffy:
		e := math.Exp(-p[1] * (t - p[2]))
		out[0], out[1], out[2] = 1-e, p[0]*(t-p[2])*e, -p[0]*p[1]*e
	default:
		e := math.Exp(-p[1] * t)
		out[0], out[1] = 1-e, p[0]*t*e
	}
}

// Fit is a curve laid through samples by least squares.
type Fit struct {
	Curve  Curve
	Params []float64
	Errors []float64 // standard errors of the parameters
	RSS    float64   // sum of squares that is left
	SD     float64   // of a single sample about the curve
}

// FewestSamples are one more than the parameters, and never fewer than five:
// through fewer a curve goes too easily.
const FewestSamples = 5

// FitOf lays a curve through weights at times (any one measure of each) by
// Levenberg's and Marquardt's steps, whose linear systems gonum solves. start
// is where it begins; nil begins where the samples suggest.
func FitOf(c Curve, times, weights, start []float64) (Fit, error) {
	if err := checkFit(c, times, weights); err != nil {
		return Fit{}, err
	}
	starts := [][]float64{start}
	if start == nil {
		starts = c.starts(times, weights)
	}
	best := Fit{RSS: math.Inf(1)}
	for _, s := range starts {
		if f, ok := c.descend(times, weights, s); ok && f.RSS < best.RSS {
			best = f
		}
	}
	if math.IsInf(best.RSS, 1) {
		return Fit{}, husbandry.Refuse(husbandry.Wrong("weights", "do not follow the %s curve; more samples over a longer time may", c))
	}
	return best, nil
}

func checkFit(c Curve, times, weights []float64) error {
	amount := husbandry.Range{Low: 1e-6, High: 1e6, Measure: "g (or whatever was measured)"}
	wrong := []*domain.Field{husbandry.Range{Low: -1e6, High: 1e6, Measure: "days (or whatever was counted)"}.Each("times", times), amount.Each("weights", weights)}
	if len(times) != len(weights) {
		wrong = append(wrong, husbandry.Wrong("weights", "has %d entries for %d times", len(weights), len(times)))
	}
	if len(times) < FewestSamples {
		wrong = append(wrong, husbandry.Wrong("times", "has %d samples; %d at least make a curve", len(times), FewestSamples))
	}
	distinct := map[float64]bool{}
	for _, t := range times {
		distinct[t] = true
	}
	if len(distinct) <= len(c.Names()) {
		wrong = append(wrong, husbandry.Wrong("times", "has %d different ones; a %s curve needs %d", len(distinct), c, len(c.Names())+1))
	}
	return husbandry.Refuse(wrong...)
}

// starts are some places to begin: final sizes from just above the largest
// weight to three times it, and the rest by a straight line on the curve's own
// scale.
func (c Curve) starts(times, weights []float64) [][]float64 {
	largest := 0.0
	for _, w := range weights {
		largest = max(largest, w)
	}
	var out [][]float64
	for _, times1 := range []float64{1.05, 1.3, 2, 3} {
		a := times1 * largest
		xs, ys := make([]float64, len(times)), make([]float64, len(times))
		for i, w := range weights {
			xs[i] = times[i]
			switch c {
			case Logistic:
				ys[i] = math.Log(a/w - 1)
			case Gompertz:
				ys[i] = math.Log(math.Log(a / w))
			default:
				ys[i] = math.Log(1 - w/a)
			}
		}
		at, slope := straight(xs, ys)
		k := -slope
		switch c {
		case Logistic:
			out = append(out, []float64{a, at, k})
		case Gompertz:
			out = append(out, []float64{a, math.Exp(at), k})
		case Bertalanffy:
			out = append(out, []float64{a, k, at / max(1e-9, k)})
		default:
			out = append(out, []float64{a, k})
		}
	}
	return out
}

// straight is the least-squares line's value at 0 and its slope.
func straight(xs, ys []float64) (at, slope float64) {
	n := float64(len(xs))
	var mx, my, xx, xy float64
	for i := range xs {
		mx, my = mx+xs[i]/n, my+ys[i]/n
	}
	for i := range xs {
		xx, xy = xx+(xs[i]-mx)*(xs[i]-mx), xy+(xs[i]-mx)*(ys[i]-my)
	}
	slope = xy / xx
	return my - slope*mx, slope
}

// descend goes down from a start until nothing gets better.
func (c Curve) descend(times, weights, start []float64) (Fit, bool) {
	p := append([]float64(nil), start...)
	damping, rss := 1e-3, c.rss(p, times, weights)
	for range 500 {
		if damping > 1e12 || !usable(rss) {
			break
		}
		normal, grad := c.normal(p, times, weights)
		for i := range p {
			normal.SetSym(i, i, normal.At(i, i)*(1+damping))
		}
		step, ok := solve(normal, grad)
		if !ok {
			damping *= 10
			continue
		}
		next := make([]float64, len(p))
		for i := range p {
			next[i] = p[i] + step.AtVec(i)
		}
		tried := c.rss(next, times, weights)
		if !usable(tried) || tried > rss {
			damping *= 10
			continue
		}
		small := rss-tried <= 1e-15*rss
		p, rss, damping = next, tried, damping/10
		if small {
			break
		}
	}
	return c.finish(p, rss, times, weights)
}

func usable(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func (c Curve) rss(p, times, weights []float64) float64 {
	var sum float64
	for i, t := range times {
		d := weights[i] - c.At(p, t)
		sum += d * d
	}
	return sum
}

func (c Curve) normal(p, times, weights []float64) (*mat.SymDense, *mat.VecDense) {
	n := len(p)
	normal, grad, slope := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil), make([]float64, n)
	for k, t := range times {
		c.slopes(p, t, slope)
		left := weights[k] - c.At(p, t)
		for i := range n {
			grad.SetVec(i, grad.AtVec(i)+slope[i]*left)
			for j := i; j < n; j++ {
				normal.SetSym(i, j, normal.At(i, j)+slope[i]*slope[j])
			}
		}
	}
	return normal, grad
}

func solve(normal *mat.SymDense, grad *mat.VecDense) (*mat.VecDense, bool) {
	var ch mat.Cholesky
	if !ch.Factorize(normal) {
		return nil, false
	}
	var x mat.VecDense
	if err := ch.SolveVecTo(&x, grad); err != nil {
		return nil, false
	}
	return &x, true
}

// finish refuses what is no growth, and says how sure the parameters are.
func (c Curve) finish(p []float64, rss float64, times, weights []float64) (Fit, bool) {
	f := Fit{Curve: c, Params: p, RSS: rss}
	free := float64(len(times) - len(p))
	f.SD = math.Sqrt(rss / free)
	normal, _ := c.normal(p, times, weights)
	var ch mat.Cholesky
	if !usable(rss) || p[0] <= 0 || !ch.Factorize(normal) {
		return Fit{}, false
	}
	var inverse mat.SymDense
	if ch.InverseTo(&inverse) != nil {
		return Fit{}, false
	}
	for i := range p {
		e := f.SD * math.Sqrt(inverse.At(i, i))
		if !usable(e) || !usable(p[i]) {
			return Fit{}, false
		}
		f.Errors = append(f.Errors, e)
	}
	return f, true
}
