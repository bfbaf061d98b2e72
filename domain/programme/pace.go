package programme

import "math"

// A farm that was ahead of the law, or far behind it, when its feed failed
// moves the forecast too little to be seen by it. So the weights are also held
// against the farm's own pace. Each is turned into growth by the curve; on
// that scale a farm grows on a straight line whatever the shape of the curve,
// and a failure bends it. The line's state is where it began, its pace, how
// far the farm's scale is off, and the change of pace since a day. It is
// learnt weighing by weighing by the Kalman filter, whose one-step errors also
// give the likelihood of the bend (prediction error decomposition: Harvey,
// Forecasting, Structural Time Series Models and the Kalman Filter, 1989,
// section 3.4, from memory; the tests hold it to a multivariate normal law).

// What a farm's own pace may be, and what a failure does to it: our choice,
// tried on rehearsed farms.
const (
	paceSD     = 0.25 // of a farm's pace about the law's middle, as a share
	slumpMean  = 0.5  // of the farm's pace by all weights, by which a failure slows the animals
	slumpSD    = 0.2
	slumpPrior = 0.1 // chance of a failure before any weight is seen
	farOff     = 3   // times too heavy or too light: a slip of the finger
)

// grown is a weight as the growth that it stands for, in days of a farm in
// the middle of the law.
type grown struct {
	gone, made float64
	scale      float64 // days by which made moves when the scale is off by all of the weight
	variance   float64 // of the reading's own error
}

// grown turns a weight into growth, false where the curve is flat. Below its
// start and beyond its end it goes on straight.
func (c Curve) grown(m mark, middle float64) (grown, bool) {
	share := (m.value - c.From) / (c.To - c.From)
	a, b := c.piece(share)
	if b.Share <= a.Share {
		return grown{}, false
	}
	perShare := middle * (b.Time - a.Time) / (b.Share - a.Share)
	perG := perShare / (c.To - c.From)
	own := c.variance(m.value, m) - c.ScaleCV*c.ScaleCV*m.value*m.value
	return grown{
		gone: m.gone, made: middle*a.Time + (share-a.Share)*perShare,
		scale: m.value * perG, variance: max(own, 1e-12) * perG * perG,
	}, true
}

// piece is the straight piece of the curve on which a share lies.
func (c Curve) piece(share float64) (a, b Point) {
	if len(c.Shape) == 0 {
		return Point{}, Point{1, 1}
	}
	i := 1
	for i < len(c.Shape)-1 && c.Shape[i].Share <= share {
		i++
	}
	return c.Shape[i-1], c.Shape[i]
}

// line is what is believed of a growth: began, pace, scale, bend.
type line struct {
	mean [4]float64
	cov  [4][4]float64
	log  float64 // log-likelihood of what was learnt, up to a constant
}

// newLine is a growth before any weight. It may bend by what a failure takes
// from a pace, 0 = straight.
func newLine(began, scale, pace float64) line {
	l := line{mean: [4]float64{0, 1, 0, 0}}
	l.cov[0][0], l.cov[1][1], l.cov[2][2] = began, paceSD*paceSD, scale*scale
	l.mean[3], l.cov[3][3] = -slumpMean*pace, slumpSD*slumpSD*pace*pace
	return l
}

// learn is one step of the filter: the state does not move of itself.
func (l *line) learn(g grown, bend float64) {
	h := [4]float64{1, g.gone, g.scale, max(0, g.gone-bend)}
	var gain [4]float64
	miss, variance := g.made, g.variance
	for i := range h {
		miss -= h[i] * l.mean[i]
		for j := range h {
			gain[i] += l.cov[i][j] * h[j]
		}
		variance += h[i] * gain[i]
	}
	for i := range h {
		l.mean[i] += gain[i] * miss / variance
		for j := range h {
			l.cov[i][j] -= gain[i] * gain[j] / variance
		}
	}
	l.log -= (math.Log(variance) + miss*miss/variance) / 2
}

// slump is the chance that the animals have fallen behind their own pace, and
// the pace since as a share of the pace before.
type slump struct{ chance, pace float64 }

// slump weighs a straight line against one that bends at any weighing or
// half-way between two, all alike likely. took is what the growth takes by
// all weights together; what is far off that is left out.
func (c Curve) slump(marks []mark, middle, took float64) slump {
	began, ok := c.grown(mark{value: c.From}, middle)
	seen := c.allGrown(marks, middle, took)
	if !ok || len(seen) < 2 {
		return slump{}
	}
	learnt := func(bend, pace float64) line {
		l := newLine(began.variance, c.ScaleCV, pace)
		for _, g := range seen {
			l.learn(g, bend)
		}
		return l
	}
	straight := learnt(0, 0)
	var sum, pace float64
	bends := bendsOf(seen)
	for _, day := range bends {
		l := learnt(day, middle/took)
		weight := math.Exp(min(l.log-straight.log, 300)) // more than sure is sure
		sum, pace = sum+weight, pace+weight*(1+l.mean[3]/max(l.mean[1], 0.1))
	}
	odds := slumpPrior / (1 - slumpPrior) * sum / float64(len(bends))
	return slump{chance: odds / (1 + odds), pace: min(max(pace/max(sum, 1e-300), 0), 1)}
}

// allGrown are the weights that are not slips of the finger, as growth.
func (c Curve) allGrown(marks []mark, middle, took float64) []grown {
	out := make([]grown, 0, len(marks))
	for _, m := range marks {
		want := c.From + (c.To-c.From)*c.share(m.gone/took)
		if m.value > farOff*want || m.value*farOff < want {
			continue
		}
		if g, ok := c.grown(m, middle); ok {
			out = append(out, g)
		}
	}
	return out
}

// bendsOf are the days on which a line may bend so that the last weighing, at
// least, shows it: half-way between weighings and at each but the last.
func bendsOf(seen []grown) []float64 {
	out := make([]float64, 0, 2*len(seen))
	before := 0.0
	for i, g := range seen {
		out = append(out, (before+g.gone)/2)
		if i < len(seen)-1 {
			out = append(out, g.gone)
		}
		before = g.gone
	}
	return out
}
