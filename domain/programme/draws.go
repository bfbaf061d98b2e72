package programme

import (
	"hash/fnv"
	"math/rand/v2"
	"sync"
)

// DrawCount and DrawSeed are the draws that every forecast of the house uses:
// one answer, whoever asks.
const (
	DrawCount        = 500
	DrawSeed  uint64 = 20260312
)

// Draws are stratified draws shared by all farms. Each milestone name has a
// column: the n midpoints (r + 1/2)/n of equal slices of 0 to 1 in an order
// of its own that follows from the seed and the name alone. So the same farm
// always gets the same answer, two farms differ only by what is known of
// them, and a what-if differs only by its change (common random numbers;
// Latin hypercube sampling with midpoints, McKay, Beckman & Conover 1979,
// from memory). Safe for concurrent use.
type Draws struct {
	seed      uint64
	n         int
	ranks     sync.Map // name -> []int
	durations sync.Map // column -> []float64
	pool      sync.Pool
}

// columnKey names the durations of one milestone under one law.
type columnKey struct {
	name string
	law  law
}

// NewDraws makes n draws (at least 2) from a seed.
func NewDraws(seed uint64, n int) *Draws {
	d := &Draws{seed: seed, n: max(n, 2)}
	d.pool.New = func() any { return &scratch{n: d.n} }
	return d
}

// Count is the number of draws.
func (d *Draws) Count() int { return d.n }

// level is the midpoint of slice r.
func (d *Draws) level(r int) float64 { return (float64(r) + 0.5) / float64(d.n) }

// order is the slice that each draw of a name falls in.
func (d *Draws) order(name string) []int {
	if v, ok := d.ranks.Load(name); ok {
		return v.([]int)
	}
	v, _ := d.ranks.LoadOrStore(name, d.shuffle(name))
	return v.([]int)
}

func (d *Draws) shuffle(name string) []int {
	h := fnv.New64a()
	h.Write([]byte(name)) // never fails, by its contract
	return rand.New(rand.NewPCG(d.seed, h.Sum64())).Perm(d.n)
}

// taken are the durations of a milestone under its law with nothing known.
// The slice is shared: read only.
func (d *Draws) taken(name string, l law) []float64 {
	key := columnKey{name, l}
	if v, ok := d.durations.Load(key); ok {
		return v.([]float64)
	}
	out := make([]float64, d.n)
	for k, r := range d.order(name) {
		out[k] = l.quantile(d.level(r))
	}
	v, _ := d.durations.LoadOrStore(key, out)
	return v.([]float64)
}
