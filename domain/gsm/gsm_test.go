package gsm_test

import (
	"strings"
	"testing"
	"unicode/utf16"

	"tendfold/domain/gsm"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The lengths are those of 3GPP TS 23.038 and 23.040: 160 septets alone, 153
// a part of several; 70 UCS-2 units alone, 67 a part. The characters are the
// tables of 23.038, 6.2.1 and 6.2.1.1: é è à ù and capital Ç are in the
// default alphabet, ê â î ô û ë ï and small ç are not, and the euro, braces,
// brackets, tilde, bar, caret and backslash cost two septets.
func TestCost(t *testing.T) {
	for name, c := range map[string]struct {
		text               string
		encoding           gsm.Encoding
		units, parts, left int
		strange            string
	}{
		"nothing":                     {"", gsm.Septets, 0, 0, 0, ""},
		"one full part":               {strings.Repeat("a", 160), gsm.Septets, 160, 1, 0, ""},
		"one too many":                {strings.Repeat("a", 161), gsm.Septets, 161, 2, 145, ""},
		"two full parts":              {strings.Repeat("a", 306), gsm.Septets, 306, 2, 0, ""},
		"a third":                     {strings.Repeat("a", 307), gsm.Septets, 307, 3, 152, ""},
		"French that fits":            {"É è é ù ì ò à Ç", gsm.Septets, 15, 1, 145, ""},
		"small c with a cedilla":      {"ça", gsm.UCS2, 2, 1, 68, "ç"},
		"accents that do not fit":     {"êâîôûëï", gsm.UCS2, 7, 1, 63, "êâîôûëï"},
		"each stranger once":          {"forêt, forêt", gsm.UCS2, 12, 1, 58, "ê"},
		"extension costs two":         {"€[]{}\\^~|", gsm.Septets, 18, 1, 142, ""},
		"euro over the edge":          {strings.Repeat("a", 159) + "€", gsm.Septets, 161, 2, 145, ""},
		"an escape is never cut":      {strings.Repeat("a", 152) + "€" + strings.Repeat("a", 10), gsm.Septets, 164, 2, 141, ""},
		"curly apostrophe":            {"l’eau", gsm.UCS2, 5, 1, 65, "’"},
		"full UCS-2":                  {strings.Repeat("ê", 70), gsm.UCS2, 70, 1, 0, "ê"},
		"one too many in UCS-2":       {strings.Repeat("ê", 71), gsm.UCS2, 71, 2, 63, "ê"},
		"a surrogate pair counts two": {"🐌", gsm.UCS2, 2, 1, 68, "🐌"},
		"and is never cut":            {strings.Repeat("ê", 66) + "🐌" + strings.Repeat("ê", 10), gsm.UCS2, 78, 2, 55, "ê🐌"},
	} {
		got := gsm.CostOf(c.text)
		require.Equal(t, gsm.Cost{Encoding: c.encoding, Units: c.units, Parts: c.parts, Left: c.left, Strange: c.strange}, got, name)
	}
}

// The default alphabet has 128 places less the escape (3GPP TS 23.038).
func TestTheDefaultAlphabetIsWhole(t *testing.T) {
	one, two := 0, 0
	for r := rune(0); r < 0x3000; r++ {
		switch c := gsm.CostOf(string(r)); {
		case c.Encoding == gsm.Septets && c.Units == 1:
			one++
		case c.Encoding == gsm.Septets && c.Units == 2:
			two++
		}
	}
	require.Equal(t, 127, one)
	require.Equal(t, 10, two, "form feed, eight marks and the euro")
}

func TestPlainFrenchFitsAndReadsTheSame(t *testing.T) {
	for was, is := range map[string]string{
		"Ça goûte l’eau… « déjà » : où ?": "Ça goute l'eau... \"déjà\" : où ?",
		"L'hôte a reçu trois bœufs":       "L'hote a recu trois boeufs",
		"À 25 °C":                         "A 25 C",
	} {
		require.Equal(t, is, gsm.Plain(was))
		require.Equal(t, gsm.Septets, gsm.CostOf(gsm.Plain(was)).Encoding, was)
	}
}

// However long the text, its parts hold it and one part fewer would not.
func TestPartsHoldTheText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOfN(rapid.SampledFrom([]rune("aé€ê🐌 \n")), 1, 400, -1).Draw(t, "text")
		c := gsm.CostOf(text)
		single, part := 160, 153
		if c.Encoding == gsm.UCS2 {
			single, part = 70, 67
			require.Equal(t, len(utf16.Encode([]rune(text))), c.Units)
		}
		require.NotEmpty(t, c.Parts)
		require.Equal(t, c.Units <= single, c.Parts == 1)
		if c.Parts > 1 {
			require.LessOrEqual(t, c.Units, c.Parts*part)
			require.Greater(t, c.Units, (c.Parts-1)*(part-1), "a part loses a unit at most to a character of two")
		}
		require.GreaterOrEqual(t, c.Left, 0)
	})
}

func FuzzCost(f *testing.F) {
	f.Add("ça")
	f.Add("\x1b€")
	f.Fuzz(func(t *testing.T, text string) {
		c := gsm.CostOf(text)
		require.Equal(t, text == "", c.Parts == 0)
		require.GreaterOrEqual(t, c.Left, 0)
		require.Equal(t, c.Encoding == gsm.UCS2, c.Strange != "")
	})
}
