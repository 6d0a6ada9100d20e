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

// testRooms are the packages with tests, by how they run. The race detector runs those
// whose own code starts goroutines: only there can it find anything. A folder of tests
// alone has no code of its own, and is raced where a room that it imports starts
// goroutines. All others run without it, and once more so do those whose tests are shorter under it
// (testing.Short). So every test runs whole, and none twice for nothing.
type testRooms struct{ raced, plain []string }

// roomFiles is what the files of one package say.
type roomFiles struct {
	tests, code       bool // which kinds of files there are
	goroutines, short bool
	drives            []string // the rooms that the tests import
}

// module begins the import path of every room.
const module = "legwright/"

// roomsBelow reads the packages below root.
func roomsBelow(root string) (out testRooms, err error) {
	rooms := map[string]*roomFiles{}
	err = filepath.WalkDir(root, func(path string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case e.IsDir() && path != root && (strings.HasPrefix(e.Name(), ".") || e.Name() == "testdata"):
			return filepath.SkipDir
		case e.IsDir() || !strings.HasSuffix(path, ".go"):
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		name, err := filepath.Rel(root, filepath.Dir(path))
		name = "./" + filepath.ToSlash(name)
		if rooms[name] == nil {
			rooms[name] = new(roomFiles)
		}
		rooms[name].read(file, strings.HasSuffix(path, "_test.go"))
		return err
	})
	starts := func(name string) bool { return rooms[name] != nil && rooms[name].goroutines }
	for name, r := range rooms {
		raced := starts(name) || !r.code && slices.ContainsFunc(r.drives, starts)
		if r.tests && raced {
			out.raced = append(out.raced, name)
		}
		if r.tests && (!raced || r.short) {
			out.plain = append(out.plain, name)
		}
	}
	slices.Sort(out.raced)
	slices.Sort(out.plain)
	return out, err
}

// read takes in one file.
func (r *roomFiles) read(file *ast.File, isTest bool) {
	if isTest {
		r.tests, r.short = true, r.short || asksForShort(file)
		for _, i := range file.Imports {
			if room, ours := strings.CutPrefix(strings.Trim(i.Path.Value, `"`), module); ours {
				r.drives = append(r.drives, "./"+room)
			}
		}
		return
	}
	r.code = true
	r.goroutines = r.goroutines || startsGoroutine(file)
}

// startsGoroutine finds go statements, Go methods such as those of wait groups, and
// AfterFunc calls.
func startsGoroutine(file *ast.File) bool {
	return holds(file, func(n ast.Node) bool {
		_, is := n.(*ast.GoStmt)
		s, ok := n.(*ast.SelectorExpr)
		return is || ok && (s.Sel.Name == "Go" || s.Sel.Name == "AfterFunc")
	})
}

// asksForShort finds testing.Short.
func asksForShort(file *ast.File) bool {
	return holds(file, func(n ast.Node) bool {
		s, ok := n.(*ast.SelectorExpr)
		if !ok || s.Sel.Name != "Short" {
			return false
		}
		of, ok := s.X.(*ast.Ident)
		return ok && of.Name == "testing"
	})
}

func holds(file *ast.File, is func(ast.Node) bool) (found bool) {
	ast.Inspect(file, func(n ast.Node) bool {
		found = found || n != nil && is(n)
		return !found
	})
	return found
}
