package text_test

import (
	"bufio"
	"fmt"
	"os"
	"strings"
	"testing"
	"unicode/utf16"
	"unicode/utf8"

	"tendfold/domain/text"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Every character below U+10000 as Perl's Encode::GSM0338 writes it (the file
// says how it was made).
func TestSeptetsAgainstAnotherCodec(t *testing.T) {
	f, err := os.Open("testdata/gsm0338.txt")
	require.NoError(t, err)
	defer f.Close()
	want := map[rune]int{}
	for sc := bufio.NewScanner(f); sc.Scan(); {
		var r rune
		var n int
		if _, err := fmt.Sscanf(sc.Text(), "%X %d", &r, &n); err == nil {
			want[r] = n
		}
	}
	require.Len(t, want, 127+10, "the alphabet without its escape, and the extension")
	for r := rune(1); r <= 0xFFFF; r++ {
		require.Equal(t, want[r], text.Septets(r), "%q", r)
	}
}

// The sizes are those of 3GPP TS 23.038 and 23.040 as standards.md C5 gives
// them: 160 or 153 a part, 70 or 67 in Unicode; and its French trap.
func TestSizes(t *testing.T) {
	for name, c := range map[string]struct {
		s    string
		want text.Size
	}{
		"nothing":           {"", text.Size{Left: 160}},
		"one part, full":    {strings.Repeat("a", 160), text.Size{Parts: 1, Used: 160}},
		"one more":          {strings.Repeat("a", 161), text.Size{Parts: 2, Used: 161, Left: 306 - 161}},
		"two parts, full":   {strings.Repeat("a", 306), text.Size{Parts: 2, Used: 306}},
		"three parts":       {strings.Repeat("a", 307), text.Size{Parts: 3, Used: 307, Left: 459 - 307}},
		"euro is two":       {strings.Repeat("€", 80), text.Size{Parts: 1, Used: 160}},
		"euro is not split": {strings.Repeat("a", 152) + "€" + strings.Repeat("a", 152), text.Size{Parts: 3, Used: 306, Left: 152}},
		"French that fits":  {strings.Repeat("é", 40) + strings.Repeat("è", 40) + strings.Repeat("à", 40) + strings.Repeat("ù", 40), text.Size{Parts: 1, Used: 160}},
		"the French trap":   {strings.Repeat("é", 69) + "ê", text.Size{Parts: 1, Used: 70, Unicode: true, Odd: []rune("ê")}},
		"the trap shut":     {"ç" + strings.Repeat("e", 70), text.Size{Parts: 2, Used: 71, Left: 134 - 71, Unicode: true, Odd: []rune("ç")}},
		"a picture is two":  {strings.Repeat("🐌", 35), text.Size{Parts: 1, Used: 70, Unicode: true, Odd: []rune("🐌")}},
		"and is not split":  {strings.Repeat("🐌", 67), text.Size{Parts: 3, Used: 134, Left: 65, Unicode: true, Odd: []rune("🐌")}},
	} {
		require.Equal(t, c.want, text.SizeOf(c.s), name)
	}
}

func TestEveryAccentOfFrenchFits(t *testing.T) {
	const all = "àâæçéèêëîïôœùûüÿÀÂÆÇÉÈÊËÎÏÔŒÙÛÜŸ «\u00a0a\u00a0» ’ – … 12\u202f000 °"
	z := text.SizeOf(text.Plain(all))
	require.False(t, z.Unicode, "%q", z.Odd)
	require.Equal(t, "L'eau est coupée : rouvrez la trappe, n'entrez pas seul.", text.Plain("L’eau est coupée\u00a0: rouvrez la trappe, n’entrez pas seul."))
	require.Equal(t, "Ça a gelé coté nord", text.Plain("Ça a gelé côté nord"), "what the alphabet has stays")
	require.Equal(t, "Привет", text.Plain("Привет"), "another script is sent whole")
}

// The count against one made another way: the message is written out unit by
// unit and cut into parts greedily.
func TestSizeAgainstWritingItOut(t *testing.T) {
	letters := rapid.SampledFrom([]rune("abc é€[]ê’🐌\n"))
	rapid.Check(t, func(t *rapid.T) {
		rs := rapid.SliceOfN(letters, 0, 500).Draw(t, "letters")
		z := text.SizeOf(string(rs))
		odd := false
		for _, r := range rs {
			odd = odd || text.Septets(r) == 0
		}
		require.Equal(t, odd, z.Unicode)
		var lens []int
		for _, r := range rs {
			if odd {
				lens = append(lens, len(utf16.Encode([]rune{r})))
			} else {
				lens = append(lens, text.Septets(r))
			}
		}
		one, part := 160, 153
		if odd {
			one, part = 70, 67
		}
		used, parts, free := 0, 0, 0
		for _, n := range lens {
			used += n
			if n > free {
				parts, free = parts+1, part
			}
			free -= n
		}
		if used <= one {
			parts = min(1, used)
		}
		require.Equal(t, used, z.Used)
		require.Equal(t, parts, z.Parts)
		require.GreaterOrEqual(t, z.Left, 0)
	})
}

func TestCut(t *testing.T) {
	long := strings.Repeat("Keep the pump off. ", 20)
	cut := text.Cut(long, 1)
	require.Equal(t, 1, text.SizeOf(cut).Parts)
	require.True(t, strings.HasSuffix(cut, "..."))
	require.Greater(t, len(cut), 140, "no more is left out than must be")
	require.Equal(t, "short", text.Cut("short", 1))
	require.Empty(t, text.Cut("short", 0))
	rapid.Check(t, func(t *rapid.T) {
		s, parts := rapid.StringOfN(rapid.SampledFrom([]rune("ab é€ê🐌 ")), 0, 600, -1).Draw(t, "s"), rapid.IntRange(1, 4).Draw(t, "parts")
		got := text.Cut(s, parts)
		require.LessOrEqual(t, text.SizeOf(got).Parts, parts)
		require.True(t, utf8.ValidString(got))
	})
}

func FuzzSizeOf(f *testing.F) {
	f.Add("NO WATER 12")
	f.Add("ê\xff")
	f.Fuzz(func(t *testing.T, s string) {
		z := text.SizeOf(s)
		if (z.Parts == 0) != (s == "") || z.Left < 0 {
			t.Fatalf("%q: %+v", s, z)
		}
	})
}
