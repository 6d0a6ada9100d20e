package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// The database of known vulnerabilities of Go modules: a module of its own, of which
// nothing is compiled, so that go.mod cannot name it.
const (
	vulnModule = "golang.org/x/vulndb@v0.0.0-20261105234957-e22db6528018"
	vulnSum    = "h1:mfngRv0Yoh0VApsXKEN82CjD99kl7mtparN3bs3JnqI="
)

// harmless lists the vulnerabilities that are found and why they do not matter here. Each
// reason holds only as long as nothing in the program's own code looks like unless. With
// the Go that go.mod names there is none.
func harmless() []exemption { return nil }

type exemption struct {
	ids         []string
	module, why string
	unless      *regexp.Regexp
}

// checkVulnerabilities compares the program and all it is built from with the database of
// known vulnerabilities, by the calls that lead to them.
func (r *runner) checkVulnerabilities(ctx context.Context) error {
	dir, err := os.MkdirTemp("", "legwright-vulns")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	if err := r.vulnDatabase(ctx, dir); err != nil {
		return err
	}
	text, err := r.capture(ctx, "go", "tool", "govulncheck", "-db", "file://"+filepath.ToSlash(dir), "-tags", buildTag, "-format", "json", "./cmd/legwright")
	if err != nil {
		return err
	}
	found, err := readFindings(text)
	if err != nil {
		return err
	}
	code, err := r.ownCode(ctx)
	if err != nil {
		return err
	}
	return judgeFindings(r.out, found, harmless(), code)
}

// vulnDatabase lays the database out as govulncheck reads it: the entries by their
// number, and an index by module.
func (r *runner) vulnDatabase(ctx context.Context, dir string) error {
	text, err := r.capture(ctx, "go", "mod", "download", "-json", vulnModule)
	if err != nil {
		return err
	}
	var module struct{ Dir, Sum string }
	if err := json.Unmarshal([]byte(text), &module); err != nil {
		return err
	}
	if module.Sum != vulnSum {
		return fmt.Errorf("%s has the sum %s, want %s", vulnModule, module.Sum, vulnSum)
	}
	entries := filepath.Join(module.Dir, "data", "osv")
	index, err := vulnIndex(entries)
	if err != nil {
		return err
	}
	for name, what := range map[string]any{"modules.json": index, "db.json": struct{}{}} {
		raw, err := json.Marshal(what)
		if err == nil {
			err = errors.Join(os.MkdirAll(filepath.Join(dir, "index"), 0o755), os.WriteFile(filepath.Join(dir, "index", name), raw, 0o600))
		}
		if err != nil {
			return err
		}
	}
	return os.Symlink(entries, filepath.Join(dir, "ID"))
}

// vulnerable is a module with its entries, as the database's index has it.
type vulnerable struct {
	Path  string      `json:"path"`
	Vulns []vulnEntry `json:"vulns"`
}

type vulnEntry struct {
	ID       string `json:"id"`
	Modified string `json:"modified"`
}

func vulnIndex(entries string) (index []*vulnerable, err error) {
	files, err := filepath.Glob(filepath.Join(entries, "*.json"))
	if len(files) == 0 {
		return nil, errors.Join(err, fmt.Errorf("%s has no entries", entries))
	}
	at := map[string]*vulnerable{}
	for _, file := range files {
		raw, err := os.ReadFile(file)
		if err != nil {
			return nil, err
		}
		var entry struct {
			vulnEntry
			Affected []struct{ Package struct{ Name string } }
		}
		if err := json.Unmarshal(raw, &entry); err != nil {
			return nil, fmt.Errorf("%s: %w", file, err)
		}
		for _, a := range entry.Affected {
			m := at[a.Package.Name]
			if m == nil {
				m = &vulnerable{Path: a.Package.Name}
				at[m.Path], index = m, append(index, m)
			}
			if !slices.Contains(m.Vulns, entry.vulnEntry) {
				m.Vulns = append(m.Vulns, entry.vulnEntry)
			}
		}
	}
	return index, nil
}

// finding is a vulnerability in what the program is built from, and how the program
// reaches it, from the place up to main, if it does.
type finding struct {
	ID, Module string
	fixed      string
	path       []string
}

// readFindings reads what govulncheck prints: of each vulnerability the shortest path.
func readFindings(text string) (map[string]finding, error) {
	found, scanned := map[string]finding{}, false
	for dec := json.NewDecoder(strings.NewReader(text)); ; {
		var message struct {
			SBOM    *struct{}
			Finding *struct {
				OSV   string
				Fixed string `json:"fixed_version"`
				Trace []struct{ Module, Package, Receiver, Function string }
			}
		}
		if err := dec.Decode(&message); errors.Is(err, io.EOF) {
			if !scanned {
				return nil, errors.New("govulncheck does not say what it looked at")
			}
			return found, nil
		} else if err != nil {
			return nil, err
		}
		scanned = scanned || message.SBOM != nil
		m := message.Finding
		if m == nil {
			continue
		}
		f := finding{ID: m.OSV, Module: m.Trace[0].Module, fixed: m.Fixed}
		if m.Trace[0].Function != "" {
			for _, t := range m.Trace {
				f.path = append(f.path, strings.TrimPrefix(t.Package+"."+t.Receiver+"."+t.Function, "."))
			}
		}
		if old, ok := found[f.ID]; !ok || old.path == nil || f.path != nil && len(f.path) < len(old.path) {
			found[f.ID] = f
		}
	}
}

// ownCode returns the files of this module that the program is built from, by name.
func (r *runner) ownCode(ctx context.Context) (map[string]string, error) {
	packages, err := r.linkedPackages(ctx)
	if err != nil {
		return nil, err
	}
	code := map[string]string{}
	for _, p := range packages {
		if p.Module == nil || !p.Module.Main {
			continue
		}
		for _, f := range p.compiled() {
			file := filepath.Join(p.Dir, f)
			raw, err := os.ReadFile(file)
			if err != nil {
				return nil, err
			}
			code[relative(r.root, file)] = string(raw)
		}
	}
	return code, nil
}

// judgeFindings lists the vulnerabilities that do not matter, with the reason. It fails for
// one without a reason, for one whose reason the program's code contradicts, and for a
// reason without its vulnerability.
func judgeFindings(out io.Writer, found map[string]finding, list []exemption, code map[string]string) error {
	var failed []error
	why := map[string]exemption{}
	for _, e := range list {
		for _, id := range e.ids {
			why[id] = e
			if f, ok := found[id]; !ok || f.Module != e.module {
				failed = append(failed, fmt.Errorf("%s is not found in %s any more; delete it from the list", id, e.module))
			}
		}
		for _, file := range slices.Sorted(maps.Keys(code)) {
			if m := e.unless.FindString(code[file]); m != "" {
				failed = append(failed, fmt.Errorf("%s has %s, so that this may not hold for %s: %s", file, m, strings.Join(e.ids, ", "), e.why))
			}
		}
	}
	for _, id := range slices.Sorted(maps.Keys(found)) {
		f, way := found[id], "no call leads there"
		if f.path != nil {
			way = "calls may lead there (" + strings.Join(f.path, " ← ") + ")"
		}
		about := fmt.Sprintf("%s in %s, mended in %s, %s", id, f.Module, f.fixed, way)
		if e, ok := why[id]; ok && e.module == f.Module {
			fmt.Fprintf(out, "%s: %s\n", about, e.why)
		} else {
			failed = append(failed, errors.New(about))
		}
	}
	return errors.Join(failed...)
}
