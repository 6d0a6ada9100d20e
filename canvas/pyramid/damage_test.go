package pyramid

import (
	"context"
	"errors"
	"image"
	"image/color"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"
)

// stored writes a small picture with three levels on disk to a store.
func stored(t testing.TB, s *Store, key [32]byte, img image.Image) []uint8 {
	t.Helper()
	p := settled(t, New(img, Options{Store: s, Key: key, OnFault: noFault(t)}))
	p.Close()
	b, err := os.ReadFile(s.path(key))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestFlippedBits: whichever bit of the file is wrong, no wrong tile is ever
// shown: the file is refused on opening, or found out when the tile is read.
func TestFlippedBits(t *testing.T) {
	t.Parallel()
	s, key := emptyStore(t), [32]byte{1}
	img := forms(1100, 130)[image.YCbCrSubsampleRatio420.String()]
	want := all(t, settled(t, New(img, Options{})))
	good := stored(t, s, key, img)
	r := rand.New(rand.NewPCG(4, 0))
	refused, found := 0, 0
	for i := range 300 {
		at := r.IntN(len(good))
		if i%3 == 0 { // a third of them in header and tables
			at = r.IntN(headerBytes + 120)
		}
		bad := append([]uint8(nil), good...)
		bad[at] ^= 1 << r.IntN(8)
		if err := os.WriteFile(s.path(key), bad, 0o600); err != nil {
			t.Fatal(err)
		}
		p, err := s.Open(key, Options{})
		if err != nil {
			refused++
			continue
		}
		if !readOrFound(t, p, want) {
			t.Fatalf("a flip in byte %d was not found", at)
		}
		found++
		p.Close()
		until(t, "the damaged file is removed", func() bool { return !exists(s.path(key)) })
	}
	if refused < 50 || found < 50 {
		t.Errorf("%d refused on opening, %d found on reading; want at least 50 of each", refused, found)
	}
}

// readOrFound reads all levels; it says whether one was refused, and fails
// the test if one is wrong.
func readOrFound(t *testing.T, p *Pyramid, want [][]uint8) bool {
	t.Helper()
	found := false
	for n := range want {
		sz := p.LevelSize(n)
		for y := 0; y < sz.Y; y += MaxCrop {
			for x := 0; x < sz.X; x += MaxCrop {
				r := image.Rect(x, y, x+MaxCrop, y+MaxCrop).Intersect(image.Rectangle{Max: sz})
				got := make([]uint8, 4*r.Dx()*r.Dy())
				l := p.layer(n)
				if l == nil {
					return true
				}
				if err := l.cut(got, 4*r.Dx(), r, false); err != nil {
					p.mu.Lock()
					p.damaged(err)
					p.mu.Unlock()
					found = true
					continue
				}
				for v := range r.Dy() {
					line := want[n][4*((y+v)*sz.X+x):][:4*r.Dx()]
					if string(got[4*v*r.Dx():][:4*r.Dx()]) != string(line) {
						t.Fatalf("level %d at (%d, %d) shows something else", n, x, y+v)
					}
				}
			}
		}
	}
	return found
}

// TestMended: damage that comes to light while the picture is shown is
// mended by reading it again; tiles wished meanwhile come, and are right.
func TestMended(t *testing.T) {
	t.Parallel()
	s, key, img := emptyStore(t), [32]byte{2}, address(1100, 1100)
	good := stored(t, s, key, img)
	l := newLayout(img.Rect.Size(), kind{model: rgba})
	_, at := l.place(Key{0, 1, 1})
	good[at+1000] ^= 16
	if err := os.WriteFile(s.path(key), good, 0o600); err != nil {
		t.Fatal(err)
	}
	var reloads, faults atomic.Int32
	p, err := s.Open(key, Options{
		Reload: func(context.Context) (Source, error) { reloads.Add(1); return img, nil },
		OnFault: func(err error) {
			faults.Add(1)
			if !errors.Is(err, ErrDamaged) {
				t.Errorf("fault %v, want ErrDamaged", err)
			}
		},
	})
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	keys := []Key{{0, 0, 0}, {0, 1, 1}, {0, 2, 2}, {1, 0, 0}}
	p.Request(keys, nil)
	until(t, "all tiles", func() bool { return p.Stats().Tiles == len(keys) })
	for _, k := range keys[:3] {
		tile, _ := p.Tile(k)
		if u, v := placeOf(tile.RGBAAt(9, 8)); u != k.X*TileSize+9 || v != k.Y*TileSize+8 {
			t.Errorf("tile %v shows (%d, %d)", k, u, v)
		}
	}
	if err := p.WaitWhole(); err != nil || reloads.Load() != 1 || faults.Load() != 1 || !p.Stats().Stored {
		t.Errorf("%v: read again %d times, %d faults, stored %v; want once, one, stored", err, reloads.Load(), faults.Load(), p.Stats().Stored)
	}
	again, err := s.Open(key, Options{})
	if err != nil {
		t.Fatalf("after mending: %v", err)
	}
	again.Close()
}

// TestNotMended: where the picture cannot be read again, coarse levels stay,
// the damaged ones are not ready, and both faults are reported.
func TestNotMended(t *testing.T) {
	t.Parallel()
	s, key, img := emptyStore(t), [32]byte{2}, address(1100, 1100)
	stored(t, s, key, img)
	gone := errors.New("the drive was pulled")
	var mu sync.Mutex
	var faults []error
	p, err := s.Open(key, Options{
		Reload:  func(context.Context) (Source, error) { return nil, gone },
		OnFault: func(err error) { mu.Lock(); faults = append(faults, err); mu.Unlock() },
	})
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	if err := os.Truncate(s.path(key), 5000); err != nil {
		t.Fatal(err)
	}
	if c := p.Crop(image.Rect(0, 0, 9, 9)); c.RGBAAt(1, 1).A != 0 {
		t.Error("a crop from a file cut short shows something")
	}
	until(t, "two faults", func() bool { mu.Lock(); defer mu.Unlock(); return len(faults) == 2 })
	if !errors.Is(faults[0], ErrDamaged) || !errors.Is(faults[1], gone) {
		t.Errorf("faults %v", faults)
	}
	if p.Ready(0) || !p.Ready(1) || exists(s.path(key)) {
		t.Errorf("level 0 ready %v, level 1 ready %v, file there %v; want false, true, false", p.Ready(0), p.Ready(1), exists(s.path(key)))
	}
}

// shortBlob is a disk that is full after some bytes.
type shortBlob struct {
	blob
	left *atomic.Int64
}

func (b shortBlob) WriteAt(p []byte, at int64) (int, error) {
	if b.left.Add(-int64(len(p))) < 0 {
		return 0, syscall.ENOSPC
	}
	return b.blob.WriteAt(p, at)
}

// TestFullDisk: wherever the disk runs full, the picture is served from
// memory, nothing is left behind, and the reason is reported once.
func TestFullDisk(t *testing.T) {
	t.Parallel()
	img := address(1100, 600)
	want := all(t, settled(t, New(img, Options{})))
	total := newLayout(img.Rect.Size(), kind{model: rgba}).total
	for _, room := range []int64{0, 1, 2 << 20, total / 2, total - 300, total - headerBytes, total - 1} {
		s := emptyStore(t)
		s.create = func(dir, pattern string) (blob, string, error) {
			b, name, err := createFile(dir, pattern)
			left := &atomic.Int64{}
			left.Store(room)
			return shortBlob{b, left}, name, err
		}
		var faults atomic.Int32
		p := settled(t, New(img, Options{Store: s, Key: [32]byte{1}, OnFault: func(err error) {
			faults.Add(1)
			if !errors.Is(err, syscall.ENOSPC) {
				t.Errorf("room for %d: %v", room, err)
			}
		}}))
		sameAll(t, "without room", all(t, p), want)
		if left, _ := filepath.Glob(filepath.Join(s.dir, "*")); len(left) > 0 || faults.Load() != 1 || p.Stats().Stored {
			t.Errorf("room for %d: %v left, %d faults, stored %v", room, left, faults.Load(), p.Stats().Stored)
		}
		p.Close()
	}
}

// TestNoFolder: a folder that cannot be written to, and a picture too large
// for the store, mean working in memory.
func TestNoFolder(t *testing.T) {
	t.Parallel()
	s := emptyStore(t)
	s.create = func(string, string) (blob, string, error) { return nil, "", os.ErrPermission }
	small, err := OpenStore(t.TempDir(), 1000, Owner{})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name  string
		store *Store
		want  error
	}{{"read-only", s, os.ErrPermission}, {"too large", small, ErrTooLarge}} {
		var got error
		p := New(address(800, 700), Options{Store: c.store, Key: [32]byte{1}, OnFault: func(err error) { got = err }})
		settled(t, p)
		if !errors.Is(got, c.want) || p.Stats().Stored {
			t.Errorf("%s: fault %v, want %v; stored %v", c.name, got, c.want, p.Stats().Stored)
		}
	}
	file := filepath.Join(t.TempDir(), "plain")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := OpenStore(filepath.Join(file, "store"), 0, Owner{}); err == nil {
		t.Error("a store below a plain file was opened")
	}
}

