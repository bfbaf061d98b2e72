package checklists

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// fold brings what people type to what is compared: capitals, accents,
// punctuation and doubled spaces do not count.
func fold(s string) string {
	var b strings.Builder
	gap := false
	for _, r := range norm.NFD.String(strings.ToLower(s)) {
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
	return b.String()
}
