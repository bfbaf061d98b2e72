package programme

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// activity is a row of a textbook's table: three estimates, what it follows,
// and the printed earliest and latest start.
type activity struct {
	key     string
	a, m, b float64
	after   string
	es, ls  float64
}

// mean is the books' beta-PERT mean (a + 4m + b)/6. Our own law is the
// triangle, whose mean is (a + m + b)/3, so the books' means go in as certain
// durations and their variances are not ours to meet.
func (a activity) mean() float64 { return (a.a + 4*a.m + a.b) / 6 }

type textbook struct {
	name       string
	activities []activity
	duration   float64
	critical   string
	within     float64
}

// textbooks: worked critical-path examples.
//   - Reliable Construction Co.: Hillier & Lieberman, Introduction to
//     Operations Research, chapter on PERT/CPM (figures from memory,
//     recomputed).
//   - General Foundry: Render, Stair & Hanna, Quantitative Analysis for
//     Management, chapter on project management (from memory, recomputed).
//   - Seven activities: an encyclopaedia's PERT example (from memory).
//   - Fourteen activities: https://wizedu.com/questions/717873/ (read;
//     schedule printed for the first six, the rest recomputed).
var textbooks = []textbook{
	{"Reliable Construction", []activity{
		{"A", 1, 2, 3, "", 0, 0},
		{"B", 2, 3.5, 8, "A", 2, 2},
		{"C", 6, 9, 18, "B", 6, 6},
		{"D", 4, 5.5, 10, "C", 16, 20},
		{"E", 1, 4.5, 5, "C", 16, 16},
		{"F", 4, 4, 10, "E", 20, 20},
		{"G", 5, 6.5, 11, "D", 22, 26},
		{"H", 5, 8, 17, "E G", 29, 33},
		{"I", 3, 7.5, 9, "C", 16, 18},
		{"J", 3, 9, 9, "F I", 25, 25},
		{"K", 4, 4, 4, "J", 33, 34},
		{"L", 1, 5.5, 7, "J", 33, 33},
		{"M", 1, 2, 3, "H", 38, 42},
		{"N", 5, 5.5, 9, "K L", 38, 38},
	}, 44, "A B C E F J L N", 1e-9},
	{"General Foundry", []activity{
		{"A", 1, 2, 3, "", 0, 0},
		{"B", 2, 3, 4, "", 0, 1},
		{"C", 1, 2, 3, "A", 2, 2},
		{"D", 2, 4, 6, "B", 3, 4},
		{"E", 1, 4, 7, "C", 4, 4},
		{"F", 1, 2, 9, "C", 4, 10},
		{"G", 3, 4, 11, "D E", 8, 8},
		{"H", 1, 2, 3, "F G", 13, 13},
	}, 15, "A C E G H", 1e-9},
	{"seven activities", []activity{
		{"A", 2, 4, 6, "", 0, 0},
		{"B", 3, 5, 9, "", 0, 3.83},
		{"C", 4, 5, 7, "A", 4, 4},
		{"D", 4, 6, 10, "A", 4, 8.67},
		{"E", 4, 5, 7, "B C", 9.17, 9.17},
		{"F", 3, 4, 8, "D", 10.33, 15},
		{"G", 3, 5, 8, "E", 14.33, 14.33},
	}, 19.5, "A C E G", 0.02},
	{"fourteen activities", []activity{
		{"A", 5, 5, 7, "", 0, 0},
		{"B", 1, 2, 5, "", 0, 8},
		{"C", 5, 5, 5, "A", 5.33, 5.33},
		{"D", 4, 8, 13, "A", 5.33, 7.17},
		{"E", 1, 10, 17, "B C", 10.33, 10.33},
		{"F", 1, 5, 7, "D", 13.5, 15.33},
		{"G", 2, 6, 9, "D", 13.5, 18.5},
		{"H", 4, 4, 6, "E F", 20, 20},
		{"I", 2, 7, 10, "G H", 24.33, 24.33},
		{"J", 2, 4, 7, "I", 31, 33.5},
		{"K", 6, 10, 13, "I", 31, 31},
		{"L", 2, 6, 6, "J", 35.17, 37.67},
		{"M", 2, 2, 3, "K", 40.83, 40.83},
		{"N", 7, 7, 12, "L M", 43, 43},
	}, 50.8333, "A C E H I K M N", 0.01},
}

