package programme

import "math"

// pass is one run through the network, draw by draw: when each milestone
// starts, how long it takes on its clock, when it is done.
type pass struct {
	net    *Network
	s      *scratch
	clocks []clock
	open   bool     // leave the shut months out of account
	took   []column // duration on the milestone's clock
	rest   []column // days after the gate opened; only of milestones that are done
	done   []column // day on which it is done
}

func (n *Network) newPass(s *scratch, stops []stop) *pass {
	p := &pass{net: n, s: s, clocks: make([]clock, len(n.nodes))}
	cols := make([]column, 3*len(n.nodes))
	p.took, p.rest, p.done = cols[:len(n.nodes)], cols[len(n.nodes):2*len(n.nodes)], cols[2*len(n.nodes):]
	for i := range n.nodes {
		p.clocks[i] = n.nodes[i].clock(stops)
	}
	return p
}

// start is the day on which the last predecessor is done.
func (p *pass) start(i int) column {
	after := p.net.nodes[i].after
	switch len(after) {
	case 0:
		return column{}
	case 1:
		return p.done[after[0]]
	}
	fixed, drawn := math.Inf(-1), 0
	for _, a := range after {
		if p.done[a].each == nil {
			fixed = max(fixed, p.done[a].fixed)
		} else {
			drawn++
		}
	}
	if drawn == 0 {
		return column{fixed: fixed}
	}
	return column{each: p.latest(after, fixed)}
}

func (p *pass) latest(after []int, fixed float64) []float64 {
	out := p.s.row()
	for k := range out {
		out[k] = fixed
	}
	for _, a := range after {
		for k, day := range p.done[a].each {
			out[k] = max(out[k], day)
		}
	}
	return out
}

// step works out done[i] from what it waits for and what it takes.
func (p *pass) step(i int) {
	start, took, rest := p.start(i), p.took[i], p.rest[i]
	if start.each == nil && took.each == nil && rest.each == nil {
		p.done[i] = column{fixed: p.end(i, start.fixed, took.fixed) + rest.fixed}
		return
	}
	out := p.s.row()
	switch {
	case p.isPlain(i):
		add(out, start, took)
	case start.each == nil:
		p.clocks[i].afterOne(out, start.fixed, took)
		p.land(i, out)
	default:
		for k := range out {
			out[k] = p.end(i, start.each[k], took.at(k))
		}
	}
	if rest.each != nil || rest.fixed != 0 {
		add(out, column{each: out}, rest)
	}
	p.done[i] = column{each: out}
}

// land keeps a column out of shut months.
func (p *pass) land(i int, days []float64) {
	gate := p.net.nodes[i].gate
	if gate == nil || p.open {
		return
	}
	for k, day := range days {
		days[k] = p.clocks[i].landed(gate, day)
	}
}

// isPlain says whether calendar days are all that counts for milestone i.
func (p *pass) isPlain(i int) bool {
	return p.clocks[i].rate == nil && len(p.clocks[i].stops) == 0 && p.net.nodes[i].gate == nil
}

// add is the pass of most milestones.
func add(out []float64, a, b column) {
	for k := range out {
		out[k] = a.at(k) + b.at(k)
	}
}

// afterOne is after for a column that starts on one day.
func (c clock) afterOne(out []float64, start float64, took column) {
	start = c.resumed(start)
	from := c.count(start)
	for k := range out {
		days := took.at(k)
		out[k] = c.day(from + days)
		if days >= 0 {
			out[k] = max(start, out[k])
		}
	}
}

// end is the day on which milestone i is done.
func (p *pass) end(i int, start, took float64) float64 {
	day := p.clocks[i].after(start, took)
	if p.open {
		return day
	}
	return p.clocks[i].landed(p.net.nodes[i].gate, day)
}
