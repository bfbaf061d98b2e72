package programme

import "slices"

// graph is the arrows of a programme by name.
type graph struct {
	after  map[string][]string
	before map[string][]string
}

func graphOf(milestones []Milestone) graph {
	g := graph{map[string][]string{}, map[string][]string{}}
	for _, m := range milestones {
		g.after[m.Key] = m.After
		for _, a := range m.After {
			g.before[a] = append(g.before[a], m.Key)
		}
	}
	return g
}

// upTo is a milestone and all that it waits for.
func (g graph) upTo(key string) map[string]bool {
	return spread(map[string]bool{key: true}, g.after)
}

// onFrom is the milestones given and all that wait for any of them.
func (g graph) onFrom(keys map[string]bool) map[string]bool { return spread(keys, g.before) }

func spread(from map[string]bool, arrows map[string][]string) map[string]bool {
	seen := map[string]bool{}
	var visit func(string)
	visit = func(key string) {
		if seen[key] {
			return
		}
		seen[key] = true
		for _, next := range arrows[key] {
			visit(next)
		}
	}
	for key := range from {
		visit(key)
	}
	return seen
}

// sorted puts milestones so that each follows all that it waits for, else as
// written. Where that cannot be it gives one ring of names that wait for
// each other instead.
func sorted(milestones []Milestone) (order []Milestone, ring []string) {
	placed := map[string]bool{}
	ready := func(m Milestone) bool {
		return !placed[m.Key] && !slices.ContainsFunc(m.After, func(a string) bool { return !placed[a] })
	}
	order = make([]Milestone, 0, len(milestones))
	for len(order) < len(milestones) {
		i := slices.IndexFunc(milestones, ready)
		if i < 0 {
			return nil, ringOf(milestones, placed)
		}
		placed[milestones[i].Key] = true
		order = append(order, milestones[i])
	}
	return order, nil
}

// ringOf walks back from any milestone that cannot be placed, always to one
// that it still waits for, until it meets itself. The ring is told from the
// milestone that is written first.
func ringOf(milestones []Milestone, placed map[string]bool) []string {
	after := graphOf(milestones).after
	i := slices.IndexFunc(milestones, func(m Milestone) bool { return !placed[m.Key] })
	at := milestones[i].Key
	var walked []string
	for !slices.Contains(walked, at) {
		walked = append(walked, at)
		j := slices.IndexFunc(after[at], func(a string) bool { return !placed[a] })
		at = after[at][j]
	}
	ring := walked[slices.Index(walked, at):]
	slices.Reverse(ring)
	first := slices.IndexFunc(milestones, func(m Milestone) bool { return slices.Contains(ring, m.Key) })
	turn := slices.Index(ring, milestones[first].Key)
	return append(slices.Clone(ring[turn:]), ring[:turn]...)
}

// forPurpose leaves out the milestones that a purpose does not have; what
// waited for one of them waits for what that one waited for.
func forPurpose(order []Milestone, purpose Purpose) []Milestone {
	inherited := map[string][]string{}
	var out []Milestone
	for _, m := range order {
		var after []string
		for _, a := range m.After {
			if from, gone := inherited[a]; gone {
				after = append(after, from...)
			} else {
				after = append(after, a)
			}
		}
		slices.Sort(after)
		m.After = slices.Compact(after)
		if m.isFor(purpose) {
			out = append(out, m)
		} else {
			inherited[m.Key] = m.After
		}
	}
	return out
}
