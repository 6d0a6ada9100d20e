package pyramid

import (
	"errors"
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// address is a picture whose pixels carry their place: column in red and the
// high half of blue, row in green and the low half of blue.
func address(w, h int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			*(*[4]uint8)(m.Pix[y*m.Stride+4*x:]) = [4]uint8{uint8(x), uint8(y), uint8(x>>8<<4 | y>>8), 255}
		}
	}
	return m
}

func placeOf(c color.RGBA) (x, y int) {
	return int(c.R) | int(c.B>>4)<<8, int(c.G) | int(c.B&15)<<8
}

// TestTileArithmetic: for any size, the levels halve rounding up and the
// tiles of each level cover every pixel once.
func TestTileArithmetic(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		size := image.Pt(rapid.IntRange(1, 70000).Draw(t, "w"), rapid.IntRange(1, 70000).Draw(t, "h"))
		p := &Pyramid{size: size, sizes: levelSizes(size)}
		for n, s := range p.sizes {
			want := image.Pt((size.X+1<<n-1)>>n, (size.Y+1<<n-1)>>n)
			if s != want {
				t.Fatalf("level %d of %v: %v, want %v", n, size, s, want)
			}
			area := 0
			across, down := (s.X+TileSize-1)/TileSize, (s.Y+TileSize-1)/TileSize
			for y := -1; y <= down; y++ {
				for x := -1; x <= across; x++ {
					r := p.tileRect(Key{n, x, y})
					if inside := x >= 0 && y >= 0 && x < across && y < down; inside == r.Empty() {
						t.Fatalf("tile %d, %d of level %d (%v): %v", x, y, n, s, r)
					}
					if !r.Empty() && (r.Min != image.Pt(x*TileSize, y*TileSize) || r.Dx() > TileSize || r.Dy() > TileSize) {
						t.Fatalf("tile %d, %d of level %d covers %v", x, y, n, r)
					}
					area += r.Dx() * r.Dy()
				}
			}
			if area != s.X*s.Y {
				t.Fatalf("tiles of level %d cover %d pixels of %d", n, area, s.X*s.Y)
			}
		}
		if last := p.sizes[len(p.sizes)-1]; max(last.X, last.Y) > coarsest {
			t.Fatalf("the coarsest level is %v", last)
		}
	})
}

