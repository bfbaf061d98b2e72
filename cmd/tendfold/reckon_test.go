package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"tendfold/server/reckon"

	"github.com/stretchr/testify/require"
)

// piped runs tendfold with something on standard input.
func piped(t *testing.T, in string, args ...string) (code int, out, told string) {
	t.Helper()
	var o, e bytes.Buffer
	code = run(t.Context(), args, streams{strings.NewReader(in), &o, &e})
	return code, o.String(), e.String()
}

func TestReckonAnswersItsTemplates(t *testing.T) {
	for _, topic := range reckon.Topics() {
		code, sheet, told := piped(t, "", "reckon", string(topic), "--template")
		require.Equal(t, exitDone, code, told)
		require.Contains(t, sheet, "#", "a template is commented")
		file := filepath.Join(t.TempDir(), "sheet.yaml")
		require.NoError(t, os.WriteFile(file, []byte(sheet), 0o600))
		code, byFile, told := piped(t, "", "reckon", string(topic), file, "--json")
		require.Equal(t, exitDone, code, told)
		require.Empty(t, told)
		for _, args := range [][]string{{"reckon", string(topic), "-", "--json"}, {"reckon", string(topic), "--json"}} {
			_, byPipe, _ := piped(t, sheet, args...)
			require.Equal(t, byFile, byPipe)
		}
		var got map[string]json.RawMessage
		require.NoError(t, json.Unmarshal([]byte(byFile), &got))
		for _, key := range []string{"inputs", "outputs", "series", "sources", "cautions"} {
			require.NotEqual(t, "null", string(got[key]), key)
		}
		require.Len(t, got, 5)
	}
}

func TestReckonSpeaksBothLanguages(t *testing.T) {
	sheet := `{"tan_mg_l": 1, "temperature_c": 28, "ph": 7.8}`
	_, english, _ := piped(t, sheet, "reckon", "ammonia", "-")
	require.Regexp(t, `(?m)^un-ionised share of the ammonia +0\.04227 of the total ammonia$`, english)
	_, french, _ := piped(t, sheet, "reckon", "ammonia", "-", "--lang", "fr")
	require.Regexp(t, `(?m)^part d’ammoniac non ionisé +0,04227 de l’ammoniac total$`, french)
}

func TestReckonRefusesOnOneLine(t *testing.T) {
	for sheet, says := range map[string]string{
		`{"tan_mg_l": 1, "temperature_c": 280, "ph": 99}`: "tendfold: ammonia.temperature_c: is 280; it must be 0 to 50 °C\n",
		`{"tan_mg_l": `: "tendfold: This cannot be read: ",
		"":              "tendfold: This cannot be read: ",
	} {
		code, out, told := piped(t, sheet, "reckon", "ammonia", "--json")
		require.Equal(t, exitError, code)
		require.Empty(t, out)
		require.True(t, strings.HasPrefix(told, says), told)
		require.Equal(t, 1, strings.Count(told, "\n"), told)
	}
	code, _, told := piped(t, "", "reckon", "ammonia", "/no/such/file")
	require.Equal(t, exitError, code)
	require.Equal(t, 1, strings.Count(told, "\n"), told)
	code, _, _ = piped(t, "", "reckon", "weather")
	require.Equal(t, exitUsage, code)
}
