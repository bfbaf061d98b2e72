package signin

import (
	"slices"
	"strings"
	"unicode/utf8"

	"tendfold/domain"
	"tendfold/server/app/signin/known"
)

// The lengths of a password (NIST SP 800-63B-4, 3.1.1.2: 15 characters where
// it is the only factor, 8 where it never is). Ours is counted in characters
// and bounded in bytes.
const (
	minAlone      = 15
	minWithFactor = 8
	maxBytes      = 256
)

// policy is what a password is held against: the least length, and the words
// that anyone who knows the person and the firm would try.
type policy struct {
	least int
	words []string
}

func newPolicy(secondFactor bool, near ...string) policy {
	p := policy{least: minAlone, words: []string{"tendfold"}}
	if secondFactor {
		p.least = minWithFactor
	}
	for _, text := range near {
		for _, w := range strings.FieldsFunc(strings.ToLower(text), notWord) {
			if utf8.RuneCountInString(w) >= 4 {
				p.words = append(p.words, w)
			}
		}
	}
	// Longest first, so that a word inside another does not hide it.
	slices.SortFunc(p.words, func(a, b string) int { return len(b) - len(a) })
	return p
}

func notWord(r rune) bool { return strings.ContainsRune(" \t@.,;:'’-_+/()", r) }

// check refuses a password with one field error that says why and what to
// do. There is no rule on kinds of characters, and nothing is trimmed.
func (p policy) check(password string) error {
	switch {
	case !utf8.ValidString(password):
		return refused("password-not-text", "This password holds bytes that are no text. Type it again.")
	case len(password) > maxBytes:
		return refused("password-too-long", "This password is longer than we can keep. Use at most 256 bytes, which is about 250 letters.")
	case utf8.RuneCountInString(password) < p.least && p.least == minAlone:
		return refused("password-too-short", "This password is too short. Use at least 15 characters, for example four or five words; or set up a code app first, then 8 are enough.")
	case utf8.RuneCountInString(password) < p.least:
		return refused("password-too-short", "This password is too short. Use at least 8 characters.")
	case known.Contains(password):
		return refused("password-known", "This password is among those that guessers try first. Choose another, for example four or five words that have nothing to do with each other.")
	case p.worth(password) < (p.least+3)/2:
		return refused("password-easy", "This password is mostly names, repeats or keys in a row, which guessers try early. Add words that have nothing to do with each other.")
	}
	return nil
}

func refused(code, text string) error {
	return domain.Invalid(code, text, domain.Field{Path: "password", Code: code, Text: text})
}

// worth counts the characters that a guesser who knows the firm, the person
// and the keyboard has to find: a word from around the person counts one, a
// row of keys or a repeat two.
func (p policy) worth(password string) int {
	folded := strings.ToLower(password)
	if n := period(folded); n > 0 {
		folded = folded[:n]
	}
	count := 0
	for len(folded) > 0 {
		if w := p.wordAt(folded); w > 0 {
			count, folded = count+1, folded[w:]
			continue
		}
		if n := rowAt(folded); n > 0 {
			count, folded = count+2, folded[n:]
			continue
		}
		_, size := utf8.DecodeRuneInString(folded)
		count, folded = count+1, folded[size:]
	}
	return count
}

func (p policy) wordAt(s string) int {
	for _, w := range p.words {
		if strings.HasPrefix(s, w) {
			return len(w)
		}
	}
	return 0
}

// period is the length in bytes of the piece that s repeats, 0 when it does
// not.
func period(s string) int {
	for n := 1; n <= len(s)/2; n++ {
		if len(s)%n == 0 && strings.Repeat(s[:n], len(s)/n) == s {
			return n
		}
	}
	return 0
}

// rows are what fingers run along: the alphabet, digits, and the rows and
// columns of the QWERTY and AZERTY keyboards.
var rows = bothWays(
	"abcdefghijklmnopqrstuvwxyz", "01234567890",
	"qwertyuiop", "asdfghjkl", "zxcvbnm",
	"azertyuiop", "qsdfghjklm", "wxcvbn", "&é\"'(-è_çà",
	"1qaz2wsx3edc4rfv5tgb6yhn7ujm", "1aqw2zsx3edc4rfv5tgb6yhn7uj",
)

func bothWays(rows ...string) []string {
	out := slices.Clone(rows)
	for _, row := range rows {
		back := []rune(row)
		slices.Reverse(back)
		out = append(out, string(back))
	}
	return out
}

// rowAt is the length in bytes of the row of four or more keys, or of the
// same character three times or more, at the start of s; 0 when there is none.
func rowAt(s string) int {
	first, size := utf8.DecodeRuneInString(s)
	same := len(s) - len(strings.TrimLeft(s, string(first)))
	if same >= 3*size {
		return same
	}
	best := 0
	for _, row := range rows {
		at := strings.Index(row, string(first))
		if at < 0 {
			continue
		}
		n := common(s, row[at:])
		if utf8.RuneCountInString(s[:n]) >= 4 {
			best = max(best, n)
		}
	}
	return best
}

// common is the length in bytes of what both begin with.
func common(a, b string) int {
	n := 0
	for n < len(a) && n < len(b) {
		r, size := utf8.DecodeRuneInString(a[n:])
		if q, _ := utf8.DecodeRuneInString(b[n:]); r != q {
			break
		}
		n += size
	}
	return n
}
