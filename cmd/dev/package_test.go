package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// packerForTests stages into a folder of the test, as of a day.
func packerForTests(t *testing.T) (*packer, string) {
	t.Helper()
	return &packer{runner: &runner{root: moduleRoot()}, version: "1.2.3", at: time.Date(2026, 11, 28, 9, 0, 0, 0, time.UTC)}, t.TempDir()
}

func staged(t *testing.T, dir, name string) []byte {
	t.Helper()
	content, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
	if err != nil {
		t.Fatal(err)
	}
	return content
}

// elements lists the text of every element of XML by its name. It fails where the file is
// not well formed.
func elements(t *testing.T, content []byte) map[string][]string {
	t.Helper()
	texts := map[string][]string{}
	in := xml.NewDecoder(bytes.NewReader(content))
	name := ""
	for {
		token, err := in.Token()
		if errors.Is(err, io.EOF) {
			return texts
		}
		if err != nil {
			t.Fatal(err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			name = token.Name.Local
			for _, a := range token.Attr {
				texts[name+" "+a.Name.Local] = append(texts[name+" "+a.Name.Local], a.Value)
			}
		case xml.CharData:
			texts[name] = append(texts[name], strings.TrimSpace(string(token)))
		}
	}
}

// TestDesktopFilesAgree: desktop entry, metainfo and MIME types name the same program, icon
// and types, by the keys of the Desktop Entry Specification 1.0, AppStream and
// shared-mime-info.
func TestDesktopFilesAgree(t *testing.T) {
	t.Parallel()
	pk, dir := packerForTests(t)
	if err := pk.stageDesktop(t.Context(), dir); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(string(staged(t, dir, "usr/share/applications/legwright.desktop")), "\n")
	entry := map[string]string{}
	for _, line := range lines[1:] {
		key, value, _ := strings.Cut(line, "=")
		entry[key] = value
	}
	for key, want := range map[string]string{"Type": "Application", "Name": "Legwright", "Exec": "legwright %F", "Icon": "legwright", "StartupWMClass": "Legwright"} {
		if lines[0] != "[Desktop Entry]" || entry[key] != want {
			t.Errorf("%s of the desktop entry is %q, want %q", key, entry[key], want)
		}
	}
	types := strings.Split(strings.TrimSuffix(entry["MimeType"], ";"), ";")
	info := elements(t, staged(t, dir, desktopFiles()["legwright.metainfo.xml"]))
	mime := elements(t, staged(t, dir, desktopFiles()["legwright.mime.xml"]))
	for _, c := range []struct {
		what      string
		got, want []string
	}{
		{"types of the metainfo", info["mediatype"], types},
		{"types that are declared", mime["mime-type type"], types},
		{"endings", mime["glob pattern"], []string{"*.legplan", "*.legpack"}},
		{"launchable", info["launchable"], []string{"legwright.desktop"}},
		{"version", info["release version"], []string{"1.2.3"}},
		{"day", info["release date"], []string{"2026-11-28"}},
		{"categories", info["category"], strings.Split(strings.TrimSuffix(entry["Categories"], ";"), ";")},
	} {
		got := slices.DeleteFunc(c.got, func(s string) bool { return s == "" })
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: got %q, want %q", c.what, got, c.want)
		}
	}
}

// TestTarIsTheSameEveryTime: neither the time nor the folder it is made in changes a byte.
func TestTarIsTheSameEveryTime(t *testing.T) {
	t.Parallel()
	pk, _ := packerForTests(t)
	var made [2][]byte
	for i := range made {
		dir, file := t.TempDir(), filepath.Join(t.TempDir(), "x.tar.gz")
		for _, name := range []string{"usr/share/doc/legwright/b.txt", "usr/bin/legwright"} {
			if err := stage(dir, name, []byte(name)); err != nil {
				t.Fatal(err)
			}
		}
		old := time.Now().Add(-time.Duration(i) * time.Hour)
		if err := os.Chtimes(filepath.Join(dir, "usr", "bin", "legwright"), old, old); err != nil {
			t.Fatal(err)
		}
		if err := writeTar(file, dir, "usr/", "legwright-1.2.3", pk.at); err != nil {
			t.Fatal(err)
		}
		made[i] = staged(t, filepath.Dir(file), "x.tar.gz")
	}
	if !bytes.Equal(made[0], made[1]) {
		t.Error("two archives of the same files differ")
	}
	zipped, err := gzip.NewReader(bytes.NewReader(made[0]))
	if err != nil {
		t.Fatal(err)
	}
	in := tar.NewReader(zipped)
	for _, want := range []struct {
		name string
		mode int64
	}{{"legwright-1.2.3/bin/legwright", 0o755}, {"legwright-1.2.3/share/doc/legwright/b.txt", 0o644}} {
		h, err := in.Next()
		if err != nil || h.Name != want.name || h.Mode != want.mode || !h.ModTime.Equal(pk.at) {
			t.Errorf("got %+v (%v), want %+v of %v", h, err, want, pk.at)
		}
	}
}

