package programme

import (
	"fmt"

	"tendfold/domain"
)

// Network is a programme made ready for one purpose in one branch's season.
// It never changes after Compile and may be used by many at once.
type Network struct {
	programme Programme
	nodes     []node // each after all that it waits for
	index     map[string]int
	stocking  int
	harvest   int
}

// node is a milestone with what the forward pass needs of it at hand.
type node struct {
	Milestone
	after      []int
	law        law
	rate       *rates // nil: plain days
	gate       *gate  // nil: any month will do
	early      bool   // the start or before it: done when the cycle starts
	toStocking bool   // the stocking or before it
	toHarvest  bool   // the first harvest or before it
}

// Compile checks a programme and a branch's season and makes the network of
// one purpose. Milestones that the purpose does not have are left out, and
// their successors wait for what those waited for. The error is a
// *domain.Error with one field for each problem.
func Compile(p Programme, purpose Purpose, season Season) (*Network, error) {
	if found := append(Check(p), CheckSeason(p, season)...); len(found) > 0 {
		return nil, refused(found)
	}
	if !p.Offers(purpose) {
		return nil, domain.Invalid("purpose-not-offered",
			fmt.Sprintf("The programme of %s has no way to a first harvest for %s. Choose another purpose.", p.Enterprise, purpose))
	}
	order, _ := sorted(p.Milestones)
	n := &Network{programme: p, index: map[string]int{}}
	n.place(forPurpose(order, purpose), season)
	n.stocking, n.harvest = n.index[p.Stocking], n.index[p.Harvest]
	return n, nil
}

func (n *Network) place(milestones []Milestone, season Season) {
	g := graphOf(milestones)
	early, toStocking, toHarvest := g.upTo(n.programme.Start), g.upTo(n.programme.Stocking), g.upTo(n.programme.Harvest)
	var rate *rates
	if season.Rate != [12]float64{} {
		rate = newRates(season.Rate)
	}
	for i, m := range milestones {
		n.index[m.Key] = i
		x := node{
			Milestone: m, law: newLaw(m.Days, n.programme.Pi),
			early: early[m.Key], toStocking: toStocking[m.Key], toHarvest: toHarvest[m.Key],
		}
		for _, a := range m.After {
			x.after = append(x.after, n.index[a])
		}
		if m.Seasonal {
			x.rate = rate
		}
		if shut, _ := shutMonths(season.NotIn[m.Key]); shut != [12]bool{} {
			x.gate = &gate{shut}
		}
		n.nodes = append(n.nodes, x)
	}
}

// clock is the clock of a node under the pauses known.
func (x *node) clock(stops []stop) clock {
	c := clock{rate: x.rate}
	if x.Kind == Work && len(stops) > 0 {
		return c.withStops(stops)
	}
	return c
}

// Milestones are the milestones of the network, each after all that it waits
// for, with After as the purpose has it.
func (n *Network) Milestones() []Milestone {
	out := make([]Milestone, len(n.nodes))
	for i := range n.nodes {
		out[i] = n.nodes[i].Milestone
	}
	return out
}

// Milestone is the milestone with a key, false when the network has none.
func (n *Network) Milestone(key string) (Milestone, bool) {
	i, ok := n.index[key]
	if !ok {
		return Milestone{}, false
	}
	return n.nodes[i].Milestone, true
}
