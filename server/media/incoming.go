package media

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"time"

	"tendfold/domain"
)

// Want is what was announced of a file.
type Want struct {
	Kind   Kind
	Size   int64
	SHA256 string // hexadecimal
}

func (k *Keeper) partOf(id string) (string, error) {
	if !plainID.MatchString(id) {
		return "", refusal("media-id", "An id is made of letters, digits and hyphens, at most 64.")
	}
	return filepath.Join(k.folder, incoming, id), nil
}

// Received is how many bytes of a file have come: where to go on. The length
// of the file itself tells, so that no piece costs a write to the database.
func (k *Keeper) Received(id string) (int64, error) {
	part, err := k.partOf(id)
	if err != nil {
		return 0, err
	}
	info, err := os.Stat(part)
	if errors.Is(err, fs.ErrNotExist) {
		return 0, nil
	}
	if err != nil {
		return 0, folderError(err)
	}
	return info.Size(), nil
}

// Append adds a piece at an offset and says how many bytes are there then.
// When the piece does not follow what has come (its answer was lost, or
// another tab sent it), the error of code media-offset says where to go on.
func (k *Keeper) Append(id string, offset, most int64, piece []byte) (int64, error) {
	turn := k.lock(id)
	turn.Lock()
	defer turn.Unlock()
	have, err := k.Received(id)
	if err != nil {
		return 0, err
	}
	if offset != have {
		return have, offsetError(have)
	}
	if have+int64(len(piece)) > most {
		return have, refusal("media-size", fmt.Sprintf("More came than was announced: %d bytes.", most))
	}
	part, err := k.partOf(id)
	if err != nil {
		return have, err
	}
	if err := writeAt(part, offset, piece); err != nil {
		return have, folderError(err)
	}
	return have + int64(len(piece)), nil
}

// OffsetCode marks the field of an error that says where to go on.
const OffsetCode = "media-offset"

func offsetError(have int64) error {
	return &domain.Error{
		Kind: domain.KindConflict, Code: OffsetCode, Text: fmt.Sprintf("%d bytes have come so far. Go on from there.", have),
		Fields: []domain.Field{{Path: "offset", Code: OffsetCode, Text: strconv.FormatInt(have, 10)}},
	}
}

func writeAt(path string, offset int64, piece []byte) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_WRONLY, 0o600) // in our folder, by a checked name
	if err != nil {
		return err
	}
	_, err = f.WriteAt(piece, offset)
	return errors.Join(err, f.Sync(), f.Close())
}

// Finish holds what has come against what was announced, looks at it, and
// files it. It may be repeated: the same bytes are filed under the same name.
// What came stays until Forget, but for a wrong hash: then the sending starts
// anew.
func (k *Keeper) Finish(ctx context.Context, id string, want Want) (Made, error) {
	turn := k.lock(id)
	turn.Lock()
	defer turn.Unlock()
	have, err := k.Received(id)
	if err != nil {
		return Made{}, err
	}
	if have < want.Size {
		return Made{}, offsetError(have)
	}
	part, err := k.partOf(id)
	if err != nil {
		return Made{}, err
	}
	raw, err := readUpTo(part, MostBytes(want.Kind))
	if err != nil {
		return Made{}, folderError(err)
	}
	if sum := sha256.Sum256(raw); int64(len(raw)) != want.Size || hex.EncodeToString(sum[:]) != want.SHA256 {
		if err := os.Remove(part); err != nil {
			return Made{}, folderError(err)
		}
		return Made{}, domain.Conflict("media-hash", "What came is not what was announced: a byte changed on the way. Send it again from the start.")
	}
	if err := k.scanned(ctx, part); err != nil {
		return Made{}, err
	}
	return k.make(ctx, want.Kind, raw)
}

func readUpTo(path string, most int64) ([]byte, error) {
	f, err := os.Open(path) // in our folder, by a checked name
	if err != nil {
		return nil, err
	}
	defer f.Close() // it was only read
	return io.ReadAll(io.LimitReader(f, most+1))
}

// make turns the bytes into what is kept.
func (k *Keeper) make(ctx context.Context, kind Kind, raw []byte) (Made, error) {
	if kind == Voice {
		clean, typ, err := cleanVoice(raw)
		if err != nil {
			return Made{}, err
		}
		blob, err := k.put(clean)
		return Made{Blob: blob, Type: typ, Size: int64(len(clean))}, err
	}
	select {
	case k.work <- struct{}{}:
		defer func() { <-k.work }()
	case <-ctx.Done():
		return Made{}, ctx.Err()
	}
	p, err := cleanPhoto(raw)
	if err != nil {
		return Made{}, err
	}
	made := Made{Type: "image/jpeg", Size: int64(len(p.whole)), Width: p.width, Height: p.height}
	if made.Blob, err = k.put(p.whole); err != nil {
		return Made{}, err
	}
	made.Thumb, err = k.put(p.thumb)
	return made, err
}

// Forget throws away what came of a file, once it is kept or refused.
func (k *Keeper) Forget(id string) error {
	part, err := k.partOf(id)
	if err != nil {
		return err
	}
	if err := os.Remove(part); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return folderError(err)
	}
	return nil
}

// Tidy throws away pieces to which nothing was added since an instant, and
// drafts that a crash left behind.
func (k *Keeper) Tidy(before time.Time) error {
	return filepath.WalkDir(k.folder, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		if filepath.Dir(path) != filepath.Join(k.folder, incoming) && filepath.Ext(path) != draftEnd {
			return nil
		}
		info, err := entry.Info()
		if err != nil || info.ModTime().After(before) {
			return nil // gone, or in use
		}
		return os.Remove(path)
	})
}
