package training_test

import (
	"encoding/json"
	"flag"
	"os"
	"slices"
	"testing"

	"tendfold/domain/training"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "write the shared cases anew")

// sharedCase is a draw and its marks; web/src/learn/draw.test.ts runs the same file.
type sharedCase struct {
	Bank    training.Bank              `json:"bank"`
	Seed    uint32                     `json:"seed"`
	Answers map[string]training.Answer `json:"answers"`
	Asked   []training.Asked           `json:"asked"`
	Marks   training.Marks             `json:"marks"`
	Next    uint32                     `json:"next"`
	Version string                     `json:"version"`
}

const sharedCases = "testdata/draws.json"

// Both languages read these cases; the numbers under them are held to
// published values in stream_test.go.
func TestSharedCases(t *testing.T) {
	if *update {
		writeCases(t)
	}
	raw, err := os.ReadFile(sharedCases)
	require.NoError(t, err)
	var cases []sharedCase
	require.NoError(t, json.Unmarshal(raw, &cases))
	require.GreaterOrEqual(t, len(cases), 60)
	for i, c := range cases {
		require.Equal(t, c.Asked, c.Bank.Ask(c.Seed), "case %d", i)
		require.Equal(t, c.Marks, c.Bank.Mark(c.Seed, c.Answers), "case %d", i)
		require.Equal(t, c.Next, training.NextSeed(c.Seed), "case %d", i)
		require.Equal(t, c.Version, c.Bank.Version(), "case %d", i)
	}
}

func writeCases(t *testing.T) {
	t.Helper()
	gen := rapid.Custom(func(t *rapid.T) sharedCase {
		c := sharedCase{Bank: banks.Draw(t, "bank"), Seed: rapid.Uint32().Draw(t, "seed")}
		c.Answers = answersTo(t, c.Bank)
		return c
	})
	cases := make([]sharedCase, 64)
	for i := range cases {
		c := gen.Example(i)
		c.Asked, c.Marks, c.Next, c.Version = c.Bank.Ask(c.Seed), c.Bank.Mark(c.Seed, c.Answers), training.NextSeed(c.Seed), c.Bank.Version()
		cases[i] = c
	}
	raw, err := json.Marshal(cases)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(sharedCases, append(raw, '\n'), 0o644))
}

var kinds = []training.QuestionKind{training.One, training.Order, training.Picture, training.Sum}

var banks = rapid.Custom(func(t *rapid.T) training.Bank {
	b := training.Bank{Draw: rapid.IntRange(6, 10).Draw(t, "draw")}
	for i := range rapid.IntRange(b.Draw, 16).Draw(t, "questions") {
		q := training.Question{
			Key: "q" + string(rune('a'+i)), Kind: rapid.SampledFrom(kinds).Draw(t, "kind"), Safety: rapid.IntRange(0, 3).Draw(t, "safety") == 0,
		}
		if q.Kind == training.Sum {
			q.Answer, q.Tolerance = float64(rapid.IntRange(-20, 2000).Draw(t, "answer"))/4, float64(rapid.IntRange(0, 4).Draw(t, "tolerance"))/4
		} else {
			q.Options = []string{"a", "b", "c", "d", "e"}[:rapid.IntRange(2, 5).Draw(t, "options")]
		}
		if q.Kind == training.One || q.Kind == training.Picture {
			q.Right = rapid.SampledFrom(q.Options).Draw(t, "right")
		}
		b.Questions = append(b.Questions, q)
	}
	return b
})

// right is the right answer to a question.
func right(q training.Question) training.Answer {
	switch q.Kind {
	case training.Sum:
		return training.Answer{Number: &q.Answer}
	case training.Order:
		return training.Answer{Order: q.Options}
	case training.One, training.Picture:
		return training.Answer{Choice: q.Right}
	}
	return training.Answer{}
}

// answersTo are mostly right, some wrong, some at the edge, some missing.
func answersTo(t *rapid.T, b training.Bank) map[string]training.Answer {
	out := map[string]training.Answer{}
	for _, q := range b.Questions {
		a := right(q)
		switch rapid.IntRange(0, 11).Draw(t, "how "+q.Key) {
		case 0:
			continue
		case 1:
			a = training.Answer{}
		case 2:
			if q.Kind == training.Sum {
				edge := q.Answer + q.Tolerance
				a.Number = &edge
			}
		case 3:
			if q.Kind == training.Sum {
				past := q.Answer + q.Tolerance + 0.25
				a.Number = &past
			} else {
				a = training.Answer{Choice: "z", Order: []string{"b", "a"}}
			}
		}
		out[q.Key] = a
	}
	return out
}

