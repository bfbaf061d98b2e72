package rehearsal

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tendfold/domain"
	"tendfold/domain/rehearsal/truth"
	"tendfold/domain/sweep"
)

func small(t testing.TB) Config {
	return Config{Farms: 12, Days: 160, Seeds: []uint64{3, 18446744073709551615}, World: truth.Fair, Plans: homePlans(t), Dump: true}
}

func tables(t testing.TB, r *Rehearsal) map[string][][]string {
	out := map[string][][]string{}
	for name, write := range map[string]func(w *bytes.Buffer) error{
		"truth": func(w *bytes.Buffer) error { return r.WriteTruth(w) }, "evidence": func(w *bytes.Buffer) error { return r.WriteEvidence(w) },
		"tickets": func(w *bytes.Buffer) error { return r.WriteTickets(w) }, "naive": func(w *bytes.Buffer) error { return r.WriteNaive(w) },
	} {
		var b bytes.Buffer
		require.NoError(t, write(&b))
		rows, err := csv.NewReader(&b).ReadAll()
		require.NoError(t, err)
		out[name] = rows
	}
	return out
}

// The answer hangs on the config alone, however many work at it.
func TestSameConfigSameAnswer(t *testing.T) {
	c := small(t)
	c.Workers = 1
	one, err := Run(c, nil, nil)
	require.NoError(t, err)
	c.Workers = 4
	four, err := Run(c, nil, nil)
	require.NoError(t, err)
	require.Equal(t, one.Runs, four.Runs)
	require.Equal(t, tables(t, one), tables(t, four))
	a, err := json.Marshal(one.Report(one.Score()))
	require.NoError(t, err)
	b, err := json.Marshal(four.Report(four.Score()))
	require.NoError(t, err)
	require.Equal(t, string(a), string(b))
	c.Seeds[0]++
	other, err := Run(c, nil, nil)
	require.NoError(t, err)
	require.NotEqual(t, one.Runs[0].Tickets, other.Runs[0].Tickets)
	require.Equal(t, one.Runs[12:], other.Runs[12:], "one seed says nothing of another")
}

func TestReportHasTheWordsOfTheCommand(t *testing.T) {
	r, err := Run(small(t), nil, nil)
	require.NoError(t, err)
	text, err := json.Marshal(r.Report(r.Score()))
	require.NoError(t, err)
	var got map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(text, &got))
	want := strings.Fields(`farms days seeds world faults recall recall_low recall_minor precision precision_low median_days
		unexplained_farm_year faultless_farm_year load_mean load_p95 flap_share naive schedule dates`)
	require.Len(t, got, len(want))
	for _, w := range want {
		require.Contains(t, got, w)
	}
	require.Contains(t, string(got["faults"]), `"by_kind":{`)
	require.Contains(t, string(got["seeds"]), "18446744073709551615")
}

// The tables hold all that a second scorer needs.
func TestTablesAgreeWithTheScore(t *testing.T) {
	r, err := Run(small(t), nil, nil)
	require.NoError(t, err)
	s, all := r.Score(), tables(t, r)
	faults, opened, explained := 0, 0, 0
	for _, row := range all["truth"][1:] {
		if row[7] != "" {
			faults++
		}
	}
	for _, row := range all["tickets"][1:] {
		if row[7] == string(Opened) && sweep.Inference(row[3]) {
			opened++
			if row[9] == "true" {
				explained++
			}
		}
	}
	require.Equal(t, s.Injected, faults)
	require.Equal(t, s.Precision, Share{explained, opened})
	require.Greater(t, len(all["evidence"]), 24*40)
	require.NotEmpty(t, all["naive"][1:])
}

func TestOnlyTheAskedFaultsStrike(t *testing.T) {
	c := small(t)
	c.Faults = []truth.Kind{truth.SilentFarm}
	r, err := Run(c, nil, nil)
	require.NoError(t, err)
	for _, run := range r.Runs {
		for _, f := range run.Faults {
			require.Equal(t, truth.SilentFarm, f.Kind)
		}
	}
}

func TestRunStops(t *testing.T) {
	asked := 0
	c := small(t)
	c.Workers = 1
	_, err := Run(c, func() bool { asked++; return asked > 3 }, nil)
	require.ErrorIs(t, err, ErrStopped)
	require.Equal(t, 4, asked)
}

func TestRunTellsProgress(t *testing.T) {
	c := small(t)
	c.Workers = 1
	var told []int
	_, err := Run(c, nil, func(done, total int) {
		require.Equal(t, 24, total)
		told = append(told, done)
	})
	require.NoError(t, err)
	require.Len(t, told, 24)
	require.Equal(t, 24, told[23])
}

func TestRunRefuses(t *testing.T) {
	for name, change := range map[string]func(*Config){
		"farms": func(c *Config) { c.Farms = 0 }, "days": func(c *Config) { c.Days = 2000 }, "seed": func(c *Config) { c.Seeds = nil },
		"each seed once": func(c *Config) { c.Seeds = []uint64{3, 4, 3} }, "in all": func(c *Config) { c.Farms = 40_000 }, "dump": func(c *Config) { c.Farms = 9000 },
		"each fault once": func(c *Config) { c.Faults = []truth.Kind{truth.SlowCover, truth.SlowCover} },
		"world":           func(c *Config) { c.World = "perfect" }, "faults": func(c *Config) { c.Faults = []truth.Kind{"gremlins"} },
		"plan": func(c *Config) { delete(c.Plans, Way{"catfish", "grow-out"}) },
	} {
		c := small(t)
		change(&c)
		_, err := Run(c, nil, nil)
		require.Equal(t, domain.KindInvalid, domain.KindOf(err), name)
		require.ErrorContains(t, err, name)
	}
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestTablesTellOfAFullDisk(t *testing.T) {
	r, err := Run(small(t), nil, nil)
	require.NoError(t, err)
	require.ErrorContains(t, r.WriteEvidence(broken{}), "disk full")
}
