package programme

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	gonumgraph "gonum.org/v1/gonum/graph"
	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/graph/topo"
	"pgregory.net/rapid"
)

// someArrows are milestones with arrows between any of them, rings included.
func someArrows(t *rapid.T) []Milestone {
	n := rapid.IntRange(1, 12).Draw(t, "milestones")
	out := make([]Milestone, n)
	for i := range out {
		out[i].Key = fmt.Sprint(i)
		for _, j := range rapid.SliceOfNDistinct(rapid.IntRange(0, n-1), 0, min(n, 3), rapid.ID[int]).Draw(t, "after") {
			if j != i && (j < i || rapid.IntRange(0, 9).Draw(t, "turned") == 0) {
				out[i].After = append(out[i].After, fmt.Sprint(j))
			}
		}
	}
	return out
}

func inGonum(milestones []Milestone) *simple.DirectedGraph {
	g := simple.NewDirectedGraph()
	id := map[string]gonumgraph.Node{}
	for i, m := range milestones {
		id[m.Key] = simple.Node(i)
		g.AddNode(id[m.Key])
	}
	for _, m := range milestones {
		for _, a := range m.After {
			g.SetEdge(simple.Edge{F: id[a], T: id[m.Key]})
		}
	}
	return g
}

// Reference: gonum's graph/topo for whether an order exists, and its Tarjan
// components for who waits for whom in a ring.
func TestOrderAgreesWithGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		milestones := someArrows(t)
		g := inGonum(milestones)
		_, err := topo.Sort(g)
		order, ring := sorted(milestones)
		if err != nil {
			require.Nil(t, order)
			requireRing(t, g, milestones, ring)
			return
		}
		require.Len(t, order, len(milestones))
		placed := map[string]bool{}
		for _, m := range order {
			for _, a := range m.After {
				require.True(t, placed[a], "%s before %s", m.Key, a)
			}
			placed[m.Key] = true
		}
	})
}

func requireRing(t *rapid.T, g *simple.DirectedGraph, milestones []Milestone, ring []string) {
	at := func(key string) int64 {
		return int64(slices.IndexFunc(milestones, func(m Milestone) bool { return m.Key == key }))
	}
	require.NotEmpty(t, ring)
	for i, key := range ring {
		require.True(t, g.HasEdgeFromTo(at(key), at(ring[(i+1)%len(ring)])), "ring %v", ring)
	}
	require.True(t, slices.ContainsFunc(topo.TarjanSCC(g), func(c []gonumgraph.Node) bool {
		return len(c) >= len(ring) && slices.ContainsFunc(c, func(n gonumgraph.Node) bool { return n.ID() == at(ring[0]) })
	}))
}

func TestOrderKeepsTheFilesOrder(t *testing.T) {
	order, _ := sorted(house().Milestones)
	for i, m := range house().Milestones {
		require.Equal(t, m.Key, order[i].Key)
	}
}

func TestPurposeLeavesOutAndInherits(t *testing.T) {
	grow, breed := compiled(t, house(), GrowOut, Season{}), compiled(t, house(), Breeding, Season{})
	h, ok := grow.Milestone("harvest")
	require.True(t, ok)
	require.Equal(t, []string{"stocked"}, h.After, "hatch and clutch are gone: what they waited for is left, once")
	_, ok = grow.Milestone("clutch")
	require.False(t, ok)
	h, _ = breed.Milestone("harvest")
	require.Equal(t, []string{"hatch", "stocked"}, h.After)
	require.Len(t, breed.Milestones(), 14)
	require.Len(t, grow.Milestones(), 12)
}
