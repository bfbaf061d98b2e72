package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestListNamesEverySafetyCardInBothLanguages(t *testing.T) {
	dir := t.TempDir()
	training := filepath.Join(dir, "duck", "training")
	require.NoError(t, os.MkdirAll(training, 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(training, "warmth.yaml"), []byte(`
module: warmth
cards:
  - {key: lamp, safety: true, title: {en: Hot lamp!, fr: Lampe chaude}, text: {en: Do not touch., fr: Ne touchez pas.}}
  - {key: water, title: {en: Water, fr: Eau}, text: {en: Fresh., fr: Fraîche.}}
`), 0o600))

	var out strings.Builder
	require.NoError(t, list(&out, dir))

	sound := filepath.Join(dir, "duck", "voices")
	require.Equal(t, ""+
		sound+"/en/warmth.lamp.ogg\ten\tHot lamp. Do not touch.\n"+
		sound+"/fr/warmth.lamp.ogg\tfr\tLampe chaude. Ne touchez pas.\n", out.String())
}

// A recording that is missing is heard as silence on a card about a danger.
func TestEverySafetyCardThatShipsIsRecorded(t *testing.T) {
	var out strings.Builder
	require.NoError(t, list(&out, ".."))
	for line := range strings.Lines(out.String()) {
		sound, _, _ := strings.Cut(line, "\t")
		require.FileExists(t, sound, "run checklists/voices.sh")
	}
}