// TestTwoStores: two benches write and read the same pictures at once.
func TestTwoStores(t *testing.T) {
	t.Parallel()
	dir, img := t.TempDir(), address(700, 600)
	want := all(t, settled(t, New(img, Options{})))
	var wg sync.WaitGroup
	for bench := range 4 {
		s, err := OpenStore(dir, 0, Owner{})
		if err != nil {
			t.Fatal(err)
		}
		wg.Go(func() {
			for i := range 6 {
				p := New(img, Options{Store: s, Key: [32]byte{uint8(i%2) + 1}, OnFault: noFault(t)})
				if p.WaitWhole() != nil || !p.Stats().Stored {
					t.Errorf("bench %d: not stored", bench)
				}
				sameAll(t, "beside another bench", all(t, p), want)
				if i == 3 && bench == 0 {
					_ = s.Clear()
				}
				sameAll(t, "after Clear", all(t, p), want)
				p.Close()
			}
		})
	}
	wg.Wait()
	if left, _ := filepath.Glob(filepath.Join(dir, "*"+partEnding)); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// TestLimit: the pictures opened longest ago leave, files never finished are
// swept once they are old, and strangers' files stay.
func TestLimit(t *testing.T) {
	t.Parallel()
	img := address(600, 500)
	each := newLayout(img.Rect.Size(), kind{model: rgba}).total
	s, err := OpenStore(t.TempDir(), 3*each, Owner{})
	if err != nil {
		t.Fatal(err)
	}
	key := func(i int) [32]byte { return [32]byte{uint8(i) + 1} }
	for i := range 3 {
		stored(t, s, key(i), img)
		past := time.Now().Add(time.Duration(i-10) * time.Minute)
		if err := os.Chtimes(s.path(key(i)), past, past); err != nil {
			t.Fatal(err)
		}
	}
	p, err := s.Open(key(0), Options{}) // now the latest used
	if err != nil {
		t.Fatal(err)
	}
	p.Close()
	stored(t, s, key(3), img)
	for i, want := range []bool{true, false, true, true} {
		if exists(s.path(key(i))) != want {
			t.Errorf("picture %d is there: %v, want %v", i, !want, want)
		}
	}
	fresh, old, strange := filepath.Join(s.dir, "a.part"), filepath.Join(s.dir, "b.part"), filepath.Join(s.dir, "notes.txt")
	for _, f := range []string{fresh, old, strange} {
		if err := os.WriteFile(f, []uint8("x"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	past := time.Now().Add(-2 * partLife)
	if err := os.Chtimes(old, past, past); err != nil {
		t.Fatal(err)
	}
	if _, err := OpenStore(s.dir, 0, Owner{}); err != nil {
		t.Fatal(err)
	}
	if !exists(fresh) || exists(old) || !exists(strange) {
		t.Errorf("there are: fresh %v, old %v, a stranger's %v; want true, false, true", exists(fresh), exists(old), exists(strange))
	}
}

// TestCloseWhileBuilding: whenever Close is called, nothing runs on after it
// and nothing is left in the folder.
func TestCloseWhileBuilding(t *testing.T) {
	s := emptyStore(t)
	img := image.NewGray(image.Rect(0, 0, 9000, 7000))
	before := runtime.NumGoroutine()
	for i := range 12 {
		p := NewPending(img.Rect.Size(), Options{Store: s, Key: [32]byte{1}, OnFault: noFault(t)})
		p.Fill(img)
		time.Sleep(time.Duration(i) * 4 * time.Millisecond)
		p.Close()
		if left, _ := filepath.Glob(filepath.Join(s.dir, "*"+partEnding)); len(left) > 0 {
			t.Errorf("left behind: %v", left)
		}
		_ = s.Clear()
	}
	until(t, "goroutines end", func() bool { return runtime.NumGoroutine() <= before+2 })
}

// FuzzStore: no file makes the reader crash or serve what does not match its
// checksums.
func FuzzStore(f *testing.F) {
	dir := f.TempDir()
	s, err := OpenStore(dir, 0, Owner{})
	if err != nil {
		f.Fatal(err)
	}
	pal := image.NewPaletted(image.Rect(0, 0, 70, 3), color.Palette{color.White, color.Black})
	for i, img := range []image.Image{image.NewGray(image.Rect(0, 0, 5, 4)), pal, image.NewYCbCr(image.Rect(0, 0, 66, 1), image.YCbCrSubsampleRatio420)} {
		f.Add(stored(f, s, [32]byte{uint8(i) + 1}, img))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		sheet, err := readSheet(memoryBlob{strings.NewReader(string(b))}, int64(len(b)))
		if err != nil {
			return
		}
		if sheet.total != int64(len(b)) {
			t.Fatalf("%d bytes taken for %d", len(b), sheet.total)
		}
		for n := range sheet.sizes {
			if l, err := sheet.level(n); err == nil {
				pix := make([]uint8, 4*l.sz.X*l.sz.Y)
				if err := l.cut(pix, 4*l.sz.X, image.Rectangle{Max: l.sz}, false); err != nil {
					t.Fatal(err)
				}
			}
		}
	})
}

type memoryBlob struct{ *strings.Reader }

func (memoryBlob) WriteAt([]byte, int64) (int, error) { return 0, os.ErrPermission }
func (memoryBlob) Close() error                       { return nil }
