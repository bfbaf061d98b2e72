package signin

import (
	"bufio"
	"compress/gzip"
	"os"
	"strings"
	"testing"

	"tendfold/domain"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// NIST SP 800-63B-4 3.1.1.2 and ASVS 5.0.0 6.2.1 to 6.2.9.
func TestPolicy(t *testing.T) {
	for name, c := range map[string]struct {
		password string
		factor   bool
		code     string
	}{
		"14 characters alone":             {"quietriverjump", false, "password-too-short"},
		"15 lower-case letters":           {"quietriverjumpz", false, ""},
		"7 with a second factor":          {"tkwzrqb", true, "password-too-short"},
		"8 with a second factor":          {"tkwzrqbf", true, ""},
		"64 characters":                   {strings.Repeat("quietriver jump ", 3) + "and a small wheel", false, ""},
		"256 bytes":                       {strings.Repeat("wheel gate rain drum nine seven ", 7) + "and a small wheel turned over on", false, ""},
		"257 bytes":                       {strings.Repeat("x", 257), false, "password-too-long"},
		"spaces are kept":                 {"  quiet river  ", false, ""},
		"characters, not bytes":           {"ééééàààùùùçç", false, "password-too-short"},
		"accents":                         {"fenêtre où dort le mïel", false, ""},
		"not text":                        {"quietriverjump\xff\xfe", false, "password-not-text"},
		"empty":                           {"", false, "password-too-short"},
		"most used":                       {"passwordpassword", false, "password-known"},
		"most used with capitals":         {"PassWordPassWord", false, "password-known"},
		"most used, dressed up":           {"sunshine2024!!!!", false, "password-known"},
		"a word three times":              {"lanternlanternlantern", false, "password-easy"},
		"one letter":                      {"ññññññññññññññññ", false, "password-easy"},
		"QWERTY row":                      {"rtyuiopasdfghjklz", false, "password-easy"},
		"AZERTY row":                      {"azertyuiopqsdfghjklm", false, "password-easy"},
		"rows backwards":                  {"poiuytrezalkjhgfdsq", false, "password-easy"},
		"digits up and down":              {"0123456789876543210", false, "password-easy"},
		"columns":                         {"1qaz2wsx3edc4rfv5tgb", false, "password-easy"},
		"alphabet and digits":             {"klmnopqrst1234567890", false, "password-easy"},
		"rows in pieces":                  {"abcd1234efgh5678", false, "password-easy"},
		"the firm's name":                 {"PalmwalkFarmBuilders", false, "password-easy"},
		"the person and the firm":         {"Enanga@palmwalk2026", false, "password-easy"},
		"ours":                            {"tendfoldtendfold1234", false, "password-easy"},
		"their phone number":              {"+23760000000112345", false, "password-easy"},
		"a name among other words":        {"enanga likes wet roofs", false, ""},
		"short row with a second factor":  {"qwerty12", true, "password-known"},
		"short rows with a second factor": {"asdf4567", true, "password-easy"},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPolicy(c.factor, "Palmwalk Farm Builders", "Enanga Ndive", "enanga@palmwalk.example", "+237600000001")
			err := p.check(c.password)
			require.Equal(t, c.code, domain.CodeOf(err), err)
			if err != nil && c.password != "" {
				require.NotContains(t, err.Error(), c.password)
			}
		})
	}
}

func TestEveryMostUsedPasswordIsRefused(t *testing.T) {
	for name, factor := range map[string]bool{"most-used": true, "most-used-15": false} {
		file, err := os.Open("known/testdata/" + name + ".txt.gz")
		require.NoError(t, err)
		plain, err := gzip.NewReader(file)
		require.NoError(t, err)
		count := 0
		for lines := bufio.NewScanner(plain); lines.Scan(); count++ {
			require.Error(t, newPolicy(factor).check(lines.Text()), lines.Text())
		}
		require.Equal(t, 3000, count)
		require.NoError(t, file.Close())
	}
}

// Six words drawn from a small list are never refused for being easy.
func TestWordsAreTaken(t *testing.T) {
	words := []string{"gate", "river", "copper", "window", "basket", "thunder", "maize", "spoon", "ladder", "orbit"}
	rapid.Check(t, func(t *rapid.T) {
		i := rapid.Permutation(words).Draw(t, "words")
		require.NoError(t, newPolicy(false, "Palmwalk Farm Builders", "Enanga Ndive").check(strings.Join(i[:5], " ")))
	})
}

func FuzzPolicy(f *testing.F) {
	for _, s := range []string{"", "a", "aaaa", "é", "\xff", "qwertyuiop", "tendfold", "&é\"'(-è_çà"} {
		f.Add(s, true)
	}
	f.Fuzz(func(t *testing.T, s string, factor bool) {
		p := newPolicy(factor, s, "Palmwalk")
		require.LessOrEqual(t, p.worth(s), 2*len(s)+2)
		_ = p.check(s)
	})
}
