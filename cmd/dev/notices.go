package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// noticesFile holds the licences of the modules that the program is built from.
const noticesFile = "assets/notices/software-modules.txt"

// runNotices writes the licences of the modules and of what is in the PDF renderer.
func runNotices(ctx context.Context, r *runner, _ []string) error {
	packages, err := r.linkedPackages(ctx)
	if err != nil {
		return err
	}
	text, err := moduleNotices(packages)
	if err != nil {
		return err
	}
	parts, err := partNotices(pdfParts, debianDocs)
	if err != nil {
		return err
	}
	return errors.Join(os.WriteFile(filepath.Join(r.root, noticesFile), []byte(text), 0o644), os.WriteFile(filepath.Join(r.root, partsFile), []byte(parts), 0o644))
}

// linkedPackage is a package that the program is built from on one system, as go list
// prints it.
type linkedPackage struct {
	Dir    string
	Module *struct {
		Path, Version, Dir string
		Main               bool
	}
	GoFiles, CgoFiles, CFiles, HFiles, EmbedFiles []string
}

// compiled are the files of the package that are compiled.
func (p linkedPackage) compiled() []string {
	return slices.Concat(p.GoFiles, p.CgoFiles, p.CFiles, p.HFiles)
}

// linkedPackages lists the packages that the program is built from, on each of its systems.
func (r *runner) linkedPackages(ctx context.Context) (list []linkedPackage, err error) {
	for _, system := range []string{"linux", "windows", "darwin"} {
		of := *r
		of.env = append(slices.Clone(r.env), "CGO_ENABLED=1", "GOOS="+system)
		text, err := of.capture(ctx, "go", "list", "-deps", "-tags", buildTag,
			"-json=Dir,Module,GoFiles,CgoFiles,CFiles,HFiles,EmbedFiles", "./cmd/legwright")
		if err != nil {
			return nil, err
		}
		for dec := json.NewDecoder(strings.NewReader(text)); ; {
			var p linkedPackage
			if err := dec.Decode(&p); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				return nil, err
			}
			list = append(list, p)
		}
	}
	return list, nil
}

// licence is a text, and who grants it: each module and file that holds the text, with the
// lines of copyright in it.
type licence struct {
	text   string
	grants []string
}

// licences holds each text once, by its words.
type licences map[string]*licence

// moduleNotices gathers the licences in the modules of the packages: their licence files,
// and the licences that stand in a compiled file itself.
func moduleNotices(packages []linkedPackage) (string, error) {
	names, compiled := map[string]string{}, map[string][]string{}
	for _, p := range packages {
		if p.Module != nil && !p.Module.Main {
			names[p.Module.Dir] = p.Module.Path + " " + p.Module.Version
			compiled[p.Dir] = append(compiled[p.Dir], p.compiled()...)
		}
	}
	all := licences{}
	for _, dir := range slices.Sorted(maps.Keys(names)) {
		files, err := licenceFiles(dir, compiled)
		if err != nil {
			return "", err
		}
		if len(files) == 0 {
			return "", fmt.Errorf("%s has no licence file", names[dir])
		}
		for _, file := range files {
			raw, err := os.ReadFile(file)
			if err != nil {
				return "", err
			}
			all.add(names[dir]+", "+relative(dir, file), string(raw))
		}
	}
	for _, dir := range slices.Sorted(maps.Keys(compiled)) {
		for _, file := range slices.Compact(slices.Sorted(slices.Values(compiled[dir]))) {
			if err := all.addComments(names, filepath.Join(dir, file)); err != nil {
				return "", err
			}
		}
	}
	return all.String(), nil
}

func relative(dir, file string) string {
	name, err := filepath.Rel(dir, file)
	if err != nil {
		return file
	}
	return filepath.ToSlash(name)
}

var licenceName = regexp.MustCompile(`(?i)licen[cs]e|^copying|^notice|^patents|^ofl`)

