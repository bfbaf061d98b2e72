// Package gsm counts what a text message costs: in the 7-bit default
// alphabet of 3GPP TS 23.038 (formerly GSM 03.38) with its extension table,
// or in UCS-2 as soon as one character is in neither.
package gsm

import (
	"strings"
	"unicode/utf16"
)

// Encoding of a text message.
type Encoding string

// The encodings.
const (
	Septets Encoding = "gsm-7"
	UCS2    Encoding = "ucs-2"
)

// Lengths of a message and of one part of several, in septets and in UTF-16
// units: 140 bytes, of which a part gives 6 to the header that joins the
// parts (3GPP TS 23.040).
const (
	single7, part7   = 160, 153
	single16, part16 = 70, 67
)

// basic is the default alphabet, extension the characters that cost two
// septets (3GPP TS 23.038, 6.2.1 and 6.2.1.1). The escape itself is not a
// character that anybody can write.
const (
	basic = "@£$¥èéùìòÇ\nØø\rÅåΔ_ΦΓΛΩΠΨΣΘΞÆæßÉ !\"#¤%&'()*+,-./0123456789:;<=>?" +
		"¡ABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÑÜ§¿abcdefghijklmnopqrstuvwxyzäöñüà"
	extension = "\f^{}\\[~]|€"
)

// Cost is what a text takes. Units are septets or UTF-16 units, Left those
// that still fit into the last part.
type Cost struct {
	Encoding Encoding `json:"encoding" enum:"gsm-7,ucs-2"`
	Units    int      `json:"units"`
	Parts    int      `json:"parts"`
	Left     int      `json:"left"`
	// Strange are the characters, each once, that make it UCS-2.
	Strange string `json:"strange"`
}

// CostOf is what a text takes; an empty one takes nothing. A character of
// two units is never cut in two, so a part may end one unit early.
func CostOf(text string) Cost {
	strange := strangers(text)
	if strange != "" {
		return count(text, Cost{Encoding: UCS2, Strange: strange}, single16, part16, func(r rune) int { return len(utf16.Encode([]rune{r})) })
	}
	return count(text, Cost{Encoding: Septets}, single7, part7, func(r rune) int {
		if strings.ContainsRune(extension, r) {
			return 2
		}
		return 1
	})
}

func count(text string, c Cost, single, part int, size func(rune) int) Cost {
	if text == "" {
		return c
	}
	used := 0 // of the last part, when there are several
	parts := 1
	for _, r := range text {
		n := size(r)
		c.Units += n
		if used+n > part {
			parts, used = parts+1, 0
		}
		used += n
	}
	if c.Units <= single {
		c.Parts, c.Left = 1, single-c.Units
		return c
	}
	c.Parts, c.Left = parts, part-used
	return c
}

func strangers(text string) string {
	var out strings.Builder
	for _, r := range text {
		if !strings.ContainsRune(basic, r) && !strings.ContainsRune(extension, r) && !strings.ContainsRune(out.String(), r) {
			out.WriteRune(r)
		}
	}
	return out.String()
}

// plain are the characters that French and English write on screens and the
// default alphabet lacks, with what stands for them. É, è, é, ù and à are in
// it; the others lose their accent rather than more than half of the room.
var plain = strings.NewReplacer(
	"’", "'", "‘", "'", "“", "\"", "”", "\"", "«\u00a0", "\"", "\u00a0»", "\"", "« ", "\"", " »", "\"", "«", "\"", "»", "\"",
	"…", "...", "–", "-", "—", "-", "\u202f", " ", "\u2009", " ", "×", "x", "\u00a0°C", " C", " °C", " C", "°", " deg", "\u00a0", " ", "²", "2", "³", "3",
	"œ", "oe", "Œ", "OE", "ç", "c", "â", "a", "Â", "A", "À", "A", "á", "a", "ê", "e", "Ê", "E", "ë", "e", "Ë", "E", "È", "E",
	"î", "i", "Î", "I", "ï", "i", "Ï", "I", "í", "i", "ô", "o", "Ô", "O", "ó", "o", "û", "u", "Û", "U", "Ù", "U", "ú", "u", "ÿ", "y",
)

// Plain puts a text into the default alphabet where a stand-in is read as
// the same word; what has none stays and makes the text UCS-2.
func Plain(text string) string { return plain.Replace(text) }
