package deaths

import (
	"math"

	"tendfold/domain/husbandry"

	"gonum.org/v1/gonum/mat"
)

// Design is a chart's limit and what it is good for.
type Design struct {
	Limit    float64 // h, in units of evidence: a death adds ln 2
	RunWeeks float64 // weeks without a change until a false call, on average
	SeeWeeks float64 // weeks until a doubling calls, on average
	TooSmall bool    // a doubling does not show in time
}

// DesignOf finds the smallest limit for which a unit that loses what it is
// expected to lose is called falsely no oftener than once in f.RunWeeks weeks.
// A week's deaths are taken by their predictive law: negative binomial, because
// the rate itself is only known as well as the prior knows it. So a firm that
// knows little of a unit hears less of it.
func DesignOf(prior Prior, animals float64, f Figures) (Design, error) {
	err := husbandry.Refuse(append(f.check(), Shape.Within("shape", prior.Shape), WeeklyRate.Within("rate_week", prior.Mean),
		husbandry.Range{Low: 1, High: 1e7, Measure: "animals"}.Within("animals", animals),
		husbandry.Range{Low: 0, High: mostExpected, Measure: "deaths a week, for a chart"}.Within("expected", prior.Mean*animals))...)
	if err != nil {
		return Design{}, err
	}
	return design(prior.Shape, prior.Mean*animals, f), nil
}

// design works by doubling and then halving: the run length grows with the
// limit.
func design(shape, mean float64, f Figures) Design {
	low, high := 0.0, math.Ln2
	for runLength(high, mean, shape, mean) < f.RunWeeks && high < 1e6 {
		low, high = high, 2*high
	}
	for range 12 {
		mid := (low + high) / 2
		if runLength(mid, mean, shape, mean) < f.RunWeeks {
			low = mid
		} else {
			high = mid
		}
	}
	d := Design{Limit: high, RunWeeks: runLength(high, mean, shape, mean), SeeWeeks: runLength(high, mean, shape, 2*mean)}
	d.TooSmall = d.SeeWeeks > f.SeeWeeks
	return d
}

// states cut the climb from 0 to its limit; more change the run length by less
// than what a prior knows.
const states = 90

// runLength is the mean number of weeks until a climb from 0 passes its limit,
// when it allows for the expected deaths and the true mean is another (Brook
// and Evans 1972): the climb is cut into states, and the weeks until it leaves
// them solve a linear system.
func runLength(limit, allowed, shape, mean float64) float64 {
	width := 2 * limit / (2*states - 1)
	most := int((limit+allowed)/math.Ln2) + 2
	chance := negativeBinomial(shape, mean, most)
	q := mat.NewDense(states, states, nil)
	for i := range states {
		q.Set(i, i, 1)
	}
	for i := range states {
		for deaths, p := range chance {
			s := float64(i)*width + float64(deaths)*math.Ln2 - allowed
			if s > limit {
				break
			}
			j := min(states-1, max(0, int(math.Floor(s/width+0.5))))
			q.Set(i, j, q.At(i, j)-p)
		}
	}
	ones := make([]float64, states)
	for i := range ones {
		ones[i] = 1
	}
	var x mat.VecDense
	if err := x.SolveVec(q, mat.NewVecDense(states, ones)); err != nil && math.IsInf(x.AtVec(0), 0) {
		return longest
	}
	if v := x.AtVec(0); v > 0 && v < longest {
		return v
	}
	return longest // so rare that the system is singular to the last digit
}

// longest is a run of which nobody sees the end.
const longest = 1e9

// negativeBinomial are the chances of 0 to most deaths by the mean and the
// shape of the gamma law of their rate.
func negativeBinomial(shape, mean float64, most int) []float64 {
	out := make([]float64, most+1)
	odds := mean / (mean + shape)
	log := shape * math.Log(shape/(mean+shape))
	for k := range out {
		out[k] = math.Exp(log)
		log += math.Log(shape+float64(k)) - math.Log(float64(k)+1) + math.Log(odds)
	}
	return out
}

// mostExpected bounds the deaths a week that a design is made for: who loses
// more needs no chart, and is called by the deaths of a single day.
const mostExpected = 2000

// designs keeps those that are as good as the same: a tenth more animals or a
// fifth more knowing moves a limit less than a death does.
type designs map[[2]int]Design

func (d designs) of(prior Prior, mean float64, f Figures) Design {
	const animalStep, shapeStep = 1.1, 1.2
	mean = min(mean, mostExpected)
	key := [2]int{int(math.Round(math.Log(mean) / math.Log(animalStep))), int(math.Round(math.Log(prior.Shape) / math.Log(shapeStep)))}
	if known, ok := d[key]; ok {
		return known
	}
	d[key] = design(math.Pow(shapeStep, float64(key[1])), math.Pow(animalStep, float64(key[0])), f)
	return d[key]
}
