package store

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// joined letters do not fall apart under decomposition, but people type them
// both ways.
var joined = strings.NewReplacer("œ", "oe", "æ", "ae", "ß", "ss", "ø", "o", "đ", "d", "ł", "l")

// Fold is the form in which names are kept unique and found: small letters,
// no accents, every run of anything but letters and digits one space. A text
// without letters and digits folds to itself, so that it stays a key.
func Fold(s string) string {
	var b strings.Builder
	b.Grow(len(s))
	gap := false
	for _, r := range norm.NFKD.String(joined.Replace(strings.ToLower(s))) {
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