func TestLevelFor(t *testing.T) {
	t.Parallel()
	p := &Pyramid{sizes: levelSizes(image.Pt(6000, 4000))}
	last := p.Levels() - 1
	for _, c := range []struct {
		scale float64
		want  int
	}{
		{8, 0},
		{1, 0},
		{0.99, 0},
		{0.51, 0},
		{0.5, 1},
		{0.3, 1},
		{0.25, 2},
		{1.0 / 8, 3},
		{0.1 + 0.025, 3},
		{1e-9, last},
		{0, last},
		{-1, last},
		{math.NaN(), last},
		{math.Inf(1), 0},
	} {
		if got := p.LevelFor(c.scale); got != c.want {
			t.Errorf("scale %g: level %d, want %d", c.scale, got, c.want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.Float64Range(1e-4, 4).Draw(t, "scale")
		n := p.LevelFor(s)
		if drawn := math.Ldexp(s, n); n > 0 && drawn > 1+1e-6 || n < last && drawn <= 0.5-1e-6 {
			t.Fatalf("scale %g: level %d is drawn at %g", s, n, drawn)
		}
	})
}

// TestTiles asks for all tiles of two levels and reads every address.
func TestTiles(t *testing.T) {
	t.Parallel()
	p := settled(t, New(address(1300, 700), Options{}))
	keys := []Key{{0, 0, 0}, {0, 1, 0}, {0, 2, 0}, {0, 0, 1}, {0, 1, 1}, {0, 2, 1}, {1, 0, 0}, {9, 0, 0}, {0, 3, 0}, {0, -1, 0}, {0, 0, 0}}
	var calls atomic.Int32
	if n := p.Request(keys, func() { calls.Add(1) }); n != 7 {
		t.Errorf("%d tiles missing, want 7", n)
	}
	until(t, "all tiles", func() bool { return p.Stats().Tiles == 7 })
	until(t, "a call of done", func() bool { return calls.Load() > 0 })
	for _, k := range keys[:6] {
		img, ok := p.Tile(k)
		if !ok || img.Stride != 4*img.Rect.Dx() || img.Rect.Min != (image.Point{}) || len(img.Pix) != img.Stride*img.Rect.Dy() {
			t.Fatalf("tile %v: %v, stride %d", k, ok, img.Stride)
		}
		for y := range img.Rect.Dy() {
			for x := range img.Rect.Dx() {
				if u, v := placeOf(img.RGBAAt(x, y)); u != k.X*TileSize+x || v != k.Y*TileSize+y {
					t.Fatalf("tile %v at (%d, %d) shows pixel (%d, %d)", k, x, y, u, v)
				}
			}
		}
	}
	if _, ok := p.Tile(Key{0, 7, 7}); ok {
		t.Error("a tile outside the picture was given")
	}
	before := calls.Load()
	if n := p.Request(keys, func() { calls.Add(100) }); n != 0 {
		t.Errorf("%d tiles missing the second time, want 0", n)
	}
	time.Sleep(20 * time.Millisecond)
	if calls.Load() != before {
		t.Error("done was called though nothing was missing")
	}
}

// TestDoneAfterLast: whenever done is called for the last time, every tile
// asked for is there.
func TestDoneAfterLast(t *testing.T) {
	t.Parallel()
	img := image.NewGray(image.Rect(0, 0, 1600, 1040))
	for range 20 {
		p := New(img, Options{})
		keys := []Key{{0, 0, 0}, {0, 1, 1}, {1, 0, 0}, {1, 1, 1}, {2, 0, 0}, {4, 0, 0}, {0, 3, 2}}
		done := make(chan struct{}, 100)
		p.Request(keys, func() { done <- struct{}{} })
		for all := false; !all; {
			<-done // waits for ever where done is not called after the last tile
			all = true
			for _, k := range keys {
				_, ok := p.Tile(k)
				all = all && ok
			}
		}
		p.Close()
	}
}

// TestReplacedWish: what is no longer wanted is dropped.
func TestReplacedWish(t *testing.T) {
	t.Parallel()
	p := settled(t, New(image.NewGray(image.Rect(0, 0, 1600, 1600)), Options{Workers: 1}))
	hold, entered := make(chan struct{}), make(chan struct{}, 1)
	p.Request([]Key{{1, 0, 0}}, func() { entered <- struct{}{}; <-hold })
	<-entered // the only worker is held up
	var stale atomic.Bool
	p.Request([]Key{{0, 0, 0}, {0, 1, 0}, {0, 2, 0}}, func() { stale.Store(true) })
	got := make(chan struct{}, 1)
	p.Request([]Key{{0, 3, 3}}, func() { got <- struct{}{} })
	close(hold)
	<-got
	if n := p.Stats().Tiles; n != 2 || stale.Load() {
		t.Errorf("%d tiles made, the dropped request's done called: %v; want 2, false", n, stale.Load())
	}
}

// TestBudget: old tiles leave, the memory stays within the budget, and the
// buffers of tiles nobody holds are used again without harm to those held.
func TestBudget(t *testing.T) {
	t.Parallel()
	const budget = 4 * fullTile
	p := settled(t, New(address(4096, 512), Options{Budget: budget}))
	ask := func(k Key) *image.RGBA {
		p.Request([]Key{k}, nil)
		var img *image.RGBA
		until(t, "tile", func() bool {
			var ok bool
			img, ok = p.Tile(k)
			return ok
		})
		return img
	}
	held := ask(Key{0, 0, 0})
	for round := range 3 {
		for x := 1; x < 8; x++ {
			p.Release(ask(Key{0, x, 0}))
			if s := p.Stats(); s.TileBytes > budget || s.Tiles > 4 {
				t.Fatalf("round %d: %d tiles, %d bytes, budget %d", round, s.Tiles, s.TileBytes, s.Budget)
			}
		}
	}
	if img, ok := p.Tile(Key{0, 0, 0}); !ok || img != held {
		t.Error("the tile in a caller's hands left before those in nobody's")
	}
	if u, v := placeOf(held.RGBAAt(511, 300)); u != 511 || v != 300 {
		t.Errorf("a tile still held changed: (511, 300) shows (%d, %d)", u, v)
	}
	if len(p.cache.spare) == 0 {
		t.Error("no buffer was kept for reuse")
	}
}

// TestLeastRecent: without word from Near, a tile that was looked at stays
// longer.
func TestLeastRecent(t *testing.T) {
	t.Parallel()
	c := newCache(3 * fullTile)
	put := func(x int) {
		c.put(Key{0, x, 0}, image.NewRGBA(image.Rect(0, 0, TileSize, TileSize)))
	}
	put(0)
	put(1)
	put(2)
	c.touch(Key{0, 0, 0})
	put(3)
	if !c.has(Key{0, 0, 0}) || c.has(Key{0, 1, 0}) || c.used != 3*fullTile {
		t.Errorf("tile 0 kept %v, tile 1 kept %v, %d bytes", c.has(Key{0, 0, 0}), c.has(Key{0, 1, 0}), c.used)
	}
}

// TestManyHands uses everything at once while the pyramid closes; it is for
// the race detector.
func TestManyHands(t *testing.T) {
	t.Parallel()
	m := image.NewYCbCr(image.Rect(0, 0, 3000, 2000), image.YCbCrSubsampleRatio420)
	for range 4 {
		p := New(m, Options{Budget: 5 * fullTile})
		var wg sync.WaitGroup
		for g := range 4 {
			wg.Go(func() { useAll(p, uint64(g)) })
		}
		time.Sleep(10 * time.Millisecond)
		p.Close()
		p.Close()
		wg.Wait()
		if s := p.Stats(); s.Tiles != 0 || s.LevelBytes != 0 || s.PictureBytes != 0 {
			t.Errorf("after Close: %+v", s)
		}
		if err := p.Region(image.NewRGBA(image.Rect(0, 0, 4, 4)), turned(0, 1, 0, 0), Bilinear); !errors.Is(err, ErrClosed) {
			t.Errorf("Region after Close: %v, want ErrClosed", err)
		}
		if c := p.Crop(image.Rect(0, 0, 4, 4)); c.RGBAAt(1, 1).A != 0 {
			t.Error("Crop after Close shows something")
		}
		if n := p.Request([]Key{{0, 0, 0}}, nil); n != 0 {
			t.Errorf("Request after Close: %d missing, want 0", n)
		}
	}
}

func useAll(p *Pyramid, seed uint64) {
	r := rand.New(rand.NewPCG(seed, 1))
	dst := image.NewRGBA(image.Rect(0, 0, 70, 70))
	for range 60 {
		k := Key{r.IntN(3), r.IntN(4), r.IntN(4)}
		p.Request([]Key{k, {0, r.IntN(6), r.IntN(4)}}, func() { p.Tile(k) })
		if img, ok := p.Tile(k); ok {
			_ = img.Pix[0]
			p.Release(img)
		}
		_ = p.Region(dst, turned(r.Float64()*6, 1+4*r.Float64(), 500, 500), Bilinear)
		p.Crop(image.Rect(1, 2, 90, 90))
		p.Stats()
		p.Ready(2)
	}
}

func TestWaitClosed(t *testing.T) {
	t.Parallel()
	p := New(image.NewGray(image.Rect(0, 0, 9000, 9000)), Options{})
	p.Close()
	if last := p.Levels() - 1; !p.Ready(last) {
		if err := p.Wait(last); !errors.Is(err, ErrClosed) {
			t.Errorf("Wait after Close: %v, want ErrClosed", err)
		}
	}
	if p.Ready(-1) || p.Ready(99) {
		t.Error("a level that does not exist is ready")
	}
}

// TestReportInSpiteOfWaitingLevels: tiles that can be made are reported at
// once, though others of the request wait for a level that is not there.
func TestReportInSpiteOfWaitingLevels(t *testing.T) {
	for range 20 {
		p := NewPending(image.Pt(1300, 1100), Options{})
		p.Preview(1, image.NewGray(image.Rect(0, 0, 650, 550)))
		came := make(chan bool, 16)
		p.Request([]Key{{Level: 0}, {Level: 1}}, func() { came <- true })
		select {
		case <-came:
		case <-time.After(patience):
			t.Fatal("no report of the preview's tile")
		}
		p.Close()
	}
}
