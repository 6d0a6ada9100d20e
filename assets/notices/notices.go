// Package notices carries the notices of the data, the fonts, the modules and the
// compiled programs that the program embeds, as their publishers ask for, and the list
// of changes.
package notices

import (
	"embed"
	"io/fs"
	"slices"
)

//go:embed *.txt
var files embed.FS

//go:embed changes.md
var changes string

// Changes returns the list of changes: a heading for each version, the latest first, with
// what a walker gets by it.
func Changes() string { return changes }

// All returns every notice as text, in the order of their file names.
func All() []string {
	names, err := fs.Glob(files, "*.txt")
	if err != nil {
		return nil // the pattern is a constant
	}
	slices.Sort(names)
	var out []string
	for _, n := range names {
		if raw, err := files.ReadFile(n); err == nil {
			out = append(out, string(raw))
		}
	}
	return out
}
