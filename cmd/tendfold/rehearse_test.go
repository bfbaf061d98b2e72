package main

import (
	"bytes"
	"context"
	"encoding/json"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// command runs tendfold as a shell would.
func command(ctx context.Context, args ...string) (code int, out, told string) {
	var o, e bytes.Buffer
	code = run(ctx, args, streams{strings.NewReader(""), &o, &e})
	return code, o.String(), e.String()
}

var short = []string{"rehearse", "--farms", "6", "--days", "90", "--seed", "3,18446744073709551615"}

func TestRehearseAnswersAsJSON(t *testing.T) {
	code, out, told := command(t.Context(), append(short, "--json", "--world", "optimistic")...)
	require.Equal(t, exitDone, code, told)
	require.Contains(t, told, "12 of 12 farms")
	var got map[string]any
	require.NoError(t, json.Unmarshal([]byte(out), &got), "JSON stands alone on stdout")
	require.ElementsMatch(t, strings.Fields(`farms days seeds world faults recall recall_low recall_minor precision precision_low median_days
		unexplained_farm_year faultless_farm_year load_mean load_p95 flap_share naive schedule dates`), slices.Collect(maps.Keys(got)))
	faults := got["faults"].(map[string]any)
	require.ElementsMatch(t, []string{"injected", "major", "minor", "undetectable", "by_kind"}, slices.Collect(maps.Keys(faults)))
	kinds := faults["by_kind"].(map[string]any)
	require.Len(t, kinds, 8)
	require.ElementsMatch(t, []string{"counted", "caught", "median_days"}, slices.Collect(maps.Keys(kinds["slow-growth"].(map[string]any))))
	for pair, keys := range map[string][]string{"naive": {"recall", "precision"}, "schedule": {"recall", "precision"}, "dates": {"p50_share", "p90_share"}} {
		require.ElementsMatch(t, keys, slices.Collect(maps.Keys(got[pair].(map[string]any))))
	}
	require.Equal(t, "optimistic", got["world"])
	require.Contains(t, out, `"seeds":[3,18446744073709551615]`)
}

func TestRehearseSpeaksInWords(t *testing.T) {
	code, out, _ := command(t.Context(), append(short, "--faults", "silent-farm,slow-cover")...)
	require.Equal(t, exitDone, code)
	require.Contains(t, out, "6 farms a seed, 90 days, seeds 3 18446744073709551615, fair world.")
	require.Contains(t, out, "tickets with a real reason")
	require.Regexp(t, `(?m)^silent-farm +\d`, out)
	require.Regexp(t, `(?m)^milestone-behind +\d`, out)
	require.NotContains(t, out, "poor-feed", "only what was asked for can strike")
}

func TestRehearseWritesTables(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "folder")
	code, _, told := command(t.Context(), append(short, "--dump", dir)...)
	require.Equal(t, exitDone, code, told)
	for _, name := range []string{"truth.csv", "evidence.csv", "tickets.csv", "naive.csv"} {
		text, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		require.Greater(t, bytes.Count(text, []byte("\n")), 1, name)
	}
}

func TestRehearseRefusesWrongUse(t *testing.T) {
	for args, says := range map[string]string{
		"--farms 0":                        "--farms: Give 1 to 50000 farms.",
		"--farms many":                     "--farms",
		"--farms 9000 --seed 1,2,3,4,5,6":  "54000 farms in all",
		"--farms 6000 --seed 1,2 --dump x": "--dump: Give fewer farms or seeds",
		"--days 1501":                      "--days: Give 1 to 1500 days.",
		"--seed 1,1":                       "--seed: Give each seed once",
		"--seed 18446744073709551616":      "--seed",
		"--seed=":                          "--seed: Give 1 to 100 seeds.",
		"--world nice":                     `"fair","optimistic","pessimistic"`,
		"--faults gremlins":                `no fault "gremlins"; there are [late-planting`,
		"--farms 0 --days 0":               "--days",
		"--speed 3":                        "--speed",
		"now":                              "now",
	} {
		code, out, told := command(t.Context(), append([]string{"rehearse"}, strings.Fields(args)...)...)
		require.Equal(t, exitUsage, code, args)
		require.Empty(t, out, args)
		require.Contains(t, told, says, args)
	}
	require.NoDirExists(t, "x")
}

// The folder is tried before the work, not after it.
func TestRehearseTellsOfAFolderThatCannotBe(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	code, out, told := command(t.Context(), append(short, "--dump", file)...)
	require.Equal(t, exitError, code)
	require.Empty(t, out)
	require.Contains(t, told, "file")
	require.NotContains(t, told, "farms")
}

func TestRehearseStops(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	stop()
	code, out, told := command(ctx, short...)
	require.Equal(t, exitError, code)
	require.Empty(t, out)
	require.Contains(t, told, "stopped")
}
