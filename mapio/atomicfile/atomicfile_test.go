package atomicfile

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
)

func text(s string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, s); return err }
}

func put(t *testing.T, path, content string, perm fs.FileMode) {
	t.Helper()
	if err := os.WriteFile(path, []byte(content), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(path, perm); err != nil {
		t.Fatal(err)
	}
}

func holds(t *testing.T, path, want string) {
	t.Helper()
	if got, err := os.ReadFile(path); err != nil || string(got) != want {
		t.Errorf("%s holds %q, %v; want %q", filepath.Base(path), got, err, want)
	}
}

func names(t *testing.T, dir string) string {
	t.Helper()
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range list {
		out = append(out, e.Name())
	}
	return strings.Join(out, " ")
}

func TestWrite(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	path := filepath.Join(dir, "a.txt")
	for _, want := range []string{"first", "second"} {
		if err := Write(path, Options{}, text(want)); err != nil {
			t.Fatal(err)
		}
		holds(t, path, want)
	}
	own := errors.New("out of ink")
	if err := Write(path, Options{}, func(w io.Writer) error { _ = text("half")(w); return own }); err != own {
		t.Errorf("got %v, want the writer's own error", err)
	}
	_, missing := os.Open(filepath.Join(dir, "picture.png"))
	if err := Write(path, Options{}, func(io.Writer) error { return missing }); err != missing {
		t.Errorf("got %v, want the error of the file that the content is made from", err)
	}
	if err := Write(path, Options{Ready: func() error { return own }}, text("third")); err != own {
		t.Errorf("got %v, want the error of Ready", err)
	}
	holds(t, path, "second")
	if got := names(t, dir); got != "a.txt" {
		t.Errorf("left in the folder: %s", got)
	}
}

func TestReadyFindsTheOldFileInItsPlace(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "a.txt")
	put(t, path, "old", 0o644)
	called := false
	if err := Write(path, Options{Ready: func() error { called = true; holds(t, path, "old"); return nil }}, text("new")); err != nil || !called {
		t.Errorf("called %v, %v", called, err)
	}
	holds(t, path, "new")
}

// TestPermissionsStay: a file keeps its permissions, whatever the umask says,
// and so does its backup.
func TestPermissionsStay(t *testing.T) {
	t.Parallel()
	if runtime.GOOS == "windows" {
		t.Skip("this system has no such permissions")
	}
	for _, perm := range []fs.FileMode{0o600, 0o644, 0o666, 0o640, 0o700} {
		path := filepath.Join(t.TempDir(), "a.txt")
		put(t, path, "old", perm)
		if err := Write(path, Options{Backup: true}, text("new")); err != nil {
			t.Fatal(err)
		}
		for _, name := range []string{path, path + BackupExt} {
			if info, err := os.Stat(name); err != nil || info.Mode().Perm() != perm {
				t.Errorf("%s: %v, %v; want %v", filepath.Base(name), info.Mode(), err, perm)
			}
		}
	}
}

// A private file is one that its owner alone can read, from its first byte on and also where
// there was one that all could.
func TestPrivateIsForTheOwner(t *testing.T) {
	t.Parallel()
	if runtime.GOOS == "windows" {
		t.Skip("this system has no such permissions")
	}
	dir := t.TempDir()
	put(t, filepath.Join(dir, "old"), "old", 0o666)
	for _, name := range []string{"old", "new"} {
		path := filepath.Join(dir, name)
		if err := Write(path, Options{Private: true}, func(w io.Writer) error {
			unfinished, err := filepath.Glob(filepath.Join(dir, tempStart+"*"))
			if err != nil || len(unfinished) != 1 {
				t.Fatalf("%v, %v: want one unfinished file", unfinished, err)
			}
			if info, err := os.Stat(unfinished[0]); err != nil || info.Mode().Perm() != 0o600 {
				t.Errorf("%s while it is written: %v, %v; want 0600", name, info.Mode(), err)
			}
			return text("new")(w)
		}); err != nil {
			t.Fatal(err)
		}
		if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
			t.Errorf("%s: %v, %v; want 0600", name, info.Mode(), err)
		}
	}
}

