package known_test

import (
	"bufio"
	"compress/gzip"
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"tendfold/server/app/signin/known"

	"github.com/stretchr/testify/require"
)

// ASVS 5.0.0 6.2.4 and 6.2.12: the 3,000 most used passwords that fit the
// policy, and a breached set, are all refused. The policy has two lengths.
func TestEveryMostUsedPasswordIsKnown(t *testing.T) {
	for name, least := range map[string]int{"most-used": 8, "most-used-15": 15} {
		t.Run(name, func(t *testing.T) {
			passwords := sample(t, name)
			require.Len(t, passwords, 3000)
			for _, p := range passwords {
				require.GreaterOrEqual(t, utf8.RuneCountInString(p), least)
				require.True(t, known.Contains(p), p)
			}
		})
	}
}

func TestContains(t *testing.T) {
	for password, want := range map[string]bool{
		"password":                    true,
		"Password":                    true,
		"sunshine2024!!!!":            true,  // a known word dressed up
		"!!sunshine!!":                true,  // on both sides
		"sunshine2024!!!!!":           false, // less than half of it is the word
		"snail gate rain drum nine":   false,
		"grillage pluie tambour neuf": false,
		"":                            false,
		"1":                           false,
		"été à Buea, sous la véranda": false,
	} {
		require.Equal(t, want, known.Contains(password), password)
	}
}

func TestCount(t *testing.T) {
	require.Greater(t, known.Count(), 190_000)
}

func FuzzContains(f *testing.F) {
	for _, s := range []string{"", "password", "1234", "\xff\xfe", "é", strings.Repeat("a", 300)} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		require.Equal(t, known.Contains(s), known.Contains(strings.ToLower(s)))
	})
}

func sample(t *testing.T, name string) []string {
	t.Helper()
	file, err := os.Open("testdata/" + name + ".txt.gz")
	require.NoError(t, err)
	defer file.Close()
	plain, err := gzip.NewReader(file)
	require.NoError(t, err)
	var out []string
	for lines := bufio.NewScanner(plain); lines.Scan(); {
		out = append(out, lines.Text())
	}
	return out
}
