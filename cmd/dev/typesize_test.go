package main

import (
	"cmp"
	"fmt"
	"go/ast"
	"go/build"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// The bounds of a type of the window. The bench joins all rooms and so has more
// methods than they.
const (
	mostMethods      = 30
	mostBenchMethods = 60
	mostFields       = 15
)

// A typeSize says how many methods and fields one type has, with those of the types
// of its package that it embeds or holds by value.
type typeSize struct {
	name            string
	methods, fields int
}

// tooBig says whether a type exceeds its bounds.
func (s typeSize) tooBig() bool {
	most := mostMethods
	if s.name == "app/ui.Bench" {
		most = mostBenchMethods
	}
	return s.methods > most || s.fields > mostFields
}

// A room is what one package declares: its struct types, and the methods of every
// type, each by the type's name.
type room struct {
	structs map[string]*ast.StructType
	methods map[string][]string
}

// declared reads the package in a folder, without its tests and without files for
// other systems. A function that takes a *Bench counts as a method of Bench.
func declared(folder string) (room, error) {
	r := room{map[string]*ast.StructType{}, map[string][]string{}}
	entries, err := os.ReadDir(folder)
	if err != nil {
		return r, err
	}
	context := build.Default
	context.BuildTags = strings.Split(buildTag, ",")
	for _, e := range entries {
		if e.IsDir() || !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") {
			continue
		}
		if match, err := context.MatchFile(folder, e.Name()); err != nil || !match {
			if err != nil {
				return r, err
			}
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), filepath.Join(folder, e.Name()), nil, parser.SkipObjectResolution)
		if err != nil {
			return r, err
		}
		r.add(file)
	}
	return r, nil
}

func (r room) add(file *ast.File) {
	for _, d := range file.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if owner := ownerOf(d); owner != "" {
				r.methods[owner] = append(r.methods[owner], d.Name.Name)
			}
		case *ast.GenDecl:
			for _, s := range d.Specs {
				if t, ok := s.(*ast.TypeSpec); ok {
					if st, ok := t.Type.(*ast.StructType); ok {
						r.structs[t.Name.Name] = st
					}
				}
			}
		}
	}
}

// ownerOf names the type that a function belongs to, or nothing.
func ownerOf(f *ast.FuncDecl) string {
	if f.Recv != nil {
		name, _ := typeName(f.Recv.List[0].Type)
		return name
	}
	for _, in := range f.Type.Params.List {
		if name, pointer := typeName(in.Type); pointer && name == "Bench" {
			return name
		}
	}
	return ""
}

// typeName names a type of the package itself, and says whether a pointer leads to it.
func typeName(e ast.Expr) (name string, pointer bool) {
	switch e := e.(type) {
	case *ast.StarExpr:
		name, _ = typeName(e.X)
		return name, true
	case *ast.IndexExpr:
		return typeName(e.X)
	case *ast.IndexListExpr:
		return typeName(e.X)
	case *ast.Ident:
		return e.Name, false
	}
	return "", false
}

// size counts the methods and fields of a type.
func (r room) size(name string) (methods, fields int) {
	methods = len(r.methods[name])
	if st := r.structs[name]; st != nil {
		m, f := r.inside(st, map[string]bool{name: true})
		methods, fields = methods+m, f
	}
	return methods, fields
}

// inside counts the fields of a struct. A struct of the package that it embeds, or
// holds by value, is a part of it, and counts with its own fields and methods instead
// of as one field: taking fields apart into nested structs makes no type smaller.
func (r room) inside(st *ast.StructType, seen map[string]bool) (methods, fields int) {
	for _, field := range st.Fields.List {
		n := max(1, len(field.Names))
		m, f := 0, 1
		name, pointer := typeName(field.Type)
		if nested, ok := field.Type.(*ast.StructType); ok {
			m, f = r.inside(nested, seen)
		} else if part := r.structs[name]; part != nil && (!pointer || len(field.Names) == 0) && !seen[name] {
			inner := maps.Clone(seen)
			inner[name] = true
			m, f = r.inside(part, inner)
			m += len(r.methods[name])
		}
		methods, fields = methods+m, fields+n*f
	}
	return methods, fields
}

