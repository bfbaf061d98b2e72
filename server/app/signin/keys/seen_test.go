package keys

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// A token that was checked once is no better than its time and its letters.
func TestATokenThatWasSeenStillEndsAndBegins(t *testing.T) {
	r := ring(t, 1)
	token, err := r.MintAccess(Access{PersonID: "p", SessionID: "s"}, noon)
	require.NoError(t, err)
	for range 2 {
		_, err = r.ReadAccess(token, noon)
		require.NoError(t, err)
	}
	for name, at := range map[string]time.Time{
		"its last moment is over": noon.Add(AccessLife),
		"long over":               noon.Add(24 * time.Hour),
		"not yet good":            noon.Add(-clockDrift - time.Second),
	} {
		_, err := r.ReadAccess(token, at)
		require.Error(t, err, name)
	}
	for i := range token {
		other := []byte(token)
		other[i] ^= 1
		_, err := r.ReadAccess(string(other), noon)
		require.Error(t, err, "letter %d changed", i)
	}
	_, err = ring(t, 2).ReadAccess(token, noon)
	require.Error(t, err, "another ring has seen nothing")
}

func TestSeenTokensAreBounded(t *testing.T) {
	var s seen
	for i := range seenMost + 1 {
		s.add(fmt.Sprint(i), seenAccess{from: noon, until: noon.Add(time.Minute)})
		require.LessOrEqual(t, len(s.known), seenMost)
	}
	_, ok := s.good(fmt.Sprint(seenMost), noon)
	require.True(t, ok, "the newest is remembered")
}