func TestReadOnlyIsRefusedUnlessAllowed(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "a.txt")
	put(t, path, "old", 0o444)
	var refused *ReadOnly
	for _, err := range []error{Check(path, Options{}), Write(path, Options{}, text("new"))} {
		if !errors.As(err, &refused) || refused.Path != path {
			t.Errorf("got %v, want *ReadOnly", err)
		}
	}
	holds(t, path, "old")
	if err := Write(path, Options{ReadOnly: true}, text("new")); err != nil {
		t.Error(err)
	}
	holds(t, path, "new")
	if err := Check(path, Options{}); !errors.As(err, &refused) {
		t.Errorf("the file that took its place is not read-only: %v", err)
	}
}

// TestLinksStay: the file behind a link, or behind a chain of them, is
// replaced, and made where it is not there yet.
func TestLinksStay(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	deep := filepath.Join(dir, "deep")
	if err := os.Mkdir(deep, 0o755); err != nil {
		t.Fatal(err)
	}
	for link, to := range map[string]string{
		"absolute": filepath.Join(deep, "a.txt"), "relative": filepath.Join("deep", "b.txt"), "chain": "relative",
		"folder": "deep", filepath.Join("deep", "up"): filepath.Join("..", "c.txt"), "round": "round",
	} {
		if err := os.Symlink(to, filepath.Join(dir, link)); err != nil {
			t.Skip("this system makes no symbolic links")
		}
	}
	for _, c := range []struct{ path, real string }{
		{"absolute", filepath.Join("deep", "a.txt")},
		{"chain", filepath.Join("deep", "b.txt")},
		{"relative", filepath.Join("deep", "b.txt")},
		{filepath.Join("folder", "up"), "c.txt"},
	} {
		for _, content := range []string{"made", "replaced"} {
			if err := Write(filepath.Join(dir, c.path), Options{}, text(content+c.path)); err != nil {
				t.Fatal(err)
			}
			holds(t, filepath.Join(dir, c.real), content+c.path)
		}
		if info, err := os.Lstat(filepath.Join(dir, c.path)); err != nil || info.Mode()&fs.ModeSymlink == 0 {
			t.Errorf("%s is no link any more", c.path)
		}
	}
	if err := Write(filepath.Join(dir, "round"), Options{}, text("x")); err == nil || !strings.Contains(err.Error(), "round was not written") {
		t.Errorf("a link to itself: %v", err)
	}
	if got := names(t, dir); got != "absolute c.txt chain deep folder relative round" {
		t.Errorf("in the folder: %s", got)
	}
}

// TestFaultsNameTheFileThatWasMeant and never the one that comes and goes.
func TestFaultsNameTheFileThatWasMeant(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	if err := os.MkdirAll(filepath.Join(dir, "folder.txt", "full"), 0o755); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(dir, "file"), "x", 0o644)
	for name, want := range map[string]string{
		filepath.Join("none", "a.txt"): " was not written: ", filepath.Join("file", "a.txt"): " was not written: ",
		"folder.txt": " is a folder, not a file: choose a file",
	} {
		path := filepath.Join(dir, name)
		err := Write(path, Options{}, text("x"))
		if err == nil || !strings.HasPrefix(err.Error(), path+want) || strings.Contains(err.Error(), tempStart) {
			t.Errorf("%s: got %v", name, err)
		}
	}
	if err := Write(filepath.Join(dir, "none", "a.txt"), Options{}, text("x")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("got %v, want it to wrap that the folder does not exist", err)
	}
	if got := names(t, dir); got != "file folder.txt" {
		t.Errorf("left in the folder: %s", got)
	}
}

// failing is a disk on which one thing goes wrong.
type failing struct {
	realDisk
	creating, writing, syncing, closing, keeping, renaming, backup bool
}

const errDisk = syscall.ENOSPC

