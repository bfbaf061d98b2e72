// Command spoken lists what the recordings of the packs say, one card and
// language a line: the file of the recording, the language and the words,
// parted by tabs. voices.sh reads it.
package main

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/goccy/go-yaml"
)

// lesson is what a recording needs of a module's file; everything else in it
// is checked when a pack is loaded.
type lesson struct {
	Module string `yaml:"module"`
	Cards  []card `yaml:"cards"`
}

type card struct {
	Key    string            `yaml:"key"`
	Safety bool              `yaml:"safety"`
	Title  map[string]string `yaml:"title"`
	Text   map[string]string `yaml:"text"`
}

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: spoken DIR, the folder of the packs")
		os.Exit(2)
	}
	if err := list(os.Stdout, os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// list writes a line for every safety card of every pack under dir.
func list(w io.Writer, dir string) error {
	files, err := filepath.Glob(filepath.Join(dir, "*", "training", "*.yaml"))
	if err != nil {
		return err
	}
	slices.Sort(files)
	out := bufio.NewWriter(w)
	for _, file := range files {
		if err := listModule(out, file); err != nil {
			return fmt.Errorf("%s: %w", file, err)
		}
	}
	return out.Flush()
}

func listModule(w io.Writer, file string) error {
	src, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	var l lesson
	if err := yaml.Unmarshal(src, &l); err != nil {
		return err
	}
	pack := filepath.Dir(filepath.Dir(file))
	for _, c := range l.Cards {
		if !c.Safety {
			continue
		}
		for _, language := range []string{"en", "fr"} {
			sound := filepath.Join(pack, "voices", language, l.Module+"."+c.Key+".ogg")
			words := strings.TrimRight(c.Title[language], ".!?") + ". " + c.Text[language]
			if _, err := fmt.Fprintf(w, "%s\t%s\t%s\n", sound, language, words); err != nil {
				return err
			}
		}
	}
	return nil
}