func TestADrawHoldsWhatItMust(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, seed := banks.Draw(t, "bank"), rapid.Uint32().Draw(t, "seed")
		asked := b.Ask(seed)
		require.Len(t, asked, min(b.Draw, len(b.Questions)))
		safety, drawn := 0, 0
		seen := map[string]bool{}
		for _, q := range b.Questions {
			if q.Safety {
				safety++
			}
		}
		for _, a := range asked {
			require.False(t, seen[a.Question], "asked once")
			seen[a.Question] = true
			i := slices.IndexFunc(b.Questions, func(q training.Question) bool { return q.Key == a.Question })
			q := b.Questions[i]
			if q.Safety {
				drawn++
			}
			require.ElementsMatch(t, q.Options, a.Options)
			if q.Kind == training.Order {
				require.NotEqual(t, q.Options, a.Options, "the right order is not shown")
			}
		}
		require.Equal(t, min(safety, b.Draw), drawn, "every safety question that fits")
		require.Equal(t, asked, b.Ask(seed), "the same seed asks the same")
	})
}

func TestMarkingIsStrict(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, seed := banks.Draw(t, "bank"), rapid.Uint32().Draw(t, "seed")
		answers := map[string]training.Answer{}
		for _, q := range b.Questions {
			answers[q.Key] = right(q)
		}
		all := b.Mark(seed, answers)
		require.True(t, all.Passed)
		require.Equal(t, all.Asked, all.Right)
		require.Empty(t, all.Wrong)

		asked := b.Ask(seed)
		wrong := asked[rapid.IntRange(0, len(asked)-1).Draw(t, "wrong")].Question
		delete(answers, wrong)
		one := b.Mark(seed, answers)
		require.Equal(t, []string{wrong}, one.Wrong)
		i := slices.IndexFunc(b.Questions, func(q training.Question) bool { return q.Key == wrong })
		require.Equal(t, !b.Questions[i].Safety, one.Passed, "one of six or more is 83 %% and passes, unless it is about safety")
	})
}

// 80 % of six is 4.8, so five; of ten, eight.
func TestPassLine(t *testing.T) {
	for _, c := range []struct {
		draw, wrong int
		passed      bool
	}{{6, 0, true}, {6, 1, true}, {6, 2, false}, {10, 2, true}, {10, 3, false}, {7, 1, true}, {7, 2, false}} {
		b := training.Bank{Draw: c.draw}
		answers := map[string]training.Answer{}
		for i := range c.draw {
			q := training.Question{Key: string(rune('a' + i)), Kind: training.One, Options: []string{"x", "y"}, Right: "x"}
			b.Questions = append(b.Questions, q)
			if i >= c.wrong {
				answers[q.Key] = right(q)
			}
		}
		require.Equal(t, c.passed, b.Mark(1, answers).Passed, "%d of %d wrong", c.wrong, c.draw)
	}
}

// Every question of a bank comes up as often as the others of its rank: a
// share within five standard errors over fixed seeds.
func TestDrawsAreEven(t *testing.T) {
	const times = 20_000
	b := training.Bank{Draw: 6}
	for i := range 14 {
		b.Questions = append(b.Questions, training.Question{Key: string(rune('a' + i)), Kind: training.One, Safety: i < 2, Options: []string{"x", "y", "z"}, Right: "x"})
	}
	counts, first, seed := map[string]int{}, map[string]int{}, uint32(1)
	for range times {
		asked := b.Ask(seed)
		for _, a := range asked {
			counts[a.Question]++
		}
		first[asked[0].Options[0]]++
		seed = training.NextSeed(seed)
	}
	for _, q := range b.Questions[2:] { // 4 places for 12
		require.InDelta(t, times/3., float64(counts[q.Key]), 5*66.7, q.Key)
	}
	for _, option := range []string{"x", "y", "z"} {
		require.InDelta(t, times/3., float64(first[option]), 5*66.7, option)
	}
}
