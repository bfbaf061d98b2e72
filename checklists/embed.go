package checklists

import "embed"

// Whole folders: beside the eight files stand training/, drawings/ and voices/.
//
//go:embed snail catfish
var shipped embed.FS

// Embedded is a new set with the packs that ship inside the binary.
func Embedded() (*Set, error) {
	s := NewSet()
	if err := s.Add(shipped); err != nil {
		return nil, err
	}
	return s, nil
}

// CheckEmbedded is every problem of the packs that ship inside the binary.
func CheckEmbedded() []Problem { return Check(shipped) }
