package planfile

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"legwright/app/plan"
	"legwright/mapio/atomicfile"
	"legwright/mapio/openfile"
)

func saved(t testing.TB, s *Store, path string, p *plan.Plan) plan.Stamp {
	t.Helper()
	stamp, err := s.Save(path, p, plan.Overwrite{})
	if err != nil {
		t.Fatal(err)
	}
	return stamp
}

func read(t testing.TB, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func files(t testing.TB, dir string) string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return strings.Join(names, " ")
}

func TestSaveLoadAndBackup(t *testing.T) {
	t.Parallel()
	dir, s := t.TempDir(), NewStore()
	path := filepath.Join(dir, "isle.legplan")
	saved(t, s, path, isle().SetTitle("first"))
	stamp := saved(t, s, path, isle().SetTitle("second"))
	saved(t, s, path, isle().SetTitle("third"))
	p, now, err := s.Load(path)
	if err != nil || p.Title != "third" || now.Same(stamp) {
		t.Errorf("Load = %v, %v, want the third plan", p, err)
	}
	old, was, err := s.Load(path + ".bak")
	if err != nil || old.Title != "second" || !was.Same(stamp) {
		t.Errorf("backup: %v, want the second plan", err)
	}
	if got := files(t, dir); got != "isle.legplan isle.legplan.bak" {
		t.Errorf("files %q, want the plan and its backup only", got)
	}
}

func TestPicturesAreNamedRelativeToThePlan(t *testing.T) {
	t.Parallel()
	dir, s := t.TempDir(), NewStore()
	picture := filepath.Join(dir, "maps", "isle.png")
	sheet, _ := isle().Sheet()
	sheet.Picture = picture
	p := isle().SetSheet(sheet)
	for name, want := range map[string]string{
		filepath.Join(dir, "a.legplan"):          `"picture": "maps/isle.png"`,
		filepath.Join(dir, "plans", "b.legplan"): `"picture": "../maps/isle.png"`,
	} {
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		saved(t, s, name, p)
		if got := read(t, name); !strings.Contains(got, want) {
			t.Errorf("%s does not hold %s", name, want)
		}
		q, _, err := s.Load(name)
		if err != nil {
			t.Fatal(err)
		}
		if got, _ := q.Sheet(); got.Picture != picture {
			t.Errorf("read back as %s, want %s", got.Picture, picture)
		}
	}
	for _, c := range []struct{ in, rel, abs string }{
		{plan.EmbeddedPrefix + "demo", plan.EmbeddedPrefix + "demo", plan.EmbeddedPrefix + "demo"},
		{"", "", ""},
	} {
		if got := RelPicture("/x/p.legplan", c.in); got != c.rel {
			t.Errorf("RelPicture(%q) = %q, want %q", c.in, got, c.rel)
		}
		if got := AbsPicture("/x/p.legplan", c.rel); got != c.abs {
			t.Errorf("AbsPicture(%q) = %q, want %q", c.rel, got, c.abs)
		}
	}
}