// licenceFiles finds the licence files of a module, without those of folders that are not
// compiled: tests, tools and packages that the program does not use. A folder without Go
// code belongs to the one above it.
func licenceFiles(module string, compiled map[string][]string) (list []string, err error) {
	err = filepath.WalkDir(module, func(path string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case e.IsDir():
			if name := e.Name(); name == "testdata" || strings.HasPrefix(name, ".") {
				return fs.SkipDir
			}
			return nil
		}
		if !licenceName.MatchString(e.Name()) || filepath.Ext(path) == ".go" {
			return nil
		}
		dir := filepath.Dir(path)
		goFiles, err := filepath.Glob(filepath.Join(dir, "*.go"))
		if dir == module || len(goFiles) == 0 || compiled[dir] != nil {
			list = append(list, path)
		}
		return err
	})
	return list, err
}

var (
	comment   = regexp.MustCompile(`(?s:/\*.*?\*/)|(?m:^[ \t]*//.*\n)+`)
	decorated = regexp.MustCompile(`(?m)^[ \t]*(//|/?\*+/?)[ \t]?|\*/`)
	permits   = regexp.MustCompile(`(?is)copyright.*(hereby granted|redistributions? (and|of)|freely granted|permission to use|be distributed|licensed under)`)
)

// addComments adds the comments of a source file that are the text of a licence.
func (l licences) addComments(names map[string]string, file string) error {
	raw, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	for _, c := range comment.FindAllString(string(raw), -1) {
		if !permits.MatchString(c) {
			continue
		}
		for dir, name := range names {
			if strings.HasPrefix(file, dir+string(filepath.Separator)) {
				l.add(name+", in its code", decorated.ReplaceAllString(c, ""))
			}
		}
	}
	return nil
}

var (
	holder = regexp.MustCompile(`(?i)^\W*(portions )?(copyright\b.*\d{4}|copyright (\(c\)|©)|all rights reserved\.?$)`)
	title  = regexp.MustCompile(`(?i)^\W*(the )?((new |modified )?bsd|bsd [23]-clause|mit|isc)?[ -]*licen[cs]e( \(mit\))?\W*$`)
	word   = regexp.MustCompile(`[a-z0-9]+`)
)

// add takes in the text of a licence from where it stands. The title and the lines of
// copyright above it are taken apart, so that modules with the same licence share its text;
// so is the line of copyright that some fill in where Apache's licence shows how to.
func (l licences) add(where, text string) {
	grant, body, above, example := where, []string(nil), true, false
	for _, line := range strings.Split(strings.ReplaceAll(text, "\r\n", "\n"), "\n") {
		line = strings.TrimRight(line, " \t\f")
		switch {
		case (above || example) && holder.MatchString(line):
			grant += "\n  " + strings.TrimSpace(line)
		case above && title.MatchString(line), line == "" && (len(body) == 0 || body[len(body)-1] == ""):
		default:
			body = append(body, line)
			above, example = above && line == "", example || strings.Contains(line, "How to apply the Apache License")
		}
	}
	text = strings.TrimSpace(strings.Join(body, "\n"))
	key := strings.Join(word.FindAllString(strings.ToLower(text), -1), " ")
	if l[key] == nil {
		l[key] = &licence{text: text}
	}
	if !slices.Contains(l[key].grants, grant) {
		l[key].grants = append(l[key].grants, grant)
	}
}

const noticesHead = `The program is built from these modules. Each licence is given below the modules that
carry it, with their copyright lines. Go itself and its standard library are under the
same licence as golang.org/x/text:
`

// String writes each text once, the one with most grants first.
func (l licences) String() string {
	list := slices.SortedFunc(maps.Values(l), func(a, b *licence) int {
		if d := len(b.grants) - len(a.grants); d != 0 {
			return d
		}
		return strings.Compare(a.grants[0], b.grants[0])
	})
	var out strings.Builder
	out.WriteString(noticesHead)
	for _, one := range list {
		fmt.Fprintf(&out, "\n%[1]s\n%[2]s\n%[1]s\n\n%[3]s\n", strings.Repeat("-", 59), strings.Join(one.grants, "\n"), one.text)
	}
	return out.String()
}
