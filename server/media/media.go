// Package media keeps photos and voice notes as files in one folder: it takes
// them in pieces, holds the whole against the hash that was announced, looks
// at what they really are, takes out where they were made, and files them
// under the hash of what is kept. It knows nothing of farms and people.
package media

import (
	"os"
	"path/filepath"
	"regexp"
	"sync"

	"tendfold/domain"
)

// Kind is what a file is to be: what its bytes are decides whether it is.
type Kind string

// The kinds of files.
const (
	Photo Kind = "photo"
	Voice Kind = "voice"
)

// MostBytes is the largest file of a kind that is taken, as it comes in. A
// phone scales its photos to 150 kB; one that cannot sends the camera's own.
func MostBytes(k Kind) int64 {
	switch k {
	case Photo:
		return 6 << 20
	case Voice:
		return 1 << 20
	}
	return 0
}

// MostChunk is the largest piece in bytes: a slow link carries it in one go,
// and a lost one costs little.
const MostChunk = 64 << 10

// Made is a file as it is kept.
type Made struct {
	Blob   string // its name in the folder: SHA-256 of the bytes, hexadecimal
	Thumb  string // of a photo
	Type   string // media type by content
	Size   int64  // in bytes
	Width  int    // of a photo, in pixels, the right way up
	Height int
}

// Keeper keeps files in a folder. Several processes may share one.
type Keeper struct {
	folder string
	scan   []string
	work   chan struct{} // who may unpack a photo: it takes memory
	locks  [16]sync.Mutex
}

// The parts of the folder.
const (
	incoming = "incoming"
	kept     = "kept"
)

// Open opens a folder, which is made when missing. scanner is the command
// that looks at each file before it is kept, with its arguments; none when
// empty.
func Open(folder string, scanner []string) (*Keeper, error) {
	for _, part := range []string{incoming, kept} {
		if err := os.MkdirAll(filepath.Join(folder, part), 0o700); err != nil {
			return nil, folderError(err)
		}
	}
	return &Keeper{folder: folder, scan: scanner, work: make(chan struct{}, 1)}, nil
}

// Folder is where the files are.
func (k *Keeper) Folder() string { return k.folder }

func folderError(err error) error {
	return &domain.Error{
		Kind: domain.KindBusy, Code: "media-folder",
		Text: "The folder of photos and voice notes cannot be made, read or written. Check its owner and the free space; then send again.", Err: err,
	}
}

var (
	plainID = regexp.MustCompile(`^[0-9A-Za-z-]{1,64}$`)
	hashed  = regexp.MustCompile(`^[0-9a-f]{64}$`)
)

// lock is the turn of a file among those of this process.
func (k *Keeper) lock(id string) *sync.Mutex {
	var n byte
	for i := range len(id) {
		n = n*31 + id[i]
	}
	return &k.locks[n%16]
}

// refusal is an error that no repetition mends.
func refusal(code, text string) error { return domain.Invalid(code, text) }
