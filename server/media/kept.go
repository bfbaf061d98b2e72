package media

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"tendfold/domain"
)

// draftEnd marks a file that is not whole yet.
const draftEnd = ".draft"

// pathOf spreads the files over 256 folders by the start of their names.
func (k *Keeper) pathOf(blob string) string {
	return filepath.Join(k.folder, kept, blob[:2], blob)
}

// put files bytes under their hash: whole or not at all, and on the disk
// before it comes back. The same bytes are there once.
func (k *Keeper) put(content []byte) (string, error) {
	sum := sha256.Sum256(content)
	blob := hex.EncodeToString(sum[:])
	path := k.pathOf(blob)
	if info, err := os.Stat(path); err == nil && info.Size() == int64(len(content)) {
		return blob, nil
	}
	if err := writeWhole(path, content); err != nil {
		return "", folderError(err)
	}
	return blob, nil
}

func writeWhole(path string, content []byte) error {
	folder := filepath.Dir(path)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return err
	}
	draft, err := os.CreateTemp(folder, "*"+draftEnd) // mode 0600
	if err != nil {
		return err
	}
	_, err = draft.Write(content)
	if err = errors.Join(err, draft.Sync(), draft.Close()); err != nil {
		return errors.Join(err, os.Remove(draft.Name()))
	}
	if err := os.Rename(draft.Name(), path); err != nil {
		return errors.Join(err, os.Remove(draft.Name()))
	}
	return syncFolder(folder)
}

// syncFolder makes the name of a file outlive a power cut.
func syncFolder(folder string) error {
	f, err := os.Open(folder) // ours
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// endings are how files of our types are called outside of the folder.
var endings = map[string]string{"image/jpeg": ".jpg", "audio/ogg": ".ogg", "audio/webm": ".webm", "audio/mp4": ".m4a"}

// Export writes a kept file beside others in a folder that is there, as name
// with the ending of its type, whole or not at all.
func (k *Keeper) Export(blob, typ, folder, name string) error {
	content, err := k.Read(blob)
	if err != nil {
		return err
	}
	if err := writeWhole(filepath.Join(folder, name+endings[typ]), content); err != nil {
		return folderError(err)
	}
	return nil
}

// Read is a file that is kept. One that somebody took out of the folder, or
// changed there, is not found.
func (k *Keeper) Read(blob string) ([]byte, error) {
	if !hashed.MatchString(blob) {
		return nil, domain.NotFound("file")
	}
	content, err := os.ReadFile(k.pathOf(blob)) // in our folder, by a checked name
	if errors.Is(err, fs.ErrNotExist) {
		return nil, domain.NotFound("file")
	}
	if err != nil {
		return nil, folderError(err)
	}
	if sum := sha256.Sum256(content); hex.EncodeToString(sum[:]) != blob {
		return nil, domain.NotFound("file")
	}
	return content, nil
}
