// Package text knows what fits into a text message: which letters a phone's
// short alphabet has, how many parts a message is sent and paid in, and how to
// say the same within that alphabet.
package text

import (
	"strings"
	"unicode/utf16"
)

// The sizes of a message (3GPP TS 23.038 and 23.040): 140 octets hold 160
// septets or 70 units of UTF-16; in a longer message 6 octets of each part say
// which part it is, which leaves 153 or 67.
const (
	oneSeptets, partSeptets = 160, 153
	oneUnits, partUnits     = 70, 67
)

// basic is the default alphabet of 3GPP TS 23.038, 6.2.1, in the order of its
// codes without 0x1B, which leads to extended, 6.2.1.1, at two septets each.
const (
	basic = "@£$¥èéùìòÇ\nØø\rÅåΔ_ΦΓΛΩΠΨΣΘΞÆæßÉ !\"#¤%&'()*+,-./0123456789:;<=>?" +
		"¡ABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÑÜ§¿abcdefghijklmnopqrstuvwxyzäöñüà"
	extended = "\f^{}\\[~]|€"
)

var septets = func() map[rune]int {
	m := map[rune]int{}
	for _, r := range basic {
		m[r] = 1
	}
	for _, r := range extended {
		m[r] = 2
	}
	return m
}()

// Septets is how many of them r takes, 0 when the alphabet does not have it.
func Septets(r rune) int { return septets[r] }

// Size is how a message is sent.
type Size struct {
	Parts   int    // what is paid; 0 for an empty message
	Used    int    // septets, or units of UTF-16 when Unicode
	Left    int    // how many more of them fit before there is one part more
	Unicode bool   // a letter outside the short alphabet has cut the room to less than half
	Odd     []rune // those letters, each once, in the order met
}

// SizeOf counts a message as the network does. A letter of two septets, or of
// two units, is never split between two parts.
func SizeOf(s string) Size {
	var z Size
	for _, r := range s {
		if septets[r] == 0 && !strings.ContainsRune(string(z.Odd), r) {
			z.Odd = append(z.Odd, r)
		}
	}
	z.Unicode = z.Odd != nil
	width, one, part := Septets, oneSeptets, partSeptets
	if z.Unicode {
		width, one, part = units, oneUnits, partUnits
	}
	for _, r := range s {
		z.Used += width(r)
	}
	switch {
	case z.Used == 0:
		z.Left = one
	case z.Used <= one:
		z.Parts, z.Left = 1, one-z.Used
	default:
		z.Parts, z.Left = split(s, width, part)
	}
	return z
}

// units is how many units of UTF-16 r takes.
func units(r rune) int { return max(1, utf16.RuneLen(r)) }

// split fills parts one after the other.
func split(s string, width func(rune) int, part int) (parts, left int) {
	for _, r := range s {
		if w := width(r); w > left {
			parts, left = parts+1, part-w
		} else {
			left -= w
		}
	}
	return parts, left
}
