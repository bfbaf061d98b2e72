package share_test

import (
	"testing"

	"tendfold/domain/share"

	"github.com/stretchr/testify/require"
)

// Newcombe (1998), Stat. Med. 17:857-872, table I, Wilson without continuity
// correction (memory), and two rows worked out apart.
func TestWilsonOfNewcombe(t *testing.T) {
	for _, c := range []struct {
		of, all   int
		low, high float64
	}{{81, 263, .2553, .3662}, {15, 148, .0624, .1605}, {0, 20, 0, .1611}, {1, 29, .0061, .1718}, {8, 10, .4902, .9433}, {5, 10, .2366, .7634}} {
		low, high := share.Wilson(c.of, c.all)
		require.InDelta(t, c.low, low, 5.1e-5)
		require.InDelta(t, c.high, high, 5.1e-5)
	}
}
