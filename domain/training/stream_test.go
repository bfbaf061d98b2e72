package training

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// xoshiro128** 1.1 by the reference program (prng.di.unimi.it), as the
// generator's test in the Rust crate rand_xoshiro has the values.
func TestStreamAgainstTheReferenceProgram(t *testing.T) {
	s := stream{1, 2, 3, 4}
	for i, want := range []uint32{11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597, 4258142804} {
		require.Equal(t, want, s.next(), "number %d", i)
	}
}

// MurmurHash3_x86_32 of an empty key is its finaliser of the seed: values of
// the algorithm's commonly published tests (0 gives 0, 1 gives 0x514e28b7,
// 0xffffffff gives 0x81f16f39).
func TestMixAgainstMurmur3(t *testing.T) {
	require.Equal(t, uint32(0), mix(0))
	require.Equal(t, uint32(0x514e28b7), mix(1))
	require.Equal(t, uint32(0x81f16f39), mix(0xffffffff))
}

func TestBelowIsWithinBounds(t *testing.T) {
	s := newStream(7)
	for n := 1; n < 50; n++ {
		for range 200 {
			x := s.below(n)
			require.True(t, 0 <= x && x < n)
		}
	}
}
