package signin

import (
	"crypto/rand"
	"math/big"
	"strings"
)

// A spoken code has eight characters. The first three, the handle, say which
// code is meant, so that a wrong one counts against it; the other five are
// the secret: 24^5 is 8 million, and there are five tries.
const (
	codeLength   = 8
	handleLength = 3
)

// codeAlphabet leaves out what is taken for something else on a screen or a
// bad line: 0 and O, 1 and I, B for 8, Z for 2, S for 5, G for 6 and for J
// (which French and English swap), J, U, V, Y. Our own choice; the desk says
// each letter with a word.
const codeAlphabet = "23456789ACDEFHKLMNPQRTWX"

func newCode() (string, error) {
	var b strings.Builder
	size := big.NewInt(int64(len(codeAlphabet)))
	for range codeLength {
		i, err := rand.Int(rand.Reader, size)
		if err != nil {
			return "", err
		}
		b.WriteByte(codeAlphabet[i.Int64()])
	}
	return b.String(), nil
}

// parseCode reads a code as people type it: small letters, with spaces,
// dashes or dots between. It is "" when it cannot be one.
func parseCode(typed string) string {
	if len(typed) > 64 {
		return ""
	}
	code := strings.ToUpper(strings.Map(func(r rune) rune {
		if strings.ContainsRune(" \t\n-.\u00a0\u202f", r) {
			return -1
		}
		return r
	}, typed))
	if len(code) != codeLength || strings.Trim(code, codeAlphabet) != "" {
		return ""
	}
	return code
}
