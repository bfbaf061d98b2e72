package text_test

import (
	"strconv"
	"strings"
	"testing"
	"unicode"

	"tendfold/domain/text"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func grammar() text.Grammar {
	return text.NewGrammar(
		text.Keyword{Says: []string{"shock", "électrocuté"}, Sign: "shock"},
		text.Keyword{Says: []string{"no water", "pas d'eau", "plus d’eau"}, Sign: "no-water"},
		text.Keyword{Says: []string{"water"}, Sign: "water"},
		text.Keyword{Says: []string{"dead", "mort", "morts"}, Count: "deaths", Sign: "dead", From: 10, FromSign: "many-dead"},
		text.Keyword{Says: []string{"missing"}, Count: "missing"},
	)
}

func TestRead(t *testing.T) {
	type counts = []text.Count
	for in, want := range map[string]text.Message{
		"DEAD 12":                    {Signs: []string{"many-dead"}, Counts: counts{{"deaths", 12}}},
		"MORTS 12":                   {Signs: []string{"many-dead"}, Counts: counts{{"deaths", 12}}},
		"dead:3":                     {Signs: []string{"dead"}, Counts: counts{{"deaths", 3}}},
		"3morts":                     {Signs: []string{"dead"}, Counts: counts{{"deaths", 3}}},
		"dead 1,200!":                {Signs: []string{"many-dead"}, Counts: counts{{"deaths", 1200}}},
		"12 dead 3 missing":          {Signs: []string{"many-dead"}, Counts: counts{{"deaths", 12}, {"missing", 3}}},
		"dead 2 missing 3":           {Signs: []string{"dead"}, Counts: counts{{"deaths", 2}, {"missing", 3}}},
		"No dead today":              {Counts: counts{{"deaths", 0}}},
		"pas de morts":               {Counts: counts{{"deaths", 0}}},
		"some are dead":              {Signs: []string{"dead"}},
		"dead 99999999999999999999":  {Signs: []string{"dead"}},
		"NO WATER":                   {Signs: []string{"no-water"}},
		"Plus d'eau, 2 morts":        {Signs: []string{"no-water", "dead"}, Counts: counts{{"deaths", 2}}},
		"PLUS D EAU":                 {Signs: []string{"no-water"}},
		"Ma fille electrocutée":      {},
		"Il est ÉLECTROCUTÉ, au sol": {Signs: []string{"shock"}},
		"e\u0301lectrocute\u0301":    {Signs: []string{"shock"}}, // accents that follow their letter
		"STOP":                       {Command: text.Stop},
		" Arrêt. ":                   {Command: text.Stop},
		"Reprise":                    {Command: text.Start},
		"the pump will stop":         {},
		"Bonjour, ça va bien":        {},
		"":                           {},
	} {
		require.Equal(t, want, grammar().Read(in), "%q", in)
	}
}

// However a report is written (case, accents, order, signs between), the same
// is understood.
func TestOneReportManySpellings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5000).Draw(t, "n")
		word := rapid.SampledFrom([]string{"dead", "mort", "morts"}).Draw(t, "word")
		if rapid.Bool().Draw(t, "capitals") {
			word = strings.ToUpper(word)
		}
		gap := rapid.SampledFrom([]string{" ", ": ", " = ", "-", "", "\n", " \u00a0"}).Draw(t, "gap")
		in := word + gap + strconv.Itoa(n)
		if rapid.Bool().Draw(t, "number first") {
			in = strconv.Itoa(n) + gap + word
		}
		sign := "dead"
		if n >= 10 {
			sign = "many-dead"
		}
		require.Equal(t, text.Message{Signs: []string{sign}, Counts: []text.Count{{Field: "deaths", N: n}}}, grammar().Read(in+"!"))
	})
}

// Whatever comes, reading ends, and what is read stood there.
func FuzzRead(f *testing.F) {
	for _, s := range []string{"DEAD 12", "NO WATER", "1,200 morts", "stop", "\xff\u0301", "00000", "pas de de morts"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		m := grammar().Read(s)
		for _, c := range m.Counts {
			if c.N < 0 || c.N > 1_000_000 || c.N > 0 && !strings.ContainsFunc(s, unicode.IsDigit) {
				t.Fatalf("%q: %+v", s, m)
			}
		}
		if m.Command != "" && (m.Signs != nil || m.Counts != nil) {
			t.Fatalf("%q: %+v", s, m)
		}
	})
}
