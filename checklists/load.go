package checklists

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
)

// The files of a pack. All must be there; nothing else may, except text for
// people and the folders training, triage, drawings and voices.
const (
	packFile       = "pack.yaml"
	sourcesFile    = "sources.yaml"
	programmeFile  = "programme.yaml"
	checklistsFile = "checklists.yaml"
	trainingFile   = "training.yaml"
	rulesFile      = "rules.yaml"
	wordsFile      = "words.yaml"
	triageFile     = "triage.yaml"
	daybookFile    = "daybook.yaml"
)

var packFiles = []string{
	packFile, sourcesFile, programmeFile, checklistsFile, trainingFile, rulesFile, wordsFile, triageFile, daybookFile,
}

// load reads the pack in the folder dir of fsys, "." for fsys itself. The
// pack is nil when there is any problem.
func load(fsys fs.FS, dir string) (*Pack, []Problem) {
	b := newBook()
	strangers(b, fsys, dir)
	roots := map[string]cursor{}
	for _, name := range packFiles {
		roots[name] = open(b, fsys, path.Join(dir, name), name)
	}
	p := readPack(roots[packFile])
	p.Sources = readSources(roots[sourcesFile])
	readProgramme(roots[programmeFile], p)
	readChecklists(roots[checklistsFile], p)
	readTraining(roots[trainingFile], p)
	p.Drawings = readDrawings(b, fsys, dir)
	readLessons(b, fsys, dir, p)
	p.Voices = readVoices(b, fsys, dir, p)
	readRules(roots[rulesFile], p)
	p.Words = readWords(roots[wordsFile])
	readTriage(roots[triageFile], p)
	readCards(b, fsys, dir, p)
	p.Daybook = readDaybook(roots[daybookFile])
	p.Texts = readTexts(b, fsys, dir)
	p.Stock = readStock(b, fsys, dir)
	p.Husbandry = readHusbandry(b, fsys, dir)
	b.later = append(b.later, func() { b.checkGrades(p.Sources) })
	tieModules(p)
	if problems := b.finish(); len(problems) > 0 {
		return nil, problems
	}
	return p, nil
}

// open reads one file; a cursor on nothing when it cannot be read.
func open(b *book, fsys fs.FS, full, name string) cursor {
	c := cursor{book: b, file: full, name: name, at: place{1, 1}}
	src, err := readBounded(fsys, full)
	if err != nil {
		b.report(full, c.at, "%s", err)
		b.unread = true
		return c
	}
	root, t := readYAML(src)
	if t != nil {
		b.report(full, t.at, "%s", t.reason)
		b.unread = true
		return c
	}
	c.node, c.at = root, root.at
	return c
}

// readBounded reads a file, but never more than a byte past the bound.
func readBounded(fsys fs.FS, name string) ([]byte, error) {
	f, err := fsys.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("the file is missing; every pack has %s", strings.Join(packFiles, ", "))
	}
	if err != nil {
		return nil, fmt.Errorf("the file cannot be opened: %w", err)
	}
	defer func() { _ = f.Close() }() // nothing was written that could be lost
	src, err := io.ReadAll(io.LimitReader(f, maxFileBytes+1))
	if err != nil {
		return nil, fmt.Errorf("the file cannot be read: %w", err)
	}
	return src, nil
}

// strangers refuses files that nothing reads: a misspelt name would silently
// leave out what it holds.
func strangers(b *book, fsys fs.FS, dir string) {
	entries, err := fs.ReadDir(fsys, dir)
	if err != nil {
		b.report(dir, place{1, 1}, "the folder cannot be read: %s", err)
	}
	for _, e := range entries {
		name := e.Name()
		if ext := path.Ext(name); (ext == ".yaml" || ext == ".yml") && !slices.Contains(packFiles, name) && name != textsFile && name != stockFile && name != husbandryFile {
			b.report(path.Join(dir, name), place{1, 1}, "this file is not part of a pack, which has %s", strings.Join(packFiles, ", "))
		}
	}
}
