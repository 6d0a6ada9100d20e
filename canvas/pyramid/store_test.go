package pyramid

import (
	"bytes"
	"errors"
	"image"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync/atomic"
	"testing"
	"time"
)

// emptyStore is a store in a folder of the test's own.
func emptyStore(t testing.TB) *Store {
	t.Helper()
	s, err := OpenStore(t.TempDir(), 0, Owner{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// noFault fails the test when something is wrong with the store.
func noFault(t testing.TB) func(error) {
	return func(err error) { t.Errorf("OnFault: %v", err) }
}

// all reads every level of a pyramid as RGBA.
func all(t testing.TB, p *Pyramid) [][]uint8 {
	t.Helper()
	out := make([][]uint8, p.Levels())
	for n := range out {
		sz := p.LevelSize(n)
		out[n] = make([]uint8, 4*sz.X*sz.Y)
		if err := p.layer(n).cut(out[n], 4*sz.X, image.Rectangle{Max: sz}, false); err != nil {
			t.Fatalf("level %d: %v", n, err)
		}
	}
	return out
}

func sameAll(t testing.TB, what string, got, want [][]uint8) {
	t.Helper()
	for n := range want {
		if !bytes.Equal(got[n], want[n]) {
			t.Errorf("%s: level %d differs", what, n)
		}
	}
}

// TestStoreRoundTrip: every form and odd size comes back from disk as it was
// in memory, at once and when opened again.
func TestStoreRoundTrip(t *testing.T) {
	t.Parallel()
	key := [32]byte{1, 2, 3}
	for _, size := range []image.Point{{1, 1}, {3, 700}, {1031, 517}, {530, 1100}} {
		for name, img := range someForms(size.X, size.Y) {
			s := emptyStore(t)
			memory := settled(t, New(img, Options{}))
			want := all(t, memory)
			p := settled(t, New(img, Options{Store: s, Key: key, OnFault: noFault(t)}))
			if !p.Stats().Stored {
				t.Fatalf("%s %v was not stored", name, size)
			}
			sameAll(t, name+" just stored", all(t, p), want)
			again, err := s.Open(key, Options{OnFault: noFault(t)})
			if err != nil {
				t.Fatalf("%s %v: %v", name, size, err)
			}
			sameAll(t, name+" opened again", all(t, again), want)
			if again.Size() != size || !again.Stats().Stored {
				t.Errorf("%s: size %v, stored %v", name, again.Size(), again.Stats().Stored)
			}
			again.Close()
			memory.Close()
			p.Close()
		}
	}
}

// TestLayoutPlaces: tiles lie one after the other in the order of the table,
// without gaps, up to the end of the file.
func TestLayoutPlaces(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(3, 4))
	kinds := []kind{{model: grey}, {model: rgba}, {model: indexed}, {ycc, 0, 0}, {ycc, 1, 1}, {ycc, 1, 0}, {ycc, 0, 1}, {ycc, 2, 0}, {ycc, 2, 1}}
	for range 300 {
		k := kinds[r.IntN(len(kinds))]
		l := newLayout(image.Pt(1+r.IntN(5000), 1+r.IntN(5000)), k)
		number, at := 0, int64(headerBytes+l.tables)
		for n, sz := range l.sizes {
			for y := range span(sz.Y) {
				for x := range span(sz.X) {
					i, o := l.place(Key{n, x, y})
					if i != number || o != at {
						t.Fatalf("%v of %v: tile %d, %d of level %d is number %d at %d, want %d at %d", k, l.size, x, y, n, i, o, number, at)
					}
					number++
					at += int64(l.kinds[n].bytes(rawTileRect(sz, x, y).Size()))
				}
			}
		}
		if at != l.total || number != l.tiles {
			t.Fatalf("%v of %v ends at %d with %d tiles, want %d, %d", k, l.size, at, number, l.total, l.tiles)
		}
	}
}

// TestNotStored: what is not there, foreign, older, cut short or too long is
// not opened, and leaves the folder.
func TestNotStored(t *testing.T) {
	t.Parallel()
	s := emptyStore(t)
	key := [32]byte{9}
	settled(t, New(address(700, 600), Options{Store: s, Key: key, OnFault: noFault(t)})).Close()
	good, err := os.ReadFile(s.path(key))
	if err != nil {
		t.Fatal(err)
	}
	older := bytes.Clone(good)
	older[8] = 0
	for name, content := range map[string][]uint8{
		"empty": {}, "foreign": []uint8("something else altogether, and not short of a header either, as it goes on and on and on, past the hundred and twenty-eighth byte"),
		"older": older, "cut short": good[:len(good)-1], "too long": append(bytes.Clone(good), 0), "header alone": good[:headerBytes],
	} {
		if err := os.WriteFile(s.path(key), content, 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := s.Open(key, Options{}); !errors.Is(err, ErrNotStored) {
			t.Errorf("%s: %v, want ErrNotStored", name, err)
		}
		if exists(s.path(key)) {
			t.Errorf("%s: the file is still there", name)
		}
	}
	if _, err := s.Open([32]byte{77}, Options{}); !errors.Is(err, ErrNotStored) {
		t.Errorf("unknown key: %v, want ErrNotStored", err)
	}
	// A whole file under another picture's name.
	if err := os.WriteFile(s.path([32]byte{10}), good, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Open([32]byte{10}, Options{}); !errors.Is(err, ErrNotStored) {
		t.Errorf("misnamed: %v, want ErrNotStored", err)
	}
}

// TestMarks: a mark leads to its picture only while that is stored.
func TestMarks(t *testing.T) {
	t.Parallel()
	s := emptyStore(t)
	mark, key := [32]byte{5}, [32]byte{6}
	s.Note(mark, key)
	if _, _, ok := s.Find(mark); ok {
		t.Error("found before it was stored")
	}
	settled(t, New(address(300, 200), Options{Store: s, Key: key, OnFault: noFault(t)}))
	if got, size, ok := s.Find(mark); !ok || got != key || size != image.Pt(300, 200) {
		t.Errorf("found %v, key %x, size %v; want %x, 300 × 200", ok, got[:2], size, key[:2])
	}
	if _, _, ok := s.Find([32]byte{7}); ok {
		t.Error("found under a mark never noted")
	}
	path := s.markPath(mark)
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	b[3] ^= 1
	if err := os.WriteFile(path, b, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, _, ok := s.Find(mark); ok {
		t.Error("found under a damaged mark")
	}
	if n, sheets := s.Size(); sheets != 1 || n != newLayout(image.Pt(300, 200), kind{model: rgba}).total {
		t.Errorf("store holds %d bytes in %d sheets", n, sheets)
	}
	if err := s.Clear(); err != nil {
		t.Fatal(err)
	}
	if left, err := filepath.Glob(filepath.Join(s.dir, "*")); err != nil || len(left) != 0 {
		t.Errorf("left after Clear: %v (%v)", left, err)
	}
}

// TestLeftoversOfTheDead: an unfinished file goes at once when its owner is
// gone, and stays, however old, while its owner works on it.
func TestLeftoversOfTheDead(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	owner := Owner{Mark: "me", Left: func(path string) bool { return strings.Contains(path, ".dead-") }}
	s, err := OpenStore(dir, 0, owner)
	if err != nil {
		t.Fatal(err)
	}
	f, err := s.begin([32]byte{1}, newLayout(image.Pt(30, 20), kind{model: rgba}), nil)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(filepath.Base(f.path), ".me-") {
		t.Errorf("an unfinished file is named %s, without the mark of its owner", filepath.Base(f.path))
	}
	dead := filepath.Join(dir, "00.dead-7"+partEnding)
	if err := os.WriteFile(dead, []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	past := time.Now().Add(-2 * partLife)
	if err := os.Chtimes(f.path, past, past); err != nil {
		t.Fatal(err)
	}
	if _, err := OpenStore(dir, 0, owner); err != nil {
		t.Fatal(err)
	}
	if exists(dead) || !exists(f.path) {
		t.Errorf("there are: that of the dead %v, that of the living %v; want false, true", exists(dead), exists(f.path))
	}
	s.drop(f)
}

// TestAFolderThatVanished is made again for the next picture, and what is shown
// meanwhile is shown on, also where it vanishes while a picture is stored.
func TestAFolderThatVanished(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "cache", "legwright")
	s, err := OpenStore(dir, 0, Owner{})
	if err != nil {
		t.Fatal(err)
	}
	img := address(700, 600)
	want := all(t, settled(t, New(img, Options{})))
	vanish := func() {
		if err := os.RemoveAll(filepath.Dir(dir)); err != nil {
			t.Fatal(err)
		}
	}
	shown := settled(t, New(img, Options{Store: s, Key: [32]byte{1}, OnFault: noFault(t)}))
	vanish()
	if runtime.GOOS != "windows" { // which removes no file in use
		sameAll(t, "after its folder vanished", all(t, shown), want)
	}
	next := settled(t, New(img, Options{Store: s, Key: [32]byte{2}, OnFault: noFault(t)}))
	if !next.Stats().Stored {
		t.Error("the next picture is not stored")
	}
	sameAll(t, "the next picture", all(t, next), want)
	vanish()
	s.Note([32]byte{3}, [32]byte{2})
	if !exists(s.markPath([32]byte{3})) {
		t.Error("no mark is noted")
	}
	create := s.create
	s.create = func(dir, pattern string) (blob, string, error) {
		b, name, err := create(dir, pattern)
		vanish()
		return b, name, err
	}
	var fault atomic.Bool
	last := settled(t, New(img, Options{Store: s, Key: [32]byte{4}, OnFault: func(error) { fault.Store(true) }}))
	sameAll(t, "while its folder vanished", all(t, last), want)
	if last.Stats().Stored || !fault.Load() {
		t.Errorf("stored %v, fault told %v; want false, true", last.Stats().Stored, fault.Load())
	}
}
