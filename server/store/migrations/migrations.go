// Package migrations holds the schema of both databases: one folder a
// dialect, the same numbers and names in both.
package migrations

import (
	"embed"
	"io/fs"
)

//go:embed sqlite postgres
var files embed.FS

// File is one migration.
type File struct {
	Name string
	Text string
}

// FS is the folder of a dialect, "sqlite" or "postgres".
func FS(dialect string) fs.FS {
	sub, err := fs.Sub(files, dialect)
	if err != nil {
		panic(err) // only a name that is no path can fail
	}
	return sub
}

// Files are the migrations of a dialect in order.
func Files(dialect string) []File {
	entries, err := files.ReadDir(dialect)
	if err != nil {
		panic(err) // the folders are part of the program
	}
	out := make([]File, 0, len(entries))
	for _, e := range entries {
		text, err := files.ReadFile(dialect + "/" + e.Name())
		if err != nil {
			panic(err)
		}
		out = append(out, File{Name: e.Name(), Text: string(text)})
	}
	return out
}
