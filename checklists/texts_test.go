package checklists

import (
	"testing"
	"testing/fstest"

	"tendfold/domain/text"

	"github.com/stretchr/testify/require"
)

// The examples of the brief, and a danger in both languages, by pack.
func TestTextMessages(t *testing.T) {
	for enterprise, cases := range map[string]map[string]string{
		"snail": {
			"DEAD 12": "many-sudden-deaths", "MORTS 12": "many-sudden-deaths", "2 morts": "dead-single", "NO WATER": "no-water", "Plus d’eau": "no-water",
			"La pompe est arretee": "no-water", "my son is electrocuted": "electric-shock", "ELECTROCUTE": "electric-shock", "il est tombé dans le puits": "person-in-tank",
			"chaux dans l'oeil": "poison-swallowed", "no dead": "", "bonjour": "",
		},
		"catfish": {
			"DEAD 12": "deaths-every-day", "MORTS 50": "mass-death", "fish at the surface": "gasping", "les poissons happent l'air": "gasping", "le bac fuit": "tank-leaks",
			"water tingles": "electric-shock", "mordue par un serpent": "bite",
		},
	} {
		p := pack(t, enterprise)
		g := text.NewGrammar(p.Texts...)
		for in, want := range cases {
			got := ""
			if m := g.Read(in); len(m.Signs) > 0 {
				got = m.Signs[0]
			}
			require.Equal(t, want, got, "%s: %q", enterprise, in)
		}
		for _, sign := range p.Signs {
			if sign.Danger {
				require.True(t, has(p.Texts, sign.Key), "%s: nobody can write %q from a simple phone", enterprise, sign.Key)
			}
		}
	}
}

func has(words []text.Keyword, sign string) bool {
	for _, k := range words {
		if k.Sign == sign {
			return true
		}
	}
	return false
}

func TestTextWordsThatCannotBe(t *testing.T) {
	for src, reason := range map[string]string{
		"words: [{en: [a], fr: [b]}]":                                                   "neither a sign nor a count",
		"words: [{sign: no-such-sign, en: [a], fr: [b]}]":                               `there is no sign "no-such-sign"`,
		"words: [{count: no_such, en: [a], fr: [b]}]":                                   `there is no field "no_such"`,
		"words: [{count: deaths, en: [a], fr: [b]}, {count: deaths, en: [A], fr: [c]}]": "stands here twice",
		"words: [{count: deaths, en: ['!'], fr: [b]}]":                                  "not a phrase of words",
		"words: [{count: deaths, en: [a]}]":                                             "fr",
		"words: [{count: deaths, en: [a], fr: [b], from: 1, from_sign: x}]":             "from",
	} {
		files := duck(t)
		files[textsFile] = &fstest.MapFile{Data: []byte(src)}
		require.Contains(t, join(Check(files)), reason, src)
	}
}

func join(problems []Problem) string {
	out := ""
	for _, p := range problems {
		out += p.String() + "\n"
	}
	return out
}

func FuzzTexts(f *testing.F) {
	f.Add([]byte("words: [{count: deaths, en: [dead], fr: [morts], sign: limp}]"))
	for _, src := range odd {
		f.Add([]byte(src))
	}
	whole := duck(f)
	f.Fuzz(func(t *testing.T, src []byte) {
		if set := checked(t, whole, textsFile, src); set != nil {
			for _, name := range set.Enterprises() {
				p, _ := set.Pack(name)
				text.NewGrammar(p.Texts...).Read("DEAD 12 no water")
			}
		}
	})
}
