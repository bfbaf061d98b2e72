package keys

import (
	"encoding/base64"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// secretSize is the bytes of a signing secret: 256 bits.
const secretSize = 32

// EnvName is the variable that carries the secrets where there is no folder
// to keep them in.
const EnvName = "TENDFOLD_SIGNING_KEY"

// fileName is the file of secrets inside the SQLite folder.
const fileName = "signing-key"

// Secret is what every key of the server is derived from. It prints as its
// key id only.
type Secret [secretSize]byte

// String keeps the secret out of logs and errors.
func (s Secret) String() string { return "signing key " + kid(s) }

// GoString does the same for %#v.
func (s Secret) GoString() string { return s.String() }

// Text is the form in which the secret is written down: base64.
func (s Secret) Text() string { return base64.StdEncoding.EncodeToString(s[:]) }

// NewSecret draws a secret.
func NewSecret(random io.Reader) (Secret, error) {
	var s Secret
	_, err := io.ReadFull(random, s[:])
	return s, err
}

// ParseSecrets reads secrets as they are written down: base64 (either
// alphabet, padded or not) of 32 bytes each, apart by commas, spaces or
// lines; what follows a # on a line is a remark. The first one signs, the
// others still verify. Errors never repeat what was read.
func ParseSecrets(text string) ([]Secret, error) {
	var out []Secret
	for line := range strings.SplitSeq(text, "\n") {
		line, _, _ = strings.Cut(line, "#")
		for _, word := range strings.FieldsFunc(line, func(r rune) bool { return strings.ContainsRune(", \t\r", r) }) {
			s, err := parseSecret(word)
			if err != nil {
				return nil, fmt.Errorf("signing key %d: %w", len(out)+1, err)
			}
			out = append(out, s)
		}
	}
	if len(out) == 0 {
		return nil, errors.New("no signing key: set " + EnvName + " to 32 random bytes in base64; `make secrets` makes one")
	}
	return out, nil
}

func parseSecret(word string) (Secret, error) {
	plain := strings.NewReplacer("-", "+", "_", "/").Replace(strings.TrimRight(word, "="))
	raw, err := base64.RawStdEncoding.DecodeString(plain)
	if err != nil || len(raw) != secretSize {
		return Secret{}, errors.New("it is not 32 bytes in base64; `make secrets` makes one")
	}
	return Secret(raw), nil
}

// LoadFolder reads the secrets of a SQLite folder, and makes the first one
// when there is none. Two processes that start at once agree on one secret:
// the file appears whole or not at all.
func LoadFolder(dir string, random io.Reader) ([]Secret, error) {
	path := filepath.Join(dir, fileName)
	text, err := readPrivate(path)
	if errors.Is(err, fs.ErrNotExist) {
		if err = makeFile(path, random); err != nil {
			return nil, fmt.Errorf("making the signing key: %w", err)
		}
		text, err = readPrivate(path)
	}
	if err != nil {
		return nil, err
	}
	secrets, err := ParseSecrets(text)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return secrets, nil
}

// readPrivate refuses a file that others on the host may read: a signing
// key that has been readable is no secret any more.
func readPrivate(path string) (string, error) {
	info, err := os.Stat(path)
	if err != nil {
		return "", err
	}
	if info.Mode().Perm()&0o077 != 0 {
		return "", fmt.Errorf("%s may be read by others on this machine (mode %04o): run chmod 600 on it, and put a new key on its first line if others use this machine", path, info.Mode().Perm())
	}
	text, err := os.ReadFile(path)
	return string(text), err
}

func makeFile(path string, random io.Reader) error {
	secret, err := NewSecret(random)
	if err != nil {
		return err
	}
	part, err := os.CreateTemp(filepath.Dir(path), fileName+"-*") // mode 0600
	if err != nil {
		return err
	}
	defer os.Remove(part.Name())
	text := "# The first key signs; older ones below it still verify. Keep this file private and in your backups.\n" + secret.Text() + "\n"
	if _, err = part.WriteString(text); err == nil {
		err = part.Sync()
	}
	if err = errors.Join(err, part.Close()); err != nil {
		return err
	}
	if err = os.Link(part.Name(), path); errors.Is(err, fs.ErrExist) {
		return nil // another process was first
	}
	return err
}
