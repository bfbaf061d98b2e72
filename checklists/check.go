package checklists

import (
	"io/fs"
	"path"
	"slices"
)

// mostPacks bounds a folder of packs.
const mostPacks = 100

// Check reads a pack, or a folder of packs, and gives everything that is
// wrong with it, in reading order; none means that a Set will take it.
func Check(fsys fs.FS) []Problem {
	_, problems := loadAll(fsys)
	return problems
}

// loadAll reads every pack in fsys: fsys itself when it holds pack.yaml, else
// its folders, those with a leading dot or underscore apart.
func loadAll(fsys fs.FS) ([]*Pack, []Problem) {
	dirs, problems := packDirs(fsys)
	var packs []*Pack
	at := map[string]string{}
	for _, dir := range dirs {
		p, wrong := load(fsys, dir)
		problems = append(problems, wrong...)
		if p == nil {
			continue
		}
		if other, twice := at[p.Enterprise]; twice {
			problems = append(problems, Problem{path.Join(dir, packFile), 1, 1, "enterprise " + p.Enterprise + " is also the one of " + other})
			continue
		}
		at[p.Enterprise] = dir
		packs = append(packs, p)
	}
	return packs, problems
}

func packDirs(fsys fs.FS) ([]string, []Problem) {
	if _, err := fs.Stat(fsys, packFile); err == nil {
		return []string{"."}, nil
	}
	entries, err := fs.ReadDir(fsys, ".")
	if err != nil {
		return nil, []Problem{{".", 1, 1, "the folder cannot be read: " + err.Error()}}
	}
	var dirs []string
	for _, e := range entries {
		if e.IsDir() && e.Name()[0] != '.' && e.Name()[0] != '_' {
			dirs = append(dirs, e.Name())
		}
	}
	switch {
	case len(dirs) == 0:
		return nil, []Problem{{".", 1, 1, "there is no pack here: neither pack.yaml nor a folder"}}
	case len(dirs) > mostPacks:
		return nil, []Problem{{".", 1, 1, "there are more than 100 folders here; name the folder of the packs"}}
	}
	slices.Sort(dirs)
	return dirs, nil
}
