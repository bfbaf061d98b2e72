package daybook

import "math"

// Sample is what single weights say, in their measure.
type Sample struct {
	N    int     `json:"n"`
	Mean float64 `json:"mean"`
	SD   float64 `json:"sd"` // of single animals about the mean (n - 1), 0 for one
}

// SampleOf is the mean and the sample standard deviation, in two passes so
// that large weights that differ little lose no digits.
func SampleOf(weights []float64) Sample {
	s := Sample{N: len(weights)}
	for _, w := range weights {
		s.Mean += w / float64(s.N)
	}
	if s.N < 2 {
		return s
	}
	var squares float64
	for _, w := range weights {
		squares += (w - s.Mean) * (w - s.Mean)
	}
	s.SD = math.Sqrt(squares / float64(s.N-1))
	return s
}
