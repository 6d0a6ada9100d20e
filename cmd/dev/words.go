package main

import (
	"context"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"unicode"
)

// A personText is a text that a person can meet, and where it is written.
type personText struct {
	file string // from the module's root
	line int
	kind string // "text", "key", "readme" or "notice"
	text string // a part that is filled in while the program runs is …
}

// runWords lists every text that a person can meet: in the window, in messages and
// help, as keys of JSON and plan files, flags and settings, in GPX, README and
// notices. It reads the syntax trees of what the program is built from, so that no
// text can be left out of a list kept by hand.
func runWords(ctx context.Context, r *runner, args []string) error {
	set := flag.NewFlagSet("words", flag.ContinueOnError)
	set.SetOutput(r.errw)
	n := set.Int("n", 0, "draw this many at random; 0 lists all")
	seed := set.Uint64("seed", 1, "what the draw begins from")
	if err := set.Parse(args); err != nil {
		return err
	}
	dirs, err := shippedRooms(ctx, r.root)
	if err != nil {
		return err
	}
	list, err := allTexts(r.root, dirs)
	if err != nil {
		return err
	}
	total := len(list)
	if *n > 0 {
		list = drawn(list, *n, *seed)
	}
	for _, s := range list {
		fmt.Fprintf(r.out, "%s:%d: %s: %s\n", s.file, s.line, s.kind, s.text)
	}
	fmt.Fprintf(r.errw, "%d of %d\n", len(list), total)
	return nil
}

// shippedRooms returns the folders of the packages of this module that the program
// is built from, from the root.
func shippedRooms(ctx context.Context, root string) ([]string, error) {
	cmd := exec.CommandContext(ctx, "go", "list", "-deps", "-tags", buildTag, "-f", "{{.ImportPath}}", "./cmd/legwright")
	cmd.Dir = root
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("the packages of the program cannot be listed: %w", err)
	}
	var dirs []string
	for _, line := range strings.Fields(string(out)) {
		if dir, ours := strings.CutPrefix(line, "legwright/"); ours {
			dirs = append(dirs, dir)
		}
	}
	return dirs, nil
}

// allTexts reads folders of Go code, README.md, changes and notices, and returns each text
// once, in the order of the files.
func allTexts(root string, dirs []string) ([]personText, error) {
	var list []personText
	for _, dir := range dirs {
		files, err := filepath.Glob(filepath.Join(root, dir, "*.go"))
		if err != nil {
			return nil, err
		}
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			found, err := textsInCode(root, file)
			if err != nil {
				return nil, err
			}
			list = append(list, found...)
		}
	}
	prose, err := textsInProse(root)
	if err != nil {
		return nil, err
	}
	list = append(list, prose...)
	slices.SortStableFunc(list, func(a, b personText) int { return strings.Compare(a.file, b.file) })
	seen := map[string]bool{}
	return slices.DeleteFunc(list, func(s personText) bool {
		again := seen[s.kind+s.text]
		seen[s.kind+s.text] = true
		return again
	}), nil
}

// drawn returns n texts at random, in the order of the list. The same seed draws the
// same texts from the same list.
func drawn(list []personText, n int, seed uint64) []personText {
	order := rand.New(rand.NewPCG(seed, 0)).Perm(len(list))
	order = order[:min(n, len(order))]
	slices.Sort(order)
	out := make([]personText, len(order))
	for i, at := range order {
		out[i] = list[at]
	}
	return out
}

// textsInCode reads one file of Go code.
func textsInCode(root, file string) ([]personText, error) {
	set := token.NewFileSet()
	tree, err := parser.ParseFile(set, file, nil, 0)
	if err != nil {
		return nil, err
	}
	name, err := filepath.Rel(root, file)
	if err != nil {
		return nil, err
	}
	c := codeReader{add: func(at token.Pos, kind, text string) personText {
		return personText{filepath.ToSlash(name), set.Position(at).Line, kind, text}
	}}
	ast.Inspect(tree, c.visit)
	return c.found, nil
}

// textsInProse reads README.md and the list of changes by their blocks, and of each notice
// what is written here before the text of a licence begins.
func textsInProse(root string) (list []personText, err error) {
	for _, file := range []string{"README.md", "assets/notices/changes.md"} {
		found, err := blocks(root, file, "readme")
		if err != nil {
			return nil, err
		}
		list = append(list, found...)
	}
	notices, err := fs.Glob(os.DirFS(root), "assets/notices/*.txt")
	if err != nil {
		return nil, err
	}
	for _, file := range notices {
		found, err := blocks(root, file, "notice")
		if err != nil {
			return nil, err
		}
		for _, s := range found {
			list = append(list, s)
			if strings.HasSuffix(s.text, ":") || strings.HasPrefix(s.text, "---") {
				break
			}
		}
	}
	return list, nil
}

// blocks returns the paragraphs, list items, table rows and headings of a file of
// prose; a block of code is left out.
func blocks(root, file, kind string) ([]personText, error) {
	raw, err := os.ReadFile(filepath.Join(root, file))
	if err != nil {
		return nil, err
	}
	var list []personText
	var now []string
	begun, code := 0, false
	end := func() {
		if text := strings.Join(now, " "); strings.ContainsFunc(text, unicode.IsLetter) {
			list = append(list, personText{file, begun, kind, text})
		}
		now = nil
	}
	for i, line := range strings.Split(string(raw), "\n") {
		line = strings.TrimSpace(line)
		if strings.HasPrefix(line, "```") {
			code = !code
			line = ""
		}
		begins := strings.HasPrefix(line, "- ") || strings.HasPrefix(line, "|") || strings.HasPrefix(line, "#")
		if line == "" || begins {
			end()
		}
		if line != "" && !code {
			if len(now) == 0 {
				begun = i + 1
			}
			now = append(now, line)
		}
	}
	end()
	return list, nil
}