func TestSavingOverAChangedFileIsRefused(t *testing.T) {
	t.Parallel()
	dir, s := t.TempDir(), NewStore()
	path := filepath.Join(dir, "isle.legplan")
	stamp := saved(t, s, path, isle())
	saved(t, s, path, isle().SetTitle("by another bench"))
	theirs := read(t, path)
	if _, err := s.Save(path, isle().SetTitle("mine"), plan.Overwrite{Expect: stamp}); !errors.Is(err, plan.ErrChangedOnDisk) {
		t.Errorf("Save: %v, want ErrChangedOnDisk", err)
	}
	if read(t, path) != theirs {
		t.Error("the other's file was written over")
	}
	if _, err := s.Save(path, isle().SetTitle("mine"), plan.Overwrite{}); err != nil {
		t.Errorf("Save without a stamp: %v", err)
	}
	if !strings.Contains(read(t, path), "mine") || read(t, path+".bak") != theirs {
		t.Error("forced saving did not keep the other's file as backup")
	}
	stamp = saved(t, s, path, isle())
	later := stamp.ModTime.Add(1e9)
	if err := os.Chtimes(path, later, later); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Save(path, isle(), plan.Overwrite{Expect: stamp}); err != nil {
		t.Errorf("a touched file of the same content was refused: %v", err)
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Save(path, isle(), plan.Overwrite{Expect: stamp}); err != nil {
		t.Errorf("a file that has gone was refused: %v", err)
	}
}

// TestAFailedSaveLeavesEverythingAsItWas: what may go wrong with a disk is
// tested where files are written; here, that saving tells of it.
func TestAFailedSaveLeavesEverythingAsItWas(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	path := filepath.Join(dir, "isle.legplan")
	saved(t, NewStore(), path, isle().SetTitle("old"))
	if err := os.MkdirAll(filepath.Join(path+".bak", "full"), 0o755); err != nil {
		t.Fatal(err)
	}
	before, list := read(t, path), files(t, dir)
	_, err := NewStore().Save(path, isle().SetTitle("new"), plan.Overwrite{})
	if err == nil || !strings.HasPrefix(err.Error(), path+" was not written: its backup copy could not be made: ") {
		t.Errorf("a folder in the place of the backup: %v", err)
	}
	if read(t, path) != before || files(t, dir) != list {
		t.Errorf("the plan has changed, or the folder: %s", files(t, dir))
	}
}

func TestAReadOnlyPlanIsWrittenOnlyWhereAllowed(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "isle.legplan")
	stamp := saved(t, NewStore(), path, isle().SetTitle("old"))
	if err := os.Chmod(path, 0o444); err != nil {
		t.Fatal(err)
	}
	var readOnly *atomicfile.ReadOnly
	if _, err := NewStore().Save(path, isle().SetTitle("new"), plan.Overwrite{Expect: stamp}); !errors.As(err, &readOnly) {
		t.Errorf("got %v, want *atomicfile.ReadOnly", err)
	}
	if !strings.Contains(read(t, path), `"old"`) {
		t.Error("the read-only plan was written over")
	}
	if _, err := NewStore().Save(path, isle().SetTitle("new"), plan.Overwrite{Expect: stamp, ReadOnly: true}); err != nil || !strings.Contains(read(t, path), `"new"`) {
		t.Errorf("not written over where that was allowed: %v", err)
	}
}

func TestSavingWhereThereIsNoFolder(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	if err := os.WriteFile(file, []byte("x"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{filepath.Join(file, "isle.legplan"), filepath.Join(dir, "none", "isle.legplan")} {
		if _, err := NewStore().Save(path, isle(), plan.Overwrite{}); err == nil {
			t.Errorf("Save(%s): no error", path)
		}
	}
	if read(t, file) != "x" {
		t.Error("the file in the way was changed")
	}
}

func TestSavingOnARealFullDisk(t *testing.T) {
	t.Parallel()
	if _, err := os.Stat("/dev/full"); err != nil {
		t.Skip("this system has no /dev/full")
	}
	f, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := Encode(f, isle()); !errors.Is(err, syscall.ENOSPC) {
		t.Errorf("Encode to a full disk: %v, want ENOSPC", err)
	}
}

// TestALinkStaysALink: pictures are named as seen from the file behind it, by
// whichever name the plan is opened.
func TestALinkStaysALink(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	real, link := filepath.Join(dir, "real", "isle.legplan"), filepath.Join(dir, "link.legplan")
	if err := os.Mkdir(filepath.Dir(real), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(real, link); err != nil {
		t.Skip("this system makes no symbolic links")
	}
	picture := filepath.Join(dir, "real", "isle.png")
	sheet, _ := isle().Sheet()
	sheet.Picture = picture
	saved(t, NewStore(), link, isle().SetSheet(sheet))
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Error("the link was replaced by a file")
	}
	for _, name := range []string{real, link} {
		p, _, err := NewStore().Load(name)
		if err != nil {
			t.Fatal(err)
		}
		if got, _ := p.Sheet(); got.Picture != picture {
			t.Errorf("%s: the picture is %s, want %s", name, got.Picture, picture)
		}
	}
}

func TestLoadRefusesWhatIsNoFile(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	var not *openfile.NotRegular
	if _, _, err := NewStore().Load(dir); !errors.As(err, &not) {
		t.Errorf("a folder: %v, want *openfile.NotRegular", err)
	}
	if _, _, err := NewStore().Load(filepath.Join(dir, "none")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a missing file: %v, want fs.ErrNotExist", err)
	}
	big := filepath.Join(dir, "big")
	if err := os.WriteFile(big, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(big, MaxBytes+1); err != nil {
		t.Skip("this system makes no sparse files")
	}
	if _, _, err := NewStore().Load(big); !errors.Is(err, ErrTooLarge) {
		t.Errorf("a huge file: %v, want ErrTooLarge", err)
	}
}