// certain makes a programme of a textbook's network, each activity taking
// exactly its mean, between a start and an end that take nothing. Reversed,
// it runs from the end.
func (b textbook) certain(reversed bool) Programme {
	after := map[string][]string{}
	for _, a := range b.activities {
		for from := range strings.FieldsSeq(a.after) {
			if reversed {
				after[from] = append(after[from], a.key)
			} else {
				after[a.key] = append(after[a.key], from)
			}
		}
	}
	p := Programme{Start: "start", Stocking: "start", Harvest: "end", Milestones: []Milestone{{Key: "start", Kind: Work}}}
	end := Milestone{Key: "end", Kind: Work}
	for _, a := range b.activities {
		m := Milestone{Key: a.key, Kind: Work, Days: Days{a.mean(), a.mean(), a.mean()}, After: after[a.key]}
		if len(m.After) == 0 {
			m.After = []string{"start"}
		}
		end.After = append(end.After, a.key)
		p.Milestones = append(p.Milestones, m)
	}
	p.Milestones = append(p.Milestones, end)
	return p
}

// earliest runs the forward pass that baselines use and gives each finish.
func earliest(t *testing.T, p Programme) map[string]float64 {
	n := compiled(t, p, GrowOut, Season{})
	s := shared.borrow()
	defer shared.giveBack(s)
	r := n.bareRun(0, shared, s, false)
	out := map[string]float64{}
	for i, x := range n.nodes {
		out[x.Key] = s.quantile(r.done[i], 0.5)
	}
	return out
}

// Latest times need no backward pass of their own: they are the earliest of
// the network with its arrows turned round.
func TestTextbookCriticalPaths(t *testing.T) {
	for _, b := range textbooks {
		t.Run(b.name, func(t *testing.T) {
			early, late := earliest(t, b.certain(false)), earliest(t, b.certain(true))
			require.InDelta(t, b.duration, early["end"], b.within)
			require.InDelta(t, b.duration, late["end"], b.within)
			var critical []string
			for _, a := range b.activities {
				es, ls := early[a.key]-a.mean(), early["end"]-late[a.key]
				require.InDelta(t, a.es, es, b.within, "earliest start of %s", a.key)
				require.InDelta(t, a.ls, ls, b.within, "latest start of %s", a.key)
				require.InDelta(t, a.es+a.mean(), early[a.key], b.within, "earliest finish of %s", a.key)
				require.InDelta(t, a.ls+a.mean(), early["end"]-late[a.key]+a.mean(), b.within, "latest finish of %s", a.key)
				if ls-es < 1e-9 {
					critical = append(critical, a.key)
				}
			}
			require.Equal(t, b.critical, strings.Join(critical, " "))
		})
	}
}

// Free float = earliest start of what follows less own earliest finish;
// Hillier & Lieberman's I, K and M and General Foundry's D and F have some.
func TestTextbookFreeFloat(t *testing.T) {
	want := map[string]map[string]float64{
		"Reliable Construction": {"I": 2, "K": 1, "M": 4},
		"General Foundry":       {"D": 1, "F": 6},
	}
	for _, b := range textbooks[:2] {
		p := b.certain(false)
		early := earliest(t, p)
		for _, a := range b.activities {
			next := early["end"]
			for _, f := range b.activities {
				if slices.Contains(strings.Fields(f.after), a.key) {
					next = min(next, early[f.key]-f.mean())
				}
			}
			require.InDelta(t, want[b.name][a.key], next-early[a.key], 1e-9, fmt.Sprint(b.name, " ", a.key))
		}
	}
}

// The dates of a baseline are those of the book to the day when nothing is
// uncertain and all durations are whole days (Reliable Construction).
func TestBaselineIsTheBooksToTheDay(t *testing.T) {
	b := textbooks[0]
	n := compiled(t, b.certain(false), GrowOut, Season{})
	base := n.Baseline(day1, shared)
	for _, a := range b.activities {
		w, ok := base.Window(a.key)
		require.True(t, ok)
		want := day1.Add(int(a.es + a.mean()))
		require.Equal(t, Window{a.key, want, want, want}, w)
	}
}
