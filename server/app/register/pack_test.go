package register

import (
	"testing"

	"tendfold/checklists"
	"tendfold/domain/calendar"
	"tendfold/domain/programme"
	"tendfold/server/app"

	"github.com/stretchr/testify/require"
)

// net is a small programme: a and b run side by side, c is for breeding only.
func net() programme.Programme {
	m := func(key string, d programme.Days, after ...string) programme.Milestone {
		return programme.Milestone{Key: key, After: after, Days: d}
	}
	breeding := m("c", programme.Days{Min: 100, Likely: 100, Max: 100}, "start")
	breeding.Purposes = []programme.Purpose{programme.Breeding}
	return programme.Programme{
		Enterprise: "snail", Start: "start", Stocking: "stocked", Harvest: "harvest",
		Milestones: []programme.Milestone{
			m("before", programme.Days{Min: 1, Likely: 2, Max: 3}),
			m("start", programme.Days{Min: 1, Likely: 2, Max: 3}, "before"),
			m("a", programme.Days{Min: 10, Likely: 20, Max: 30}, "start"),
			m("b", programme.Days{Min: 5, Likely: 15, Max: 60}, "start"),
			breeding,
			m("stocked", programme.Days{Min: 1, Likely: 1, Max: 5}, "a", "b", "c"),
			m("harvest", programme.Days{Min: 200, Likely: 250, Max: 300}, "stocked"),
		},
	}
}

// Worked by hand: the longest path at each corner of the durations.
func TestSpanIsTheLongestPath(t *testing.T) {
	s, leads := spanOf(net(), route{"snail", programme.GrowOut, "start", "stocked"})
	require.True(t, leads)
	require.Equal(t, span{11, 21, 65}, s) // 10+1 by a, 20+1 by a, 60+5 by b
	s, _ = spanOf(net(), route{"snail", programme.Breeding, "start", "stocked"})
	require.Equal(t, span{101, 101, 105}, s)
	s, _ = spanOf(net(), route{"snail", programme.GrowOut, "start", "harvest"})
	require.Equal(t, span{211, 271, 365}, s)
	s, leads = spanOf(net(), route{"snail", programme.GrowOut, "start", "start"})
	require.True(t, leads)
	require.Zero(t, s)
	_, leads = spanOf(net(), route{"snail", programme.GrowOut, "stocked", "a"})
	require.False(t, leads)
}

func TestPreceding(t *testing.T) {
	require.Equal(t, []string{"before"}, preceding(net(), "start", programme.GrowOut))
	require.ElementsMatch(t, []string{"a", "b", "start", "before"}, preceding(net(), "stocked", programme.GrowOut))
	require.ElementsMatch(t, []string{"a", "b", "c", "start", "before"}, preceding(net(), "stocked", programme.Breeding))
}

func TestPasses(t *testing.T) {
	p := &checklists.Pack{Enterprise: "snail", Modules: []checklists.Module{
		{Key: "hygiene", Months: 12, GoAheads: []string{"ready-to-stock"}},
		{Key: "bookkeeping", Months: 6},
	}}
	require.Equal(t, []app.Pass{{
		PersonID: "p", Enterprise: "snail", Module: "hygiene", How: "register",
		On: calendar.MustDate("2026-03-01"), Until: calendar.MustDate("2027-03-01"),
	}}, passes(p, "p", calendar.MustDate("2026-03-01")))
}
