package checklists

import "slices"

// Milestone is what the pack says of a milestone.
func (p *Pack) Milestone(key string) (Milestone, bool) {
	return find(p.Milestones, func(m Milestone) bool { return m.Key == key })
}

// Item is the checklist item with a key, from whichever list.
func (p *Pack) Item(key string) (Item, bool) {
	for _, list := range p.Checklists {
		if item, ok := find(list.Items, func(i Item) bool { return i.Key == key }); ok {
			return item, true
		}
	}
	return Item{}, false
}

// GoAhead is the go-ahead with a key.
func (p *Pack) GoAhead(key string) (GoAhead, bool) {
	return find(p.GoAheads, func(g GoAhead) bool { return g.Key == key })
}

// GoAheadOf is the go-ahead of a milestone.
func (p *Pack) GoAheadOf(milestone string) (GoAhead, bool) {
	return find(p.GoAheads, func(g GoAhead) bool { return g.Milestone == milestone })
}

// Module is the module with a key.
func (p *Pack) Module(key string) (Module, bool) {
	return find(p.Modules, func(m Module) bool { return m.Key == key })
}

// Sign is the sign with a key.
func (p *Pack) Sign(key string) (Sign, bool) {
	return find(p.Signs, func(s Sign) bool { return s.Key == key })
}

// FindSpecies is the species that a register's word stands for: its key, one
// of its names, or what else registers write for it.
func (p *Pack) FindSpecies(typed string) (Species, bool) {
	return find(p.Species, func(s Species) bool {
		return matches(typed, slices.Concat([]string{s.Key, s.Latin, s.Name.EN, s.Name.FR}, s.Also))
	})
}

// Word is the word of a build-sheet column (wall_base, cover, water) that
// somebody typed; false when the pack does not know it.
func (p *Pack) Word(column, typed string) (Word, bool) {
	return find(p.Words[column], func(w Word) bool { return matches(typed, w.typed()) })
}

// DensityAt is the published limit for animals of a mean weight in g; for a
// weight of 0, which is not known, the highest limit in animals of all.
func (s Species) DensityAt(meanG float64) (Density, bool) {
	if meanG > 0 {
		return find(s.Densities, func(d Density) bool { return meanG >= d.FromG && (d.ToG == 0 || meanG < d.ToG) })
	}
	if len(s.Densities) == 0 {
		return Density{}, false
	}
	return slices.MaxFunc(s.Densities, func(a, b Density) int {
		return int(a.PerM2.Value - b.PerM2.Value)
	}), true
}

// VisitEvery is how many days may pass between visits while a milestone is
// next and so many days have gone since handover (negative = not handed over
// yet, or not known).
func (p *Pack) VisitEvery(milestone string, sinceHandover int) int {
	for _, stage := range p.Visits.AfterHandover {
		if sinceHandover < 0 {
			break
		}
		if sinceHandover < stage.Days {
			return stage.Every
		}
		sinceHandover -= stage.Days
	}
	for _, m := range p.Programme.Milestones {
		if m.Key == milestone {
			return m.VisitDays
		}
	}
	return 0
}

func matches(typed string, words []string) bool {
	want := fold(typed)
	return want != "" && slices.ContainsFunc(words, func(w string) bool { return fold(w) == want })
}

func find[T any](all []T, is func(T) bool) (T, bool) {
	if i := slices.IndexFunc(all, is); i >= 0 {
		return all[i], true
	}
	var none T
	return none, false
}
