// Package web holds the screens: the built browser app, embedded, and the
// handler that serves it. The app itself is TypeScript under src/.
package web

import (
	"embed"
	"io/fs"
)

//go:embed all:dist
var dist embed.FS

// Files is the built app, index.html at its root; without the web build it
// holds nothing of use (see Built).
func Files() fs.FS {
	files, err := fs.Sub(dist, "dist")
	if err != nil {
		panic(err) // "dist" is a constant and a valid path
	}
	return files
}

// Built says whether the app was built before this binary was.
func Built() bool { return built(Files()) }

func built(files fs.FS) bool {
	_, err := fs.Stat(files, "index.html")
	return err == nil
}
