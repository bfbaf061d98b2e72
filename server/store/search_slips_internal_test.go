package store

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// kitten and sitting are the textbook pair (three edits); ca and abc tell the
// optimal string alignment (three) from the unrestricted distance (two):
// Boytsov (2011), Indexing methods for approximate dictionary searching.
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"kitten", "sitting", 3}, {"ca", "abc", 3}, {"", "abc", 3}, {"abc", "abc", 0}, {"hilsl", "hills", 1}, {"élan", "elan", 1},
	} {
		require.Equal(t, c.want, distance([]rune(c.a), []rune(c.b)), "%s %s", c.a, c.b)
	}
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringOfN(rapid.SampledFrom([]rune("abc")), 0, 6, -1)
		a, b, c := []rune(word.Draw(t, "a")), []rune(word.Draw(t, "b")), rapid.SampledFrom([]rune("abc")).Draw(t, "c")
		require.Equal(t, distance(a, b), distance(b, a))
		require.LessOrEqual(t, distance(a, append(slices.Clip(b), c)), distance(a, b)+1)
		require.Equal(t, distance(a, b) == 0, string(a) == string(b))
	})
}

func TestASlipIsForgivenAndMoreIsNot(t *testing.T) {
	for _, c := range []struct {
		typed, word string
		want        bool
	}{
		{"hilsid", "hillside", true},
		{"hilslide", "hillside", true},
		{"hllside", "hillside", true},
		{"riverside", "hillside", false},
		{"carnie", "carine", true},
		{"carx", "carine", true},
		{"kxyz", "kwame", false},
	} {
		_, ok := slip(c.typed, c.word)
		require.Equal(t, c.want, ok, "%s %s", c.typed, c.word)
	}
}
