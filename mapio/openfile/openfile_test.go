package openfile

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// made makes a folder with a file, a folder within it that has another, and links:
// inner within the folder, outer and gone out of it.
func made(t *testing.T) (dir string) {
	t.Helper()
	dir = filepath.Join(t.TempDir(), "maps")
	for name, text := range map[string]string{"maps/isle.png": "isle", "maps/more/cut.png": "cut", "secret.png": "secret"} {
		path := filepath.Join(filepath.Dir(dir), filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for name, to := range map[string]string{
		"inner.png": "more/cut.png", "outer.png": "../secret.png", "gone.png": "../none.png", "away": "..", "loose.png": "none.png",
	} {
		if err := os.Symlink(filepath.FromSlash(to), filepath.Join(dir, name)); err != nil {
			t.Skip("this system makes no symbolic links")
		}
	}
	return dir
}

func readIn(fsys fs.FS, name string) (string, error) {
	f, err := fsys.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	text, err := io.ReadAll(f)
	return string(text), err
}

func TestLinksOutOfAFolderAreNotOpened(t *testing.T) {
	t.Parallel()
	dir := made(t)
	var outside *Outside
	for _, fsys := range []fs.FS{Inside(dir), first(Picked(filepath.Join(dir, "isle.png")))} {
		for name, want := range map[string]string{"isle.png": "isle", "more/cut.png": "cut", "inner.png": "cut"} {
			if got, err := readIn(fsys, name); err != nil || got != want {
				t.Errorf("%s: %q, %v, want %q", name, got, err, want)
			}
		}
		for _, name := range []string{"outer.png", "gone.png", "away/secret.png", "away/maps/isle.png"} {
			if _, err := readIn(fsys, name); !errors.As(err, &outside) || !strings.Contains(err.Error(), filepath.Join(dir, name)) {
				t.Errorf("%s: %v, want *Outside that names the file", name, err)
			}
			if _, err := fs.Stat(fsys, name); !errors.As(err, &outside) {
				t.Errorf("%s: Stat: %v, want *Outside", name, err)
			}
		}
		for _, name := range []string{"none.png", "loose.png", "none/none.png"} {
			if _, err := readIn(fsys, name); !errors.Is(err, fs.ErrNotExist) || !strings.Contains(err.Error(), filepath.Join(dir, name)) {
				t.Errorf("%s: %v, want fs.ErrNotExist and the file's whole name", name, err)
			}
		}
		for _, name := range []string{"../secret.png", filepath.Join(dir, "isle.png"), ""} {
			if _, err := readIn(fsys, name); err == nil {
				t.Errorf("%q was opened", name)
			}
		}
		list, err := fs.ReadDir(fsys, ".")
		if err != nil || len(list) != 7 {
			t.Errorf("%d entries, %v, want 7", len(list), err)
		}
	}
}

func first(fsys fs.FS, _ string) fs.FS { return fsys }

// A file that a person has named opens through any link: many keep their maps
// elsewhere.
func TestAPickedLinkIsFollowed(t *testing.T) {
	t.Parallel()
	fsys, name := Picked(filepath.Join(made(t), "outer.png"))
	if got, err := readIn(fsys, name); err != nil || got != "secret" {
		t.Errorf("%q, %v, want the file behind the link", got, err)
	}
	if _, err := readIn(fsys, "gone.png"); err == nil {
		t.Error("another link out of the folder was followed")
	}
}

func TestWhatIsNoFileIsRefused(t *testing.T) {
	t.Parallel()
	dir := made(t)
	kinds := map[string]string{"more": "a folder"}
	if makePipe(filepath.Join(dir, "pipe")) == nil {
		kinds["pipe"] = "a named pipe"
	}
	for name, kind := range kinds {
		path := filepath.Join(dir, name)
		_, byName := Open(path)
		_, inside := Inside(dir).Open(name)
		fsys, base := Picked(path)
		_, picked := fsys.Open(base)
		for _, err := range []error{byName, inside, picked} {
			var not *NotRegular
			if !errors.As(err, &not) || err.Error() != path+" is "+kind+", not a file: choose a file" {
				t.Errorf("%s: %v, want that it is %s", name, err, kind)
			}
		}
	}
	var not *NotRegular
	if _, err := os.Stat("/dev/zero"); err == nil {
		if _, err := Open("/dev/zero"); !errors.As(err, &not) || not.Kind != "a device" {
			t.Errorf("/dev/zero: %v, want that it is a device", err)
		}
	}
	if f, err := Open(filepath.Join(dir, "isle.png")); err != nil {
		t.Error(err)
	} else {
		f.Close()
	}
}

func TestInMemory(t *testing.T) {
	t.Parallel()
	changed := time.Date(2026, 11, 28, 9, 0, 0, 0, time.UTC)
	fsys := InMemory("isle.png", []byte("isle"), changed)
	if got, err := readIn(fsys, "isle.png"); err != nil || got != "isle" {
		t.Errorf("%q, %v, want the file", got, err)
	}
	info, err := fs.Stat(fsys, "isle.png")
	if err != nil || info.Size() != 4 || !info.ModTime().Equal(changed) || !info.Mode().IsRegular() {
		t.Errorf("%v, %v, want 4 bytes of that time", info, err)
	}
	if _, err := fsys.Open("other.png"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("another name: %v, want fs.ErrNotExist", err)
	}
	f, _ := fsys.Open("isle.png")
	if at, ok := f.(io.ReaderAt); !ok {
		t.Error("it does not read at an offset")
	} else if b := make([]byte, 2); !readsAt(at, b) || string(b) != "sl" {
		t.Errorf("at 1: %q", b)
	}
}

func readsAt(at io.ReaderAt, b []byte) bool {
	n, err := at.ReadAt(b, 1)
	return err == nil && n == len(b)
}
