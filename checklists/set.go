package checklists

import "slices"

// Set is the packs in force, by enterprise. It is safe for use by many at
// once as soon as nothing is added to it any more.
type Set struct {
	packs map[string]*Pack
}

// Pack is the pack of an enterprise.
func (s *Set) Pack(enterprise string) (*Pack, bool) {
	p, ok := s.packs[enterprise]
	return p, ok
}

// Enterprises are the names of all packs, in alphabetical order.
func (s *Set) Enterprises() []string {
	names := make([]string, 0, len(s.packs))
	for name := range s.packs {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}
