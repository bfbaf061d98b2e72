package register

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// joined letters do not fall apart under decomposition, but people type them
// both ways.
var joined = strings.NewReplacer("œ", "oe", "æ", "ae", "ß", "ss", "ø", "o", "đ", "d", "ł", "l")

// Fold is the form in which names are compared and found: small letters, no
// accents, every run of anything but letters and digits one space. A text
// without letters and digits folds to itself, so that it stays a key.
func Fold(s string) string {
	var b strings.Builder
	b.Grow(len(s))
	gap := false
	for _, r := range joined.Replace(strings.ToLower(norm.NFKD.String(s))) {
		switch {
		case unicode.Is(unicode.Mn, r):
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			if gap && b.Len() > 0 {
				b.WriteByte(' ')
			}
			gap = false
			b.WriteRune(r)
		default:
			gap = true
		}
	}
	if b.Len() == 0 {
		return strings.Join(strings.Fields(strings.ToLower(s)), " ")
	}
	return b.String()
}

// distance is the number of single-letter insertions, deletions, changes and
// swaps of neighbours that turn a into b (optimal string alignment, after
// Damerau 1964 and Levenshtein 1966); more than most is answered as most+1.
func distance(a, b string, most int) int {
	x, y := []rune(a), []rune(b)
	if len(x)-len(y) > most || len(y)-len(x) > most {
		return most + 1
	}
	before, last, row := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = i
		least := i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
			least = min(least, row[j])
		}
		if least > most {
			return most + 1
		}
		before, last, row = last, row, before
	}
	return min(last[len(y)], most+1)
}

// near says whether two folded names are so close that one may be a slip for
// the other: a letter in four to nine, two from ten on (our choice). Names
// whose figures differ are two names: pen 1 and pen 2.
func near(a, b string) bool {
	if a == b {
		return true
	}
	if digits(a) != digits(b) {
		return false
	}
	most := slips(min(len([]rune(a)), len([]rune(b))))
	return most > 0 && distance(a, b, most) <= most
}

func slips(letters int) int {
	switch {
	case letters < 4:
		return 0
	case letters < 10:
		return 1
	}
	return 2
}

func digits(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsDigit(r) {
			return r
		}
		return -1
	}, s)
}
