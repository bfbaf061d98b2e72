package programme

import (
	"math"

	"tendfold/domain/rank"
)

// column is one number for each draw. What is known for certain is the same
// in all of them and costs no memory: each is nil and all hold fixed.
type column struct {
	fixed float64
	each  []float64
}

func (c column) at(k int) float64 {
	if c.each == nil {
		return c.fixed
	}
	return c.each[k]
}

// scratch lends slices of one length for the time of one forecast.
type scratch struct {
	n    int
	lent int
	rows [][]float64
}

func (s *scratch) row() []float64 {
	if s.lent == len(s.rows) {
		s.rows = append(s.rows, make([]float64, s.n))
	}
	s.lent++
	return s.rows[s.lent-1]
}

func (d *Draws) borrow() *scratch { return d.pool.Get().(*scratch) }

func (d *Draws) giveBack(s *scratch) {
	s.lent = 0
	d.pool.Put(s)
}

// quantile of a column: order statistics at (r + 1/2)/n with a straight line
// between them (Hyndman & Fan 1996, definition 5, from memory), which gives
// back the quantile that midpoint draws were made from. It may reorder rows
// lent by s but never a column.
func (s *scratch) quantile(c column, p float64) float64 {
	if c.each == nil {
		return c.fixed
	}
	x := s.row()
	copy(x, c.each)
	out := quantileOf(x, 0, len(x), p)
	s.lent--
	return out
}

// tenFiftyNinety are the quantiles 0.1, 0.5 and 0.9, cheaper than one by one:
// once the middle is found each outer one has only its half to look at.
func (s *scratch) tenFiftyNinety(c column) [3]float64 {
	if c.each == nil {
		return [3]float64{c.fixed, c.fixed, c.fixed}
	}
	x := s.row()
	copy(x, c.each)
	mid := quantileOf(x, 0, len(x), 0.5)
	cut := rankOf(len(x), 0.5) + 1
	out := [3]float64{quantileOf(x, 0, cut, 0.1), mid, quantileOf(x, cut, len(x), 0.9)}
	s.lent--
	return out
}

func rankOf(n int, p float64) int { return min(max(int(math.Floor(float64(n)*p-0.5)), 0), n-1) }

// quantileOf looks for quantile p of all of x, which is known to lie in
// x[low:high], and leaves x split there.
func quantileOf(x []float64, low, high int, p float64) float64 {
	r := max(rankOf(len(x), p), low)
	rank.Pick(x, low, high, r)
	at := min(max(float64(len(x))*p-0.5-float64(r), 0), 1)
	if at == 0 || r+1 >= len(x) {
		return x[r]
	}
	next := math.Inf(1)
	for _, v := range x[r+1 : max(high, r+2)] {
		next = min(next, v)
	}
	return x[r] + at*(next-x[r])
}
