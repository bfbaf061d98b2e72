package checklists

import (
	"embed"
	"maps"
	"sync"
)

// Whole folders: beside the eight files stand training/, drawings/ and voices/.
//
//go:embed snail catfish
var shipped embed.FS

// A pack is only read once it is loaded, and what ships never changes: sets
// share it, so that a process that opens many houses reads it once.
var shippedPacks = sync.OnceValues(func() (map[string]*Pack, error) {
	s := NewSet()
	err := s.Add(shipped)
	return s.packs, err
})

// Embedded is a new set with the packs that ship inside the binary.
func Embedded() (*Set, error) {
	packs, err := shippedPacks()
	if err != nil {
		return nil, err
	}
	s := NewSet()
	maps.Copy(s.packs, packs)
	return s, nil
}

// CheckEmbedded is every problem of the packs that ship inside the binary.
func CheckEmbedded() []Problem { return Check(shipped) }