// typeSizes counts every type of the packages at and below a folder, the biggest first.
func typeSizes(root, below string) ([]typeSize, error) {
	var out []typeSize
	err := filepath.WalkDir(filepath.Join(root, below), func(path string, e fs.DirEntry, err error) error {
		if err != nil || !e.IsDir() {
			return err
		}
		if e.Name() == "testdata" {
			return fs.SkipDir
		}
		r, err := declared(path)
		if err != nil {
			return err
		}
		name, err := filepath.Rel(root, path)
		for _, t := range slices.Sorted(maps.Keys(r.structs)) {
			m, f := r.size(t)
			out = append(out, typeSize{filepath.ToSlash(name) + "." + t, m, f})
		}
		return err
	})
	slices.SortStableFunc(out, func(a, b typeSize) int { return cmp.Compare(b.methods+b.fields, a.methods+a.fields) })
	return out, err
}

// stillTooBig are the types that exceed the bounds today. A type that fits leaves
// this list.
func stillTooBig() []string {
	return nil
}

// TestTypesOfTheWindowStaySmall checks the types of the window against their bounds
// and, run with -v, lists the biggest.
func TestTypesOfTheWindowStaySmall(t *testing.T) {
	t.Parallel()
	sizes, err := typeSizes(moduleRoot(), "app/ui")
	if err != nil || len(sizes) < 20 {
		t.Fatalf("%d types were read, %v", len(sizes), err)
	}
	var list strings.Builder
	for _, s := range sizes[:15] {
		fmt.Fprintf(&list, "\n%4d methods %3d fields  %s", s.methods, s.fields, s.name)
	}
	t.Logf("the biggest types of the window:%s", list.String())
	for _, s := range sizes {
		if known := slices.Contains(stillTooBig(), s.name); s.tooBig() && !known {
			t.Errorf("%s has %d methods and %d fields: make two types of it", s.name, s.methods, s.fields)
		} else if known && !s.tooBig() {
			t.Errorf("%s fits: strike it from the list of those that do not", s.name)
		}
	}
	for _, name := range stillTooBig() {
		if !slices.ContainsFunc(sizes, func(s typeSize) bool { return s.name == name }) {
			t.Errorf("%s is no type: strike it from the list", name)
		}
	}
}

// TestTypeSizes counts types written for it.
func TestTypeSizes(t *testing.T) {
	t.Parallel()
	root := t.TempDir()
	for name, code := range map[string]string{
		"a.go": `package a
type Bench struct { x, y int; *part; inner struct{ u int; v held }; away *held; list []held }
type part struct { p, q int }
type held struct { h int; up *Bench }
type box[T any] struct { one T; *box[T] }
type number int
func (b *Bench) one() {}
func (p part) two() {}
func (h *held) three() {}
func (b *box[T]) four() {}
func (n number) five() {}
func helper(b *Bench, n int) {}
func value(b Bench) {}
func second(n int, b *Bench) {}`,
		"a_plan9.go": "package a\nfunc (b *Bench) six() {}",
		"a_test.go":  "package a\nfunc (b *Bench) seven() {}",
	} {
		if err := os.WriteFile(filepath.Join(root, name), []byte(code), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	got, err := typeSizes(root, ".")
	want := []typeSize{
		{"..Bench", 5, 9}, // one, helper, second, two of part, three of held; x y, p q, u, h up, away, list
		{"..box", 1, 2},
		{"..held", 1, 2},
		{"..part", 1, 2},
	}
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("got %v, %v, want %v", got, err, want)
	}
	for _, c := range []struct {
		size typeSize
		want bool
	}{
		{typeSize{"app/ui/foot.Line", 30, 15}, false},
		{typeSize{"app/ui/foot.Line", 31, 15}, true},
		{typeSize{"app/ui/foot.Line", 30, 16}, true},
		{typeSize{"app/ui.Bench", 60, 15}, false},
		{typeSize{"app/ui.Bench", 61, 15}, true},
	} {
		if got := c.size.tooBig(); got != c.want {
			t.Errorf("%v: too big %v, want %v", c.size, got, c.want)
		}
	}
}
