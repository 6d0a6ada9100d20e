package windowtest

import (
	"bytes"
	"encoding/json"
	"errors"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"legwright/cmd/internal/benchsheet"
	"legwright/cmd/internal/xdisplay"
)

// bigSheet is a made sheet of 50 megapixels, kept between runs.
func bigSheet(t *testing.T) string {
	t.Helper()
	if os.Getenv(wantEnv) == "" {
		t.Skip("window tests run in the task runner's own step")
	}
	if os.Getenv(tagEnv) == "threadcheck" {
		t.Skip("big sheets are too slow in the build that walks the stack")
	}
	folder, err := benchsheet.Folder()
	must(t, err)
	files, err := benchsheet.Make(t.Context(), filepath.Join(folder, "sheets"), 50, benchsheet.JPEG)
	if errors.Is(err, benchsheet.ErrNoVips) {
		t.Skip("needs vips")
	}
	must(t, err)
	return files[0]
}

// tour holds the window against the reference in several places.
func tour(t *testing.T, r *Rig, ref *Reference) {
	t.Helper()
	f, err := r.Tour(ref)
	must(t, err)
	t.Logf("%d holes in %d blocks", len(f.Holes), f.Compared)
	if f.Compared < 300 {
		t.Errorf("%d blocks were compared, want 300 or more", f.Compared)
	}
	for _, h := range f.Holes {
		t.Errorf("a hole at %s", h)
	}
}

// TestBigSheet pans over a big sheet by mouse and compares the screen with the
// levels of another decoder; then with the file gone, without a store, and
// with the store's bytes overwritten under the bench.
func TestBigSheet(t *testing.T) {
	file := bigSheet(t)
	bin := program(t)
	ref, err := ReadReference(file)
	must(t, err)
	t.Run("as it is, then with the file gone", func(t *testing.T) {
		home := t.TempDir()
		own := filepath.Join(home, "sheet.jpg")
		copyFile(t, file, own)
		r := open(t, bin, home, Options{}, own)
		tour(t, r, ref)
		must(t, os.Remove(own))
		must(t, r.Key("ctrl+0"))
		tour(t, r, ref)
	})
	t.Run("no folder for the store", func(t *testing.T) {
		home := t.TempDir()
		cache := filepath.Join(home, "cache")
		must(t, os.WriteFile(cache, nil, 0o644)) // a file where the folder should be
		r := open(t, bin, home, Options{Cache: cache}, file)
		tour(t, r, ref)
	})
	t.Run("store overwritten", func(t *testing.T) {
		home := t.TempDir()
		cache := filepath.Join(home, "cache")
		r := open(t, bin, home, Options{Cache: cache}, file)
		overwrite(t, stored(t, cache))
		tour(t, r, ref)
	})
}

func copyFile(t *testing.T, from, to string) {
	t.Helper()
	raw, err := os.ReadFile(from)
	must(t, err)
	must(t, os.WriteFile(to, raw, 0o644))
}

// stored waits for the store's file of the sheet: the biggest that has stopped
// growing.
func stored(t *testing.T, cache string) string {
	t.Helper()
	var name string
	var last int64
	for until := time.Now().Add(30 * time.Second); time.Now().Before(until); time.Sleep(700 * time.Millisecond) {
		var size int64
		_ = filepath.WalkDir(cache, func(path string, d os.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return nil
			}
			if info, err := d.Info(); err == nil && info.Size() > size {
				size, name = info.Size(), path
			}
			return nil
		})
		if size > 10e6 && size == last {
			return name
		}
		last = size
	}
	t.Fatalf("no sheet came into the store; the biggest file is %s of %d bytes", name, last)
	return ""
}

// overwrite puts noise over most of a file that the bench has open.
func overwrite(t *testing.T, name string) {
	t.Helper()
	f, err := os.OpenFile(name, os.O_RDWR, 0)
	must(t, err)
	defer f.Close()
	info, err := f.Stat()
	must(t, err)
	dice := rand.New(rand.NewPCG(5, 6))
	noise := make([]byte, 4096)
	for at := int64(0); at < info.Size(); at += 64 << 10 {
		for i := range noise {
			noise[i] = byte(dice.Uint32())
		}
		_, err := f.WriteAt(noise, min(at, info.Size()-int64(len(noise))))
		must(t, err)
	}
}

// TestMonkey works the window at random for twenty seconds over whole, broken
// and missing sheets.
func TestMonkey(t *testing.T) {
	file := bigSheet(t)
	dir := t.TempDir()
	bin := filepath.Join(dir, "benchwindow")
	build := exec.Command("go", "build", "-tags", os.Getenv(tagEnv), "-o", bin, "legwright/cmd/internal/benchwindow")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("build: %v\n%s", err, out)
	}
	display, err := xdisplay.Start(t.Context(), 1400, 900)
	must(t, err)
	defer display.Close()
	raw, err := os.ReadFile(file)
	must(t, err)
	broken, none := filepath.Join(dir, "broken.jpg"), filepath.Join(dir, "none.png")
	must(t, os.WriteFile(broken, raw[:len(raw)/2], 0o644))
	must(t, os.WriteFile(none, raw[1000:5000], 0o644))
	cmd := exec.CommandContext(t.Context(), bin, "-monkey", "20", "-seed", "5",
		file, broken, none, filepath.Join(dir, "missing.jpg"))
	cmd.Env = append(display.Env(), "HOME="+dir, "XDG_CONFIG_HOME="+dir, "XDG_CACHE_HOME="+dir,
		"XDG_STATE_HOME="+dir, "LEGWRIGHT_SIZE=1400x900", "FYNE_SCALE=1")
	var said bytes.Buffer
	cmd.Stderr = &said
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("the window ended: %v\n%s", err, tail(said.String()))
	}
	judge(t, out, filepath.Base(file))
}

// judge reads what a run at random printed. The sheet must have been seen.
func judge(t *testing.T, out []byte, sheet string) {
	t.Helper()
	var most [2]float64
	var list []float64
	found := false
	for dec := json.NewDecoder(bytes.NewReader(out)); dec.More(); {
		var s struct {
			Name  string
			NowMB float64
			Acts  map[string]int
			Shown map[string]int
			Wrong []string
		}
		must(t, dec.Decode(&s))
		switch s.Name {
		case "acting":
			list = append(list, s.NowMB)
		case "monkey":
			found = true
			t.Logf("did %v; saw %v", s.Acts, s.Shown)
			for _, w := range s.Wrong {
				t.Error(w)
			}
			if s.Shown[sheet] == 0 {
				t.Errorf("%s was never seen", sheet)
			}
		}
	}
	if !found || len(list) < 8 {
		t.Fatalf("%d samples, verdict %v; want 8 or more and one", len(list), found)
	}
	for i, mb := range list {
		most[2*i/len(list)] = max(most[2*i/len(list)], mb)
	}
	t.Logf("most memory %.0f MB in the first half, %.0f MB in the second", most[0], most[1])
	if most[1] > 1.5*most[0]+100 {
		t.Errorf("memory grew from %.0f to %.0f MB", most[0], most[1])
	}
}

func tail(s string) string { return s[max(0, len(s)-3000):] }
