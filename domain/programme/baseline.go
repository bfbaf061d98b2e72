package programme

import "tendfold/domain/calendar"

// Baseline is what a cycle that starts on a day is promised: P10, P50 and
// P90 of each milestone by the pack's laws alone, in the network's order. It
// is kept when the cycle starts.
func (n *Network) Baseline(start calendar.Date, d *Draws) Baseline {
	s := d.borrow()
	defer d.giveBack(s)
	p := n.bareRun(float64(start), d, s, false)
	out := make(Baseline, len(n.nodes))
	for i := range n.nodes {
		q := s.tenFiftyNinety(p.done[i])
		out[i] = Window{Key: n.nodes[i].Key, Earliest: dateOf(q[0]), Target: dateOf(q[1]), Latest: dateOf(q[2])}
	}
	return out
}

// bareRun is the pass of a cycle of which nothing is known but its start.
func (n *Network) bareRun(start float64, d *Draws, s *scratch, open bool) *pass {
	p := n.newPass(s, nil)
	p.open = open
	for i := range n.nodes {
		if n.nodes[i].early {
			p.done[i] = column{fixed: start}
			continue
		}
		p.took[i] = column{each: d.taken(n.nodes[i].Key, n.nodes[i].law)}
		p.step(i)
	}
	return p
}

// Window is the window of a milestone, false when the baseline has none
// (it was kept by an earlier programme).
func (b Baseline) Window(key string) (Window, bool) {
	for _, w := range b {
		if w.Key == key {
			return w, true
		}
	}
	return Window{}, false
}
