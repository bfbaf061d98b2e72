package training_test

import (
	"fmt"
	"slices"
	"testing"

	"tendfold/domain/calendar"
	"tendfold/domain/training"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func attempt(id, on string, passed bool) training.Attempt {
	return training.Attempt{ID: id, On: date(on), Passed: passed}
}

func check(id, on string, passed bool) training.Check {
	return training.Check{ID: id, On: date(on), Passed: passed, How: training.InPerson, By: "ben"}
}

func TestFollow(t *testing.T) {
	atOnce := attempt("a2", "2026-03-01", true)
	atOnce.AtOnce = true
	for name, c := range map[string]struct {
		attempts []training.Attempt
		checks   []training.Check
		on       string
		passes   [][2]string // from, until
		progress training.Progress
	}{
		"questions alone are no pass": {
			attempts: []training.Attempt{attempt("a1", "2026-03-01", true)}, on: "2026-03-02",
			progress: training.Progress{AnsweredOn: date("2026-03-01")},
		},
		"a check alone is no pass": {
			checks: []training.Check{check("c1", "2026-03-01", true)}, on: "2026-03-02",
			progress: training.Progress{CheckedOn: date("2026-03-01")},
		},
		"both are, from the later day": {
			attempts: []training.Attempt{attempt("a1", "2026-03-01", true)}, checks: []training.Check{check("c1", "2026-03-04", true)},
			on: "2026-03-04", passes: [][2]string{{"2026-03-04", "2027-03-04"}},
		},
		"the check may come first": {
			attempts: []training.Attempt{attempt("a1", "2026-03-06", true)}, checks: []training.Check{check("c1", "2026-03-04", true)},
			on: "2026-03-10", passes: [][2]string{{"2026-03-06", "2027-03-06"}},
		},
		"a retake on the same day does not count": {
			attempts: []training.Attempt{attempt("a1", "2026-03-01", false), attempt("a2", "2026-03-01", true)}, on: "2026-03-01",
			progress: training.Progress{FailedOn: date("2026-03-01")},
		},
		"but does where stocking waits": {
			attempts: []training.Attempt{attempt("a1", "2026-03-01", false), atOnce}, on: "2026-03-01",
			progress: training.Progress{AnsweredOn: date("2026-03-01")},
		},
		"and the next day": {
			attempts: []training.Attempt{attempt("a1", "2026-03-01", false), attempt("a2", "2026-03-02", true)}, on: "2026-03-02",
			progress: training.Progress{AnsweredOn: date("2026-03-02")},
		},
		"a failed check ends what stands and halves what follows": {
			attempts: []training.Attempt{attempt("a1", "2026-03-01", true), attempt("a2", "2026-06-03", true)},
			checks:   []training.Check{check("c1", "2026-03-01", true), check("c2", "2026-06-01", false), check("c3", "2026-06-10", true)},
			on:       "2026-06-10", passes: [][2]string{{"2026-03-01", "2026-07-01"}, {"2026-06-10", "2026-12-10"}},
		},
		"a check that failed is done again": {
			attempts: []training.Attempt{attempt("a1", "2026-03-01", true)}, checks: []training.Check{check("c1", "2026-03-02", false)}, on: "2026-03-03",
			progress: training.Progress{AnsweredOn: date("2026-03-01"), RedoOn: date("2026-03-02")},
		},
		"parts that lie three months apart prove nothing together": {
			attempts: []training.Attempt{attempt("a1", "2026-03-01", true)}, checks: []training.Check{check("c1", "2026-05-31", true)}, on: "2026-05-31",
			progress: training.Progress{CheckedOn: date("2026-05-31")},
		},
		"one day less does": {
			attempts: []training.Attempt{attempt("a1", "2026-03-01", true)}, checks: []training.Check{check("c1", "2026-05-30", true)}, on: "2026-06-30",
			passes: [][2]string{{"2026-05-30", "2027-05-30"}},
		},
		"a part counts once": {
			attempts: []training.Attempt{attempt("a1", "2026-03-01", true), attempt("a2", "2026-03-10", true)},
			checks:   []training.Check{check("c1", "2026-03-02", true)}, on: "2026-03-10", passes: [][2]string{{"2026-03-02", "2027-03-02"}},
			progress: training.Progress{AnsweredOn: date("2026-03-10")},
		},
		"later days are not known yet": {
			attempts: []training.Attempt{attempt("a1", "2026-03-01", true)}, checks: []training.Check{check("c1", "2026-03-04", true)}, on: "2026-03-03",
			progress: training.Progress{AnsweredOn: date("2026-03-01")},
		},
	} {
		earned, progress := training.Follow("m", 12, c.attempts, c.checks, date(c.on))
		var got [][2]string
		for _, e := range earned {
			require.Equal(t, training.InPerson, e.How)
			got = append(got, [2]string{e.PassedOn.String(), e.ValidUntil.String()})
		}
		require.Equal(t, c.passes, got, name)
		require.Equal(t, c.progress, progress, name)
	}
}

func TestRetakeOn(t *testing.T) {
	failed := training.Progress{FailedOn: date("2026-03-01")}
	require.Equal(t, date("2026-03-02"), failed.RetakeOn(false))
	require.Zero(t, failed.RetakeOn(true))
	require.Zero(t, training.Progress{}.RetakeOn(false))
}

// In whatever order the parts arrive, the passes are the same; a pass always
// rests on a passed round and a passed check of no more than PartsApart days.
func TestFollowKnowsNoOrderOfArrival(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		start := date("2026-01-01")
		day := func(label string) calendar.Date { return start.Add(rapid.IntRange(0, 300).Draw(t, label)) }
		var attempts []training.Attempt
		var checks []training.Check
		for i := range rapid.IntRange(0, 8).Draw(t, "attempts") {
			attempts = append(attempts, training.Attempt{
				ID: fmt.Sprint("a", i), On: day("a"), Passed: rapid.Bool().Draw(t, "passed"), AtOnce: rapid.Bool().Draw(t, "at once"),
			})
		}
		for i := range rapid.IntRange(0, 5).Draw(t, "checks") {
			checks = append(checks, training.Check{ID: fmt.Sprint("c", i), On: day("c"), Passed: rapid.IntRange(0, 3).Draw(t, "seen") > 0})
		}
		on := start.Add(400)
		earned, progress := training.Follow("m", 12, attempts, checks, on)
		other, same := training.Follow("m", 12, rapid.Permutation(attempts).Draw(t, "as they came"), rapid.Permutation(checks).Draw(t, "as they came too"), on)
		require.Equal(t, earned, other)
		require.Equal(t, progress, same)
		for _, e := range earned {
			near := func(d calendar.Date) bool { return d <= e.PassedOn && e.PassedOn.Sub(d) <= training.PartsApart }
			require.True(t, slices.ContainsFunc(attempts, func(a training.Attempt) bool { return a.Passed && near(a.On) }))
			require.True(t, slices.ContainsFunc(checks, func(k training.Check) bool { return k.Passed && k.ID == e.CheckID && near(k.On) }))
		}
	})
}
