package media

import (
	"archive/tar"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"tendfold/domain"
)

// Pack writes everything that is kept into a tar file, which must not exist,
// and says how many files these are. Files only come and never change, so
// the server may go on meanwhile.
func (k *Keeper) Pack(file string) (int, error) {
	out, err := os.OpenFile(file, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600) // the operator names it
	if err != nil {
		return 0, folderError(err)
	}
	w := tar.NewWriter(out)
	n := 0
	err = filepath.WalkDir(filepath.Join(k.folder, kept), func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || !hashed.MatchString(entry.Name()) {
			return err
		}
		n++
		return addTo(w, path, entry.Name())
	})
	if err = errors.Join(err, w.Close(), out.Sync(), out.Close()); err != nil {
		return 0, folderError(err)
	}
	return n, nil
}

func addTo(w *tar.Writer, path, name string) error {
	content, err := os.ReadFile(path) // in our folder
	if err != nil {
		return err
	}
	head := tar.Header{Name: name, Mode: 0o600, Size: int64(len(content)), ModTime: time.Unix(0, 0), Format: tar.FormatPAX}
	if err := w.WriteHeader(&head); err != nil {
		return err
	}
	_, err = w.Write(content)
	return err
}

// Unpack puts back what Pack wrote. Each file is held against its name: what
// is not as it was is refused, and the rest is left for another try.
func (k *Keeper) Unpack(file string) (int, error) {
	in, err := os.Open(file) // the operator names it
	if err != nil {
		return 0, folderError(err)
	}
	defer in.Close() // it was only read
	r := tar.NewReader(in)
	for n := 0; ; n++ {
		head, err := r.Next()
		if errors.Is(err, io.EOF) {
			return n, nil
		}
		if err != nil {
			return n, spoilt(file, err)
		}
		content, err := io.ReadAll(io.LimitReader(r, MostBytes(Photo)+1))
		if err != nil {
			return n, spoilt(file, err)
		}
		if sum := sha256.Sum256(content); hex.EncodeToString(sum[:]) != head.Name {
			return n, spoilt(file, fmt.Errorf("file %q", head.Name))
		}
		if _, err := k.put(content); err != nil {
			return n, err
		}
	}
}

func spoilt(file string, err error) error {
	return &domain.Error{
		Kind: domain.KindInvalid, Code: "backup-damaged", Text: fmt.Sprintf("%q is damaged, or is no backup of photos and voice notes. Try an older one.", file), Err: err,
	}
}
