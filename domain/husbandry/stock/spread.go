package stock

import "math"

// spread says how single animals of one age lie about their mean weight:
// log-normal with a mean of 1. Looked up, not worked out, for a harvest asks
// it of every cohort of every run.
type spread struct {
	above [ratios + 1]float64 // share above the market weight, by mean weight / market weight
	far   float64             // ratio below which not one animal in ten thousand is heavy enough
	rest  [shares + 1]float64 // mean weight of those left when the heaviest share is gone
}

const (
	ratios    = 400
	perRatio  = 100 // entries a unit of the ratio: 0 to 4
	shares    = 200
	leastLeft = 1e-9
)

func newSpread(cv float64) *spread {
	s := &spread{}
	sigma := math.Sqrt(math.Log1p(cv * cv))
	for i := range s.above {
		ratio := float64(i) / perRatio
		switch {
		case sigma == 0 && ratio >= 1:
			s.above[i] = 1
		case sigma > 0 && ratio > 0:
			s.above[i] = phi((math.Log(ratio) - sigma*sigma/2) / sigma)
		}
		if s.above[i] < 1e-4 {
			s.far = ratio
		}
	}
	for i := range s.rest {
		left := 1 - float64(i)/shares
		s.rest[i] = 1
		if sigma > 0 {
			left = max(left, leastLeft)
			z := math.Sqrt2 * math.Erfinv(2*left-1)
			s.rest[i] = phi(z-sigma) / left
		}
	}
	s.rest[0] = 1
	return s
}

// phi is the standard normal distribution function.
func phi(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }

// over is the share of a cohort above the market weight when its mean is
// ratio times that.
func (s *spread) over(ratio float64) float64 {
	at := ratio * perRatio
	if at >= ratios {
		return 1
	}
	i := int(at)
	return s.above[i] + (at-float64(i))*(s.above[i+1]-s.above[i])
}

// left is the mean weight, as a part of the cohort's, of those that remain
// when the heaviest share is gone.
func (s *spread) left(gone float64) float64 {
	at := gone * shares
	if at >= shares {
		return s.rest[shares]
	}
	i := int(at)
	return s.rest[i] + (at-float64(i))*(s.rest[i+1]-s.rest[i])
}
