package register

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestFold(t *testing.T) {
	for in, want := range map[string]string{
		"  Ébongué  NKENG ": "ebongue nkeng",
		"N'Koue-Farm":       "n koue farm",
		"ŒUVRE":             "oeuvre",
		"Pen #2":            "pen 2",
		"ﬁ":                 "fi",
		"???":               "???",
		"":                  "",
		"Łódź":              "lodz",
	} {
		require.Equal(t, want, Fold(in), in)
	}
}

func TestFoldIsItsOwnFold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "text")
		once := Fold(s)
		require.Equal(t, once, Fold(once))
		require.Equal(t, once, Fold(" "+s+" "))
	})
}

// kitten/sitting and Saturday/Sunday are the textbook pairs (Wagner and
// Fischer 1974; Jurafsky and Martin), CA/ABC tells optimal string alignment
// (3) from the unrestricted distance (2) (Boytsov 2011), the swap is
// Damerau's own kind of slip (1964).
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"kitten", "sitting", 3},
		{"saturday", "sunday", 3},
		{"ca", "abc", 3},
		{"intention", "execution", 5},
		{"nkeng", "nekng", 1},
		{"", "abc", 3},
		{"same", "same", 0},
	} {
		require.Equal(t, c.want, distance(c.a, c.b, 9))
		require.Equal(t, c.want, distance(c.b, c.a, 9))
		require.Equal(t, min(c.want, 2), distance(c.a, c.b, 1))
	}
}

func TestNear(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"paul nkeng", "paul nkeng", true},
		{"paul nkeng", "paul nekng", true},
		{"paul nkengue", "pol nkengue", true},
		{"hill farm", "hil farm", true},
		{"hill farm", "mill farms", false},
		{"ada", "ida", false}, // too short to tell
		{"pen 1", "pen 2", false},
		{"north pen", "south pen", false},
	} {
		require.Equal(t, c.want, near(c.a, c.b), c)
		require.Equal(t, c.want, labelOf(c.a).near(labelOf(c.b)), c)
	}
}

// The quick look at the letters must never miss what the real one finds.
func TestTheQuickLookMissesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.StringMatching(`[a-zé1 ]{1,14}`).Draw(t, "name")
		b := []rune(a)
		for range rapid.IntRange(0, 3).Draw(t, "slips") {
			i := rapid.IntRange(0, len(b)-1).Draw(t, "at")
			b[i] = rapid.SampledFrom([]rune("abcxyzé2 ")).Draw(t, "letter")
		}
		x, y := Fold(a), Fold(string(b))
		require.Equal(t, near(x, y), labelOf(x).near(labelOf(y)), "%q %q", x, y)
	})
}
