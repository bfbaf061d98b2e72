package programme

import (
	"testing"
	"time"

	"tendfold/domain/calendar"

	"github.com/stretchr/testify/require"
)

// shared are the draws of all tests that do not ask for their own.
var shared = NewDraws(DrawSeed, DrawCount)

var day1 = calendar.MustDate("2026-03-02")

// house is a programme of fourteen milestones in the shape of a snail
// house's. Its figures are invented for tests.
func house() Programme {
	return Programme{
		Enterprise: "house", Start: "planted", Stocking: "stocked", Harvest: "harvest",
		Pi: 0.05, LagDays: 2, Limits: Limits{Behind: 18, Grace: 3, Tolerance: 3, Leave: 3},
		Milestones: []Milestone{
			{Key: "built", Kind: Work, Days: Days{20, 30, 45}, OnWay: true, QuietDays: 21},
			{Key: "water", After: []string{"built"}, Kind: Work, Days: Days{1, 3, 7}, OnWay: true, QuietDays: 21},
			{Key: "planted", After: []string{"water"}, Kind: Work, Days: Days{1, 4, 10}, OnWay: true, QuietDays: 21},
			{
				Key: "covered", After: []string{"planted"}, Kind: Living, Days: Days{28, 42, 56}, Seasonal: true, OnWay: true, QuietDays: 21,
				Curve: &Curve{Reading: Cover, From: 5, To: 80, Shape: []Point{{0, 0}, {0.5, 0.35}, {1, 1}}, SD: 4, CV: 0.08},
			},
			{Key: "trained", After: []string{"planted"}, Kind: Work, Days: Days{7, 21, 35}, OnWay: true, QuietDays: 21},
			{Key: "ordered", After: []string{"planted"}, Kind: Work, Days: Days{10, 20, 30}, OnWay: true, QuietDays: 21},
			{Key: "ready", After: []string{"covered", "trained", "ordered"}, Kind: Work, Days: Days{1, 3, 7}, GoAhead: "ready", OnWay: true, QuietDays: 21},
			{Key: "stocked", After: []string{"ready"}, Kind: Work, Days: Days{1, 4, 10}, OnWay: true, QuietDays: 21},
			{Key: "two-week", After: []string{"stocked"}, Kind: Work, Days: Days{12, 14, 18}, QuietDays: 16},
			{Key: "clutch", After: []string{"stocked"}, Kind: Living, Days: Days{60, 90, 150}, Seasonal: true, Purposes: []Purpose{Breeding}, OnWay: true, QuietDays: 16},
			{Key: "hatch", After: []string{"clutch"}, Kind: Living, Days: Days{22, 29, 40}, Purposes: []Purpose{Breeding}, OnWay: true, QuietDays: 16},
			{Key: "half-year", After: []string{"stocked"}, Kind: Work, Days: Days{170, 182, 200}, QuietDays: 16},
			{
				Key: "harvest", After: []string{"stocked", "hatch"}, Kind: Living, Days: Days{180, 240, 330}, Seasonal: true, OnWay: true, QuietDays: 16,
				Curve: &Curve{Reading: Weight, From: 40, To: 160, CV: 0.06, SpreadCV: 0.25},
			},
			{Key: "next", After: []string{"harvest", "half-year", "two-week"}, Kind: Work, Days: Days{5, 14, 30}, QuietDays: 16},
		},
	}
}

// wet is a season with a good half year and months in which nothing may be
// stocked.
func wet() Season {
	return Season{
		NotIn: map[string][]time.Month{"stocked": {time.January, time.February}},
		Rate:  [12]float64{0.6, 0.6, 0.8, 1, 1.2, 1.3, 1.3, 1.3, 1.2, 1.1, 0.9, 0.7},
	}
}

func compiled(t testing.TB, p Programme, purpose Purpose, season Season) *Network {
	t.Helper()
	n, err := Compile(p, purpose, season)
	require.NoError(t, err)
	return n
}

// heardDaily is evidence on every day of a span.
func heardDaily(from, to calendar.Date) []calendar.Date {
	var out []calendar.Date
	for d := from; d <= to; d++ {
		out = append(out, d)
	}
	return out
}
