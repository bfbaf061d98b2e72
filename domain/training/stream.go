package training

import "math/bits"

// stream is xoshiro128** 1.1 (Blackman and Vigna, "Scrambled linear
// pseudorandom number generators", ACM TOMS 47:4, 2021): 32-bit arithmetic
// only, so that Go here and TypeScript on a phone give the same numbers.
type stream [4]uint32

// newStream fills the state with Murmur3's finaliser over a Weyl sequence of
// the seed. The finaliser is a bijection, so at most one of the four words is
// zero and the state is never all zeros.
func newStream(seed uint32) *stream {
	var s stream
	for i := range s {
		s[i] = mix(seed + uint32(i+1)*golden)
	}
	return &s
}

// golden is 2^32 divided by the golden ratio, made odd.
const golden = 0x9e3779b9

// mix is the finaliser of MurmurHash3 (Appleby, fmix32, public domain).
func mix(h uint32) uint32 {
	h ^= h >> 16
	h *= 0x85ebca6b
	h ^= h >> 13
	h *= 0xc2b2ae35
	return h ^ h>>16
}

func (s *stream) next() uint32 {
	out := bits.RotateLeft32(s[1]*5, 7) * 9
	t := s[1] << 9
	s[2] ^= s[0]
	s[3] ^= s[1]
	s[1] ^= s[2]
	s[0] ^= s[3]
	s[2] ^= t
	s[3] = bits.RotateLeft32(s[3], 11)
	return out
}

// below is a number from 0 to n-1, each as likely as the others: what lies in
// the incomplete last round of n is drawn again.
func (s *stream) below(n int) int {
	m := uint32(n)
	rest := -m % m // 2^32 mod n
	for {
		if x := s.next(); x >= rest {
			return int(x % m)
		}
	}
}

// shuffle puts the items into an order drawn from the stream, from the last
// place down (Durstenfeld 1964).
func shuffle[T any](s *stream, items []T) {
	for i := len(items) - 1; i > 0; i-- {
		j := s.below(i + 1)
		items[i], items[j] = items[j], items[i]
	}
}

// NextSeed is the seed of the draw after the one with this seed, so that a
// phone without a network goes on drawing as the server will.
func NextSeed(seed uint32) uint32 { return newStream(seed).next() }
