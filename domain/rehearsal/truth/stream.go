package truth

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
)

// Stream is where the random numbers of one farm come from. Every number has
// a name and a place of its own and is asked for by them, so a fault that
// needs one more number, or one less, shifts no other: the farm and its twin
// without faults live through the same luck.
type Stream struct{ hi, lo uint64 }

// NewStream is the stream of one farm of one seed.
func NewStream(seed uint64, farm int) Stream {
	return Stream{hi: mix(seed), lo: mix(uint64(farm) + 0x9e3779b97f4a7c15)} // any 64 bits will do
}

// Sub is a stream of its own under a name.
func (s Stream) Sub(name string) Stream {
	h := fnv.New64a()
	_, _ = h.Write([]byte(name))
	return Stream{hi: mix(s.hi ^ h.Sum64()), lo: s.lo}
}

// At is an independent stream for place i, for whoever needs several numbers
// there.
func (s Stream) At(i int) Stream {
	return Stream{hi: s.hi, lo: mix(s.lo ^ mix(uint64(i)+1))} // any 64 bits will do
}

// U is the uniform number at place i, in the open interval (0, 1).
func (s Stream) U(i int) float64 {
	var pcg rand.PCG
	pcg.Seed(s.hi, mix(s.lo+uint64(i))) // any 64 bits will do
	return (float64(pcg.Uint64()>>11) + 0.5) / (1 << 53)
}

// N is the standard normal number at place i.
func (s Stream) N(i int) float64 { return normalQuantile(s.U(i)) }

// Between is the uniform number at place i between a and b.
func (s Stream) Between(i int, a, b float64) float64 { return a + (b-a)*s.U(i) }

// LogNormal is the number at place i of a log-normal law with this median and
// this standard deviation of the logarithm.
func (s Stream) LogNormal(i int, median, sigma float64) float64 {
	return median * math.Exp(sigma*s.N(i))
}

// Exp is the number at place i of an exponential law with this mean.
func (s Stream) Exp(i int, mean float64) float64 { return -mean * math.Log(s.U(i)) }

// mix spreads 64 bits (SplitMix64's finalizer, Steele, Lea and Flood 2014),
// so that neighbouring seeds and farms have nothing in common.
func mix(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9
	x = (x ^ (x >> 27)) * 0x94d049bb133111eb
	return x ^ (x >> 31)
}

// normalQuantile is the inverse of the standard normal distribution.
func normalQuantile(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }

// normalCDF is the standard normal distribution.
func normalCDF(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

// poissonQuantile is the smallest k whose Poisson probability of at most k
// reaches u: deaths by one uniform number a day, so that a higher hazard
// never means fewer deaths.
func poissonQuantile(u, mean float64) int {
	if mean <= 0 {
		return 0
	}
	if mean > 500 { // normal with continuity correction: off by less than one animal here
		return max(0, int(math.Ceil(mean+math.Sqrt(mean)*normalQuantile(u)-0.5)))
	}
	p := math.Exp(-mean)
	k, sum := 0, p
	for sum < u && k < 2000 {
		k++
		p *= mean / float64(k)
		sum += p
	}
	return k
}
