package training_test

import (
	"testing"

	"tendfold/domain/calendar"
	"tendfold/domain/training"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func date(s string) calendar.Date { return calendar.MustDate(s) }

// Month ends by hand from the civil calendar.
func TestValidUntil(t *testing.T) {
	for _, c := range []struct {
		on     string
		months int
		want   string
	}{
		{"2026-08-31", 6, "2027-02-28"},
		{"2027-08-31", 6, "2028-02-29"}, // leap year
		{"2027-08-29", 6, "2028-02-29"},
		{"2026-08-30", 6, "2027-02-28"},
		{"2026-03-15", 6, "2026-09-15"},
		{"2026-03-15", 12, "2027-03-15"},
		{"2024-02-29", 12, "2025-02-28"},
		{"2026-12-31", 6, "2027-06-30"},
		{"2026-05-31", 1, "2026-06-30"},
		{"2026-01-31", 0, "2026-01-31"},
	} {
		require.Equal(t, c.want, training.ValidUntil(date(c.on), c.months).String(), "%s + %d months", c.on, c.months)
	}
}

func TestMonths(t *testing.T) {
	require.Equal(t, 12, training.Months(0, false))
	require.Equal(t, 6, training.Months(0, true))
	require.Equal(t, 3, training.Months(3, true))
	require.Equal(t, 18, training.Months(18, false))
}

var passes = []training.Pass{
	training.NewPass("water", date("2026-01-10"), 12, training.InPerson, "ben"),
	training.NewPass("safety", date("2025-06-01"), 6, training.OnPhone, ""),
	training.NewPass("feed", date("2026-03-20"), 12, training.ByWord, "ben"),
}

func TestMissing(t *testing.T) {
	required := []string{"safety", "eggs", "water", "feed"}
	for _, c := range []struct {
		on   string
		soon int
		want []training.Gap
	}{
		{"2026-03-19", 0, []training.Gap{
			{Module: "safety", Kind: training.Lapsed, Until: date("2025-12-01"), Days: 108},
			{Module: "eggs", Kind: training.NeverPassed},
			{Module: "feed", Kind: training.NeverPassed}, // passed tomorrow
		}},
		{"2025-12-01", 0, []training.Gap{ // the last day counts
			{Module: "eggs", Kind: training.NeverPassed},
			{Module: "water", Kind: training.NeverPassed},
			{Module: "feed", Kind: training.NeverPassed},
		}},
		{"2026-12-28", 14, []training.Gap{
			{Module: "safety", Kind: training.Lapsed, Until: date("2025-12-01"), Days: 392},
			{Module: "eggs", Kind: training.NeverPassed},
			{Module: "water", Kind: training.Lapsing, Until: date("2027-01-10"), Days: 13},
		}},
		{"2026-12-27", 14, []training.Gap{
			{Module: "safety", Kind: training.Lapsed, Until: date("2025-12-01"), Days: 391},
			{Module: "eggs", Kind: training.NeverPassed},
		}},
	} {
		require.Equal(t, c.want, training.Missing(required, passes, date(c.on), c.soon), c.on)
	}
	require.Empty(t, training.Missing(nil, passes, date("2026-03-19"), 30))
}

func TestARefresherNeverShortens(t *testing.T) {
	early := append([]training.Pass{training.NewPass("water", date("2026-02-01"), 1, training.OnPhone, "")}, passes...)
	require.Empty(t, training.Missing([]string{"water"}, early, date("2027-01-10"), 0))
}

func TestCover(t *testing.T) {
	people := []training.Trainee{{PersonID: "ana", Passes: passes}, {PersonID: "ben"}, {PersonID: "cho", Passes: passes[:1]}}
	got := training.Cover([]string{"water", "safety"}, people, date("2026-03-20"))
	require.Equal(t, training.Coverage{People: 3, Complete: 0, Modules: []training.ModuleCoverage{
		{Module: "water", Held: 2, Missing: 1},
		{Module: "safety", Lapsed: 1, Missing: 2},
	}}, got)
	require.Equal(t, 2, training.Cover([]string{"water"}, people, date("2026-03-20")).Complete)
	require.Equal(t, 3, training.Cover(nil, people, date("2026-03-20")).Complete, "nothing asked, nothing lacking")
}

func TestValidityOverAllDays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		on := date("2020-01-01").Add(rapid.IntRange(0, 10_000).Draw(t, "on"))
		months := rapid.IntRange(0, 36).Draw(t, "months")
		until := training.ValidUntil(on, months)

		whole := int(until.Month()) - int(on.Month()) + 12*(until.Year()-on.Year())
		require.Equal(t, months, whole, "in the month so many later")
		if until.Day() != on.Day() {
			require.Equal(t, 1, until.Add(1).Day(), "cut only at the month's end")
			require.Less(t, until.Day(), on.Day())
		}
		require.LessOrEqual(t, until, training.ValidUntil(on.Add(1), months), "a later pass never ends sooner")
	})
}

// Missing, lapsing and held follow each other through time, and a group of
// one is covered exactly when that one lacks nothing.
func TestGapsThroughTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		start := date("2026-01-01")
		pass := training.NewPass("m", start.Add(rapid.IntRange(0, 400).Draw(t, "passed")), rapid.IntRange(1, 12).Draw(t, "months"), training.InPerson, "ben")
		on, soon := start.Add(rapid.IntRange(0, 1000).Draw(t, "on")), rapid.IntRange(0, 60).Draw(t, "soon")

		want := training.Kind("")
		switch {
		case on < pass.PassedOn:
			want = training.NeverPassed
		case on > pass.ValidUntil:
			want = training.Lapsed
		case on > pass.ValidUntil.Add(-soon):
			want = training.Lapsing
		}
		gaps := training.Missing([]string{"m"}, []training.Pass{pass}, on, soon)
		if want == "" {
			require.Empty(t, gaps)
		} else {
			require.Len(t, gaps, 1)
			require.Equal(t, want, gaps[0].Kind)
			require.GreaterOrEqual(t, gaps[0].Days, 0)
		}
		lacking := len(gaps) > 0 && gaps[0].Lacking()
		cover := training.Cover([]string{"m"}, []training.Trainee{{Passes: []training.Pass{pass}}}, on)
		require.Equal(t, !lacking, cover.Complete == 1)
		require.Equal(t, 1, cover.Modules[0].Held+cover.Modules[0].Lapsed+cover.Modules[0].Missing)
	})
}