func (d failing) create(name string, perm fs.FileMode) (handle, error) {
	if d.creating {
		return nil, &fs.PathError{Op: "open", Path: name, Err: syscall.EACCES}
	}
	h, err := d.realDisk.create(name, perm)
	return failingFile{h, d}, err
}

func (d failing) keep(path, second string, perm fs.FileMode) error {
	if d.keeping {
		return errDisk
	}
	return copyFile(path, second, perm) // as where there are no links
}

func (d failing) rename(from, to string) error {
	if d.renaming && !strings.HasSuffix(to, BackupExt) || d.backup && strings.HasSuffix(to, BackupExt) {
		return &os.LinkError{Op: "rename", Old: from, New: to, Err: errDisk}
	}
	return d.realDisk.rename(from, to)
}

type failingFile struct {
	handle
	d failing
}

// Write fails part-way, as on a full disk.
func (f failingFile) Write(p []byte) (int, error) {
	if f.d.writing {
		n, _ := f.handle.Write(p[:len(p)/2])
		return n, &fs.PathError{Op: "write", Path: f.Name(), Err: errDisk}
	}
	return f.handle.Write(p)
}

func (f failingFile) Sync() error {
	if f.d.syncing {
		return errDisk
	}
	return f.handle.Sync()
}

func (f failingFile) Close() error {
	err := f.handle.Close()
	if f.d.closing {
		return errDisk
	}
	return err
}

// stick is a disk that knows no permissions and refuses to set any.
type stick struct{ realDisk }

func (d stick) create(name string, perm fs.FileMode) (handle, error) {
	h, err := d.realDisk.create(name, perm)
	return stickFile{h}, err
}

type stickFile struct{ handle }

func (stickFile) Chmod(fs.FileMode) error { return syscall.EPERM }

func TestADiskWithoutPermissions(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "a.txt")
	put(t, path, "old", 0o600)
	if err := write(stick{}, path, Options{}, text("new")); err != nil {
		t.Error(err)
	}
	holds(t, path, "new")
}

func TestAFailingDiskLeavesEverythingAsItWas(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		d    failing
		want error
	}{
		{"folder read-only", failing{creating: true}, fs.ErrPermission},
		{"disk full while writing", failing{writing: true}, errDisk},
		{"disk full while syncing", failing{syncing: true}, errDisk},
		{"disk full while closing", failing{closing: true}, errDisk},
		{"no backup", failing{keeping: true}, errDisk},
		{"backup cannot be renamed", failing{backup: true}, errDisk},
		{"file cannot be renamed", failing{renaming: true}, errDisk},
	} {
		dir := t.TempDir()
		path := filepath.Join(dir, "isle.legplan")
		put(t, path, "old", 0o644)
		put(t, path+BackupExt, "older", 0o644)
		err := write(c.d, path, Options{Backup: true}, text("new"))
		if !errors.Is(err, c.want) || !strings.HasPrefix(err.Error(), path+" was not written: ") || strings.Contains(err.Error(), tempStart) {
			t.Errorf("%s: %v, want %v in a plain sentence", c.name, err, c.want)
		}
		holds(t, path, "old")
		if !c.d.renaming { // then the old file has two names
			holds(t, path+BackupExt, "older")
		}
		if got := names(t, dir); got != "isle.legplan isle.legplan.bak" {
			t.Errorf("%s: in the folder %s", c.name, got)
		}
	}
}

func TestBackup(t *testing.T) {
	t.Parallel()
	for _, d := range []disk{realDisk{}, failing{}} { // which copies, as nothing is to fail
		dir := t.TempDir()
		path := filepath.Join(dir, "isle.legplan")
		for _, content := range []string{"first", "second", "third"} {
			if err := write(d, path, Options{Backup: true}, text(content)); err != nil {
				t.Fatal(err)
			}
		}
		holds(t, path, "third")
		holds(t, path+BackupExt, "second")
		if got := names(t, dir); got != "isle.legplan isle.legplan.bak" {
			t.Errorf("in the folder: %s", got)
		}
	}
}
