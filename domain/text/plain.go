package text

import "strings"

// plainer says letters and signs outside the short alphabet with those inside
// it: what a reader of French or English loses is an accent, never a word.
var plainer = strings.NewReplacer(
	"â", "a", "á", "a", "ã", "a", "ā", "a", "Â", "A", "À", "A", "Á", "A", "Ã", "A",
	"ç", "c", "ê", "e", "ë", "e", "ē", "e", "ɛ", "e", "Ê", "E", "È", "E", "Ë", "E",
	"î", "i", "ï", "i", "í", "i", "Î", "I", "Ï", "I", "Í", "I", "Ì", "I",
	"ô", "o", "ó", "o", "õ", "o", "ɔ", "o", "Ô", "O", "Ó", "O", "Ò", "O", "Õ", "O",
	"û", "u", "ú", "u", "Û", "U", "Ù", "U", "Ú", "U", "ÿ", "y", "ý", "y", "Ÿ", "Y",
	"ŋ", "ng", "œ", "oe", "Œ", "OE",
	"\u0300", "", "\u0301", "", "\u0302", "", "\u0308", "", "\u0327", "", // accents that follow their letter
	"’", "'", "‘", "'", "ʼ", "'", "“", "\"", "”", "\"", "« ", "\"", " »", "\"", "«\u00a0", "\"", "\u00a0»", "\"", "«\u202f", "\"", "\u202f»", "\"", "«", "\"", "»", "\"",
	"n°", "no", "N°", "No", "–", "-", "—", "-", "‑", "-", "−", "-", "…", "...", "•", "-", "·", "-", "×", "x", "°", " deg", "²", "2", "³", "3", "½", "1/2", "¼", "1/4",
	"\u00a0", " ", "\u202f", " ", "\u2009", " ", "\u200b", "", "\ufeff", "", "\t", " ",
)

// Plain says a message within the short alphabet where that loses only
// accents and the shape of signs, so that French keeps its 160 letters to a
// part. What it has no plain letter for stays as it is: a message in another
// script is sent in full, and costs more.
func Plain(s string) string { return plainer.Replace(s) }

// Cut is s within so many parts, at the end of a word where there is one, with
// "..." where something is left out.
func Cut(s string, parts int) string {
	if parts < 1 {
		return ""
	}
	if SizeOf(s).Parts <= parts {
		return s
	}
	const more = "..."
	end := 0 // the longest beginning that still fits with the dots behind it
	lo, hi := 0, len(s)
	for lo <= hi { // the size grows with the length, for the letters of all of s
		mid := runeStart(s, (lo+hi)/2)
		if SizeOf(s[:mid]+more).Parts <= parts {
			end, lo = mid, (lo+hi)/2+1
		} else {
			hi = (lo+hi)/2 - 1
		}
	}
	if space := strings.LastIndexByte(s[:end], ' '); space > end/2 {
		end = space
	}
	return strings.TrimRight(s[:end], " ") + more
}

// runeStart is the nearest place at or before i where a letter begins.
func runeStart(s string, i int) int {
	for i > 0 && i < len(s) && s[i]&0xC0 == 0x80 {
		i--
	}
	return i
}
