package programme

import "math"

// law is how long a milestone may take, in days on its clock: triangular from
// min over likely to max, or, with probability pi, max and an exponential
// tail of mean tau beyond it. The three points are what a pack's author can
// say; the tail is there because somebody always takes longer than the
// longest that anyone thought of. Formulas of the triangle: common textbook
// results, held against gonum's distuv.Triangle in the tests.
type law struct {
	min, likely, max float64
	pi, tau          float64
}

func newLaw(d Days, pi float64) law {
	tau := max(d.Max-d.Likely, (d.Max-d.Min)/3, 1)
	return law{min: d.Min, likely: d.Likely, max: d.Max, pi: pi, tau: tau}
}

// survival is P(T > t). It is kept rather than the distribution function
// because the far tail, where late farms live, would drown in 1 - G.
func (l law) survival(t float64) float64 {
	switch {
	case t >= l.max:
		return l.pi * math.Exp(-(t-l.max)/l.tau)
	case t <= l.min:
		return 1
	case t < l.likely:
		return 1 - (1-l.pi)*(t-l.min)*(t-l.min)/((l.max-l.min)*(l.likely-l.min))
	default:
		return l.pi + (1-l.pi)*(l.max-t)*(l.max-t)/((l.max-l.min)*(l.max-l.likely))
	}
}

// outlived is the duration that is outlived with probability s, the inverse
// of survival; continuous at max, where both branches meet at s = pi.
func (l law) outlived(s float64) float64 {
	if s <= l.pi {
		if l.pi == 0 {
			return l.max
		}
		return l.max - l.tau*math.Log(s/l.pi)
	}
	width := l.max - l.min
	if width == 0 {
		return l.min
	}
	p := (s - l.pi) / (1 - l.pi)
	if p*width <= l.max-l.likely {
		return l.max - math.Sqrt(p*width*(l.max-l.likely))
	}
	return l.min + math.Sqrt((1-p)*width*(l.likely-l.min))
}

// quantile is the duration that is kept with probability u.
func (l law) quantile(u float64) float64 { return l.outlived(1 - u) }

// beyond is quantile u of the duration when it is known to exceed e:
// u' = G(e) + (1-G(e))u put through the inverse, written with survivals.
// Past max only the tail is left, which has no memory; saying so keeps a
// milestone that is years late from underflowing.
func (l law) beyond(e, u float64) float64 {
	switch {
	case e >= l.max && l.pi == 0:
		return e
	case e >= l.max:
		return e - l.tau*math.Log(1-u)
	default:
		return max(e, l.outlived(l.survival(e)*(1-u)))
	}
}
