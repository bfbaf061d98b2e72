package text

import (
	"strings"
	"unicode"
)

// bare takes the accents off the letters of French and its neighbours.
var bare = strings.NewReplacer(
	"à", "a", "â", "a", "ä", "a", "á", "a", "ã", "a", "å", "a", "ç", "c", "é", "e", "è", "e", "ê", "e", "ë", "e", "ɛ", "e",
	"ì", "i", "í", "i", "î", "i", "ï", "i", "ñ", "n", "ŋ", "n", "ò", "o", "ó", "o", "ô", "o", "ö", "o", "õ", "o", "ø", "o", "ɔ", "o",
	"ù", "u", "ú", "u", "û", "u", "ü", "u", "ÿ", "y", "ý", "y", "œ", "oe", "æ", "ae", "ß", "ss",
)

// Words are the words of a text as they are compared: capitals, accents and
// punctuation do not count, and a number is a word of its own even where it
// touches one.
func Words(s string) []string {
	s = bare.Replace(strings.ToLower(s))
	var out []string
	var word strings.Builder
	digits := false
	end := func() {
		if word.Len() > 0 {
			out = append(out, word.String())
			word.Reset()
		}
	}
	runes := []rune(s)
	for i, r := range runes {
		switch {
		case unicode.Is(unicode.Mn, r), groups(runes, i):
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			if unicode.IsDigit(r) != digits {
				end()
			}
			digits = unicode.IsDigit(r)
			word.WriteRune(r)
		default:
			end()
		}
	}
	end()
	return out
}

// groups says whether the sign at i only groups the figures of a number, as in
// 1,200 or 1.200.
func groups(s []rune, i int) bool {
	digit := func(j int) bool { return j >= 0 && j < len(s) && s[j] >= '0' && s[j] <= '9' }
	return (s[i] == ',' || s[i] == '.') && digit(i-1) && digit(i+1) && digit(i+2) && digit(i+3) && !digit(i+4)
}
