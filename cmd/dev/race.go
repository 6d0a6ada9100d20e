package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
)

// racedRooms lists the packages below root whose own code starts goroutines: only
// there can the race detector find anything.
func racedRooms(root string) ([]string, error) {
	var rooms []string
	err := filepath.WalkDir(root, func(path string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case e.IsDir() && path != root && (strings.HasPrefix(e.Name(), ".") || e.Name() == "testdata"):
			return filepath.SkipDir
		case e.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go"):
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil || !startsGoroutine(file) {
			return err
		}
		room, err := filepath.Rel(root, filepath.Dir(path))
		rooms = append(rooms, "./"+filepath.ToSlash(room))
		return err
	})
	slices.Sort(rooms)
	return slices.Compact(rooms), err
}

// startsGoroutine finds go statements, Go methods such as those of wait groups, and
// AfterFunc calls.
func startsGoroutine(file *ast.File) (found bool) {
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.GoStmt:
			found = true
		case *ast.CallExpr:
			if s, ok := n.Fun.(*ast.SelectorExpr); ok && (s.Sel.Name == "Go" || s.Sel.Name == "AfterFunc") {
				found = true
			}
		}
		return !found
	})
	return found
}
