package intake

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestEscape(t *testing.T) {
	for in, want := range map[string]string{
		`=HYPERLINK("http://x","y")`: `'=HYPERLINK("http://x","y")`,
		"+237677123456":              "'+237677123456",
		"-cmd":                       "'-cmd",
		"@SUM(A1)":                   "'@SUM(A1)",
		"'quoted":                    "''quoted",
		"Buea":                       "Buea",
		"-9.24":                      "-9.24", // a number is no formula
		"":                           "",
	} {
		require.Equal(t, want, escape(in))
		require.Equal(t, in, unescape(escape(in)))
	}
	// What people typed with an apostrophe of their own stays as typed.
	require.Equal(t, "'s Gravenhage", unescape("'s Gravenhage"))
}

func TestEscapeComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.OneOf(rapid.String(), rapid.StringMatching(`[=+\-@'\t\r]{1,3}.{0,5}`)).Draw(t, "cell")
		require.Equal(t, s, unescape(escape(s)))
		if e := escape(s); e != "" && !plain.MatchString(e) {
			require.False(t, strings.ContainsRune(reckoned, rune(e[0])), e)
		}
	})
}
