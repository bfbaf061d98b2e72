package app

import (
	"testing"
	"time"

	"tendfold/domain/calendar"
	"tendfold/domain/ticket"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var (
	loadFrom = calendar.MustDate("2026-03-01")
	loadAt   = time.Date(2026, 3, 1, 8, 0, 0, 0, time.UTC)
)

// at is a ticket of the sweep so many minutes after eight.
func at(branch string, minutes ...int) []RaisedTicket {
	var out []RaisedTicket
	for _, m := range minutes {
		out = append(out, RaisedTicket{At: loadAt.Add(time.Duration(m) * time.Minute), On: loadFrom, BranchID: branch, Rule: "no-news", Origin: ticket.FromSweep, BySweep: true})
	}
	return out
}

func TestBursts(t *testing.T) {
	for name, c := range map[string]struct {
		rows []RaisedTicket
		want []int // tickets of each burst
	}{
		"none":                {nil, nil},
		"ten at once":         {at("b", 0, 0, 0, 0, 0, 0, 0, 0, 0, 0), nil},
		"eleven at once":      {at("b", 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0), []int{11}},
		"eleven in eleven":    {at("b", 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 11), nil},
		"eleven in ten":       {at("b", 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10), []int{11}},
		"a long flood":        {at("b", 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16), []int{17}},
		"a late beginning":    {at("b", 0, 20, 20, 20, 20, 20, 20, 20, 20, 20, 20, 20), []int{11}},
		"two branches":        {append(at("b", 0, 0, 0, 0, 0, 0), at("c", 0, 0, 0, 0, 0, 0)...), nil},
		"two apart":           {at("b", 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 60, 60, 60, 60, 60, 60, 60, 60, 60, 60, 60, 60), []int{11, 12}},
		"and a few afterward": {at("b", 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 60, 61, 62), []int{11}},
	} {
		t.Run(name, func(t *testing.T) {
			var got []int
			for _, b := range bursts(c.rows) {
				got = append(got, b.Tickets)
			}
			require.Equal(t, c.want, got)
		})
	}
}

func TestBurstsHoldWhatTheySay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		minutes := rapid.SliceOfN(rapid.IntRange(0, 90), 0, 80).Draw(t, "minutes")
		var rows []RaisedTicket
		for m := range 91 {
			for _, x := range minutes {
				if x == m {
					rows = append(rows, at("b", m)...)
				}
			}
		}
		covered := func(when time.Time, list []Burst) bool {
			for _, b := range list {
				if !when.Before(b.From) && !when.After(b.Until) {
					return true
				}
			}
			return false
		}
		list := bursts(rows)
		total := 0
		for i, b := range list {
			require.Greater(t, b.Tickets, burstMany)
			require.True(t, i == 0 || !list[i-1].Until.After(b.From), "groups do not overlap")
			total += b.Tickets
		}
		require.LessOrEqual(t, total, len(rows))
		for i := range rows { // whatever is one of eleven within ten minutes is in a group
			if i+burstMany < len(rows) && rows[i+burstMany].At.Sub(rows[i].At) <= burstTime {
				require.True(t, covered(rows[i].At, list), "%v", rows[i].At)
			}
		}
	})
}

func TestLoadOfABranch(t *testing.T) {
	q := LoadQuery{From: loadFrom, To: loadFrom.Add(9)}
	rows := append(at("b", 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13), at("c", 0)...)
	rows = append(rows, RaisedTicket{At: loadAt.AddDate(0, 0, 2), On: loadFrom.Add(2), BranchID: "b", Rule: "growth-short", Origin: ticket.FromSweep, BySweep: true, Reopened: true},
		RaisedTicket{At: loadAt.AddDate(0, 0, 3), On: loadFrom.Add(3), BranchID: "b", Origin: ticket.FromCall})
	l := loadOf(q, rows)
	require.Equal(t, []int{16, 1}, []int{l.Opened, l.Reopened})
	require.Equal(t, []OriginShare{{ticket.FromSweep, 15}, {ticket.FromCall, 1}}, l.Origins)
	require.Equal(t, []RuleShare{{"no-news", 15, 15.0 / 16}, {"growth-short", 1, 1.0 / 16}}, l.Rules)
	require.Equal(t, []DayLoad{{loadFrom, "b", 14, 14}, {loadFrom, "c", 1, 1}, {loadFrom.Add(2), "b", 0, 1}, {loadFrom.Add(3), "b", 1, 0}}, l.Days)
	// 15 raised for two advisors in ten days; the worst day has 14, which is
	// seven for each and above the line of six.
	require.Equal(t, BranchLoad{BranchID: "b", Advisors: 2, Raised: 15, Mean: 0.75, Worst: 7, WorstOn: loadFrom, Line: 6, OverDays: 1},
		BranchLoad{BranchID: "b", Advisors: 2, Line: LoadLine}.of(q, rows))
	require.InDelta(t, 1.5, BranchLoad{BranchID: "b"}.of(q, rows).Mean, 1e-9, "without an advisor the load counts as one's")
}
