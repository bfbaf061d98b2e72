package checklists

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"sync"

	"tendfold/domain"
	"tendfold/domain/programme"
)

// Set is the packs in force, by enterprise, and their compiled networks. All
// but Add may be called by many at once.
type Set struct {
	packs    map[string]*Pack
	mu       sync.Mutex
	networks map[networkKey]*programme.Network
}

// networkKey tells networks apart; a season is known by its text, because
// two branches with equal seasons share one network.
type networkKey struct {
	enterprise string
	purpose    programme.Purpose
	season     string
}

// mostNetworks bounds the cache: seasons are edited by people, and each edit
// leaves an old network behind.
const mostNetworks = 1000

// NewSet is a set without a pack.
func NewSet() *Set {
	return &Set{packs: map[string]*Pack{}, networks: map[networkKey]*programme.Network{}}
}

// Add takes the packs in dir (one pack, or a folder of packs) into the set. A
// pack of an enterprise that is there already takes its place. On any problem
// the set stays as it was, and the error names file, line, column and reason
// of each. Call it before the set is shared.
func (s *Set) Add(dir fs.FS) error {
	packs, problems := loadAll(dir)
	if len(problems) > 0 {
		return refusal(problems)
	}
	for _, p := range packs {
		s.packs[p.Enterprise] = p
		maps.DeleteFunc(s.networks, func(k networkKey, _ *programme.Network) bool { return k.enterprise == p.Enterprise })
	}
	return nil
}

// refusal is the error of packs that cannot be taken.
func refusal(problems []Problem) error {
	lines := make([]string, len(problems))
	fields := make([]domain.Field, len(problems))
	for i, p := range problems {
		lines[i] = p.String()
		fields[i] = domain.Field{Path: fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column), Code: "pack-wrong", Text: p.Reason}
	}
	return &domain.Error{
		Kind: domain.KindInvalid, Code: "pack-refused", Fields: fields,
		Text: "A pack cannot be used as it is written. Correct the lines named and try again.",
	}
}

// Pack is the pack of an enterprise.
func (s *Set) Pack(enterprise string) (*Pack, bool) {
	p, ok := s.packs[enterprise]
	return p, ok
}

// Enterprises are the names of all packs, in alphabetical order.
func (s *Set) Enterprises() []string { return slices.Sorted(maps.Keys(s.packs)) }

// Network is the compiled programme of an enterprise for one purpose in one
// season. It is compiled once for each season that differs.
func (s *Set) Network(enterprise string, purpose programme.Purpose, season programme.Season) (*programme.Network, error) {
	p, ok := s.packs[enterprise]
	if !ok {
		return nil, domain.Invalid("enterprise-unknown",
			fmt.Sprintf("There is no pack for %q. Known are %s.", enterprise, strings.Join(s.Enterprises(), ", ")))
	}
	key := networkKey{enterprise, purpose, seasonKey(season)}
	s.mu.Lock()
	defer s.mu.Unlock()
	if n, ok := s.networks[key]; ok {
		return n, nil
	}
	n, err := programme.Compile(p.Programme, purpose, season)
	if err != nil {
		return nil, err
	}
	if len(s.networks) >= mostNetworks {
		clear(s.networks)
	}
	s.networks[key] = n
	return n, nil
}

// seasonKey writes a season as text; map keys come out sorted.
func seasonKey(season programme.Season) string {
	b, err := json.Marshal(season)
	if err != nil {
		// A rate that is no number; Compile will refuse it by name.
		return fmt.Sprint(season)
	}
	return string(b)
}