func TestVersionsSortByNumber(t *testing.T) {
	t.Parallel()
	got := slices.SortedFunc(slices.Values([]string{"2.34", "2.9", "2.2.5", "2.34.1"}), compareVersions)
	if want := []string{"2.2.5", "2.9", "2.34", "2.34.1"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestLibrariesOpenedLater(t *testing.T) {
	t.Parallel()
	got := openedLater([]byte("\x00libXi.so.6\x00libXi.so\x00libEGL.so.1\x00see libXi.so.6 there\x00libXrandr.so.2\x00"))
	if want := []string{"libXi.so.6", "libXrandr.so.2"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestRPMNamesLibraries(t *testing.T) {
	t.Parallel()
	got := rpmDepends(loaded{[]string{"libGL.so.1", "libc.so.6"}, "2.34"})
	if want := []string{"libGL.so.1()(64bit)", "libc.so.6(GLIBC_2.34)(64bit)"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// TestLargePackageFails: a package over the limit is an error, and the sums are written all
// the same.
func TestLargePackageFails(t *testing.T) {
	t.Parallel()
	pk, dir := packerForTests(t)
	pk.dir, pk.out = dir, io.Discard
	file := filepath.Join(dir, "large")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := pk.summary([]string{file}); err != nil {
		t.Errorf("an empty package: %v", err)
	}
	// SHA-256 of nothing, as in FIPS 180-4's published examples; from memory
	const empty = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855  large\n"
	if got := string(staged(t, dir, "SHA256SUMS")); got != empty {
		t.Errorf("sums %q, want %q", got, empty)
	}
	if err := os.Truncate(file, maxPackageBytes+1); err != nil {
		t.Fatal(err)
	}
	if pk.summary([]string{file}) == nil {
		t.Error("a package over the limit is no error")
	}
}

// TestZipIsTheSameEveryTime: as the tar.gz.
func TestZipIsTheSameEveryTime(t *testing.T) {
	t.Parallel()
	pk, dir := packerForTests(t)
	if err := stage(dir, "doc/b.txt", []byte("b")); err != nil {
		t.Fatal(err)
	}
	out := t.TempDir()
	var made [2][]byte
	for i := range made {
		old := time.Now().Add(-time.Duration(i) * time.Hour)
		if err := os.Chtimes(filepath.Join(dir, "doc", "b.txt"), old, old); err != nil {
			t.Fatal(err)
		}
		if err := writeZip(filepath.Join(out, "x.zip"), dir, "Legwright-1.2.3", pk.at); err != nil {
			t.Fatal(err)
		}
		made[i] = staged(t, out, "x.zip")
	}
	if !bytes.Equal(made[0], made[1]) {
		t.Error("two archives of the same file differ")
	}
	in, err := zip.NewReader(bytes.NewReader(made[0]), int64(len(made[0])))
	if err != nil || len(in.File) != 1 || in.File[0].Name != "Legwright-1.2.3/doc/b.txt" || !in.File[0].Modified.Equal(pk.at) {
		t.Errorf("got %+v (%v), want the one file of %v", in.File, err, pk.at)
	}
}

// TestUninstallerDeletesWhatWasInstalled: each file that the installer brings is deleted by
// its name, and its folder only if that is empty then.
func TestUninstallerDeletesWhatWasInstalled(t *testing.T) {
	t.Parallel()
	got := fileMacros([]packedFile{{name: "doc/a.txt"}, {name: "legwright.exe"}})
	const want = `!macro InstallFiles
SetOutPath "$INSTDIR\doc"
File "${SOURCE}/doc/a.txt"
SetOutPath "$INSTDIR"
File "${SOURCE}/legwright.exe"
!macroend
!macro DeleteFiles
Delete "$INSTDIR\doc\a.txt"
Delete "$INSTDIR\legwright.exe"
RMDir "$INSTDIR\doc"
!macroend
`
	if got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
	script, err := os.ReadFile(filepath.Join(moduleRoot(), "assets", "windows", "legwright.nsi"))
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(string(script), "\n") {
		if strings.Contains(line, "RMDir /r") && strings.Contains(line, "$INSTDIR") {
			t.Errorf("the script deletes a folder with whatever is in it: %s", line)
		}
	}
}
