package checklists

import (
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"
)

// The shipped figures are those of the reference, with its grades.
func TestShippedHusbandry(t *testing.T) {
	snail, catfish := pack(t, "snail").Husbandry, pack(t, "catfish").Husbandry
	require.InDelta(t, 10, catfish.Deaths.AtOncePc.Value, 0)
	require.InDelta(t, 5, snail.Deaths.AtOncePc.Value, 0)
	for _, h := range []Husbandry{snail, catfish} {
		require.LessOrEqual(t, h.Deaths.Shape.Value, 4.0)
		require.InDelta(t, 250, h.Deaths.RunWeeks.Value, 0)
	}
	fry, _ := catfish.Limit("ammonia-general")
	grown, _ := catfish.Limit("ammonia-species")
	require.InDelta(t, 0.05, *fry.High, 0)
	require.InDelta(t, 0.34, *grown.High, 0)
	_, known := catfish.Limit("gravity")
	require.False(t, known)
}

func TestHusbandryIsRefusedWithPlaceAndReason(t *testing.T) {
	for src, says := range map[string]string{
		"deaths: {shape: {value: 5, grade: constructed}}":                                                  "between 0.1 and 4",
		"limits: [{key: ph, name: {en: pH, fr: pH}, in: ph, grade: from-memory}]":                          "neither low nor high",
		"systems: [{key: pond, name: {en: Pond, fr: Mare}, in: kg, most: {value: 1, grade: from-memory}}]": "is not one of",
		"crops: [{key: rice, name: {en: Rice, fr: Riz}, ini: 1, mid: 9, end: 1, grade: from-memory}]":      "between 0.05 and 1.6",
		"gravity: 9.81": "is not a key",
	} {
		files := duckHusbandry(t, src)
		require.Contains(t, lines(Check(files))[0], says, src)
		require.Contains(t, lines(Check(files))[0], husbandryFile+":1:")
	}
	require.Empty(t, Check(duckHusbandry(t, "mist_l_m2: {low: 0, typical: 1, high: 2, grade: from-memory}")))
}

func duckHusbandry(t *testing.T, src string) fstest.MapFS {
	t.Helper()
	files := duck(t)
	files[husbandryFile] = &fstest.MapFile{Data: []byte(src)}
	return files
}
