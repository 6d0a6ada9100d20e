package main

import (
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestNoticesOfModules: whoever gets the program gets the licence of each module in it,
// word for word, and of none that was removed. And each font in it has a notice.
func TestNoticesOfModules(t *testing.T) {
	if testing.Short() {
		t.Skip("the whole run does it")
	}
	t.Parallel()
	r := newRunner(io.Discard, os.Stderr)
	packages, err := r.linkedPackages(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	want, err := moduleNotices(packages)
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile(filepath.Join(r.root, noticesFile))
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != want {
		t.Errorf("%s is not what the modules' files say; run: go run ./cmd/dev notices", noticesFile)
	}
	var pdfium, renderer string
	fonts := map[string]bool{}
	for _, p := range packages {
		if p.Module == nil {
			continue
		}
		if p.Module.Path == "github.com/klippa-app/go-pdfium" {
			pdfium = strings.TrimPrefix(p.Module.Version, "v")
			renderer = filepath.Join(p.Module.Dir, "internal", "pdfium_wasm", "pdfium.wasm")
		}
		for _, f := range p.EmbedFiles {
			if ext := filepath.Ext(f); p.Module.Main && (ext == ".ttf" || ext == ".otf") {
				fonts[strings.TrimSuffix(filepath.Base(f), ext)] = true
			}
		}
	}
	if len(fonts) == 0 {
		t.Error("no font of the program was found")
	}
	ours := written(t, filepath.Join(r.root, "assets", "notices", "font-*.txt"))
	for f := range fonts {
		family, style, _ := strings.Cut(f, "-")
		if !strings.Contains(ours, family) || !strings.Contains(ours, style) {
			t.Errorf("the font %s is in the program, and no notice names it", f)
		}
	}
	if text := written(t, filepath.Join(r.root, "assets", "notices", "software-pdf.txt")); !strings.Contains(text, "go-pdfium "+pdfium) {
		t.Errorf("the PDF renderer is that of go-pdfium %s; look which parts it has, and say so in its notice", pdfium)
	}
	partsStand(t, r.root, renderer)
}

// partsStand checks that the PDF renderer has each part whose licence is given, and that
// the licences are those that Debian 12 carries, where this is Debian 12.
func partsStand(t *testing.T, root, renderer string) {
	t.Helper()
	wasm, err := os.ReadFile(renderer)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range pdfParts {
		if !strings.Contains(string(wasm), p.trace) {
			t.Errorf("the PDF renderer does not hold %q, by which %s was known", p.trace, p.name)
		}
	}
	if v, _ := os.ReadFile("/etc/debian_version"); !strings.HasPrefix(string(v), "12.") {
		return
	}
	want, err := partNotices(pdfParts, debianDocs)
	if err != nil {
		t.Fatal(err)
	}
	if got, err := os.ReadFile(filepath.Join(root, partsFile)); err != nil || string(got) != want {
		t.Errorf("%s is not what Debian's copyright files say (%v); run: go run ./cmd/dev notices", partsFile, err)
	}
}

// TestDebianLicence: a licence named for some files and given once for all is found, and
// one that is named alone is not.
func TestDebianLicence(t *testing.T) {
	t.Parallel()
	const file = "Files: *\nLicense: One\n\nFiles: a\nLicense: Two\n\nLicense: One\n You may.\n .\n  (a) Or not.\n\nLicense: Three\n Never.\n"
	for name, want := range map[string]string{"One": "You may.\n\n (a) Or not.", "Two": "", "Three": "Never.", "Four": ""} {
		if got := debianLicence(file, name); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}

// written joins the texts of files.
func written(t *testing.T, pattern string) string {
	t.Helper()
	files, err := filepath.Glob(pattern)
	if err != nil || len(files) == 0 {
		t.Fatalf("%s: %d files, %v", pattern, len(files), err)
	}
	var all strings.Builder
	for _, f := range files {
		raw, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		all.Write(raw)
	}
	return all.String()
}

// TestNoticesCarryEachText: the text of a licence is found in a file of its own and in a
// comment of the code, and stands once for two modules whose lines of copyright differ.
func TestNoticesCarryEachText(t *testing.T) {
	t.Parallel()
	l := licences{}
	const terms = "Permission is hereby granted to use it."
	l.add("one v1, LICENSE", "MIT License\n\nCopyright (c) 2012 Some Body\n\n"+terms+"\n")
	l.add("two v2, COPYING", "Copyright © 2020 Any Body\nAll rights reserved.\n\nPermission is hereby granted\nto use it.\n")
	l.add("three v3, LICENSE", "Copyright 1999 Every Body\n\nPermission is hereby granted to sell it.\n")
	file := filepath.Join(t.TempDir(), "four.go")
	code := "// Copyright 2001 No Body\n\n/*\n * Copyright (c) 2000 Old Body\n *\n * " + terms + "\n */\npackage four\n"
	if err := os.WriteFile(file, []byte(code), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := l.addComments(map[string]string{filepath.Dir(file): "four v4"}, file); err != nil {
		t.Fatal(err)
	}
	line := "\n" + strings.Repeat("-", 59) + "\n"
	want := noticesHead + line + "one v1, LICENSE\n  Copyright (c) 2012 Some Body\n" +
		"two v2, COPYING\n  Copyright © 2020 Any Body\n  All rights reserved.\n" +
		"four v4, in its code\n  Copyright (c) 2000 Old Body" + line + "\n" + terms + "\n" +
		line + "three v3, LICENSE\n  Copyright 1999 Every Body" + line + "\nPermission is hereby granted to sell it.\n"
	if got := l.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}
