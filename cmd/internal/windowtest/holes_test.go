package windowtest

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"math"
	"math/rand/v2"
	"testing"

	"legwright/canvas/pyramid"
	"legwright/cmd/internal/xdisplay"
)

// The comparison is held to account on a made screen, on which the bench's own
// tiles are drawn one by one as a graphics card does, with weights of eight
// bits. Then one of them is replaced by what must not stand there.

// screen is a made screen with the tiles of a picture.
type screen struct {
	*image.RGBA
	p     xdisplay.Probe
	tiles *pyramid.Pyramid
	level int
	side  int // screen pixels of a full tile
}

// newScreen draws a picture with the tiles of a level on side screen pixels
// each and its corner at a window pixel.
func newScreen(t *testing.T, pic image.Image, level, side int, corner image.Point) *screen {
	t.Helper()
	tiles := pyramid.New(pic, pyramid.Options{})
	t.Cleanup(tiles.Close)
	must(t, tiles.WaitWhole())
	scale := math.Ldexp(float64(side)/pyramid.TileSize, -level)
	area := xdisplay.Rect{X: 0, Y: 22.797, W: 1070, H: 618.2}
	s := &screen{
		RGBA: image.NewRGBA(image.Rect(0, 0, 1070, 700)), tiles: tiles, level: level, side: side,
		p: xdisplay.Probe{Sheet: area, View: [6]float64{scale, 0, float64(corner.X), 0, scale, float64(corner.Y - 23)}},
	}
	size := tiles.LevelSize(level)
	for y := 0; y*pyramid.TileSize < size.Y; y++ {
		for x := 0; x*pyramid.TileSize < size.X; x++ {
			s.put(t, pyramid.Key{Level: level, X: x, Y: y}, s.rect(x, y))
		}
	}
	return s
}

// rect is where a tile of the screen's level stands.
func (s *screen) rect(x, y int) image.Rectangle {
	in := s.tiles.LevelSize(s.level)
	w := min(pyramid.TileSize, in.X-x*pyramid.TileSize)
	h := min(pyramid.TileSize, in.Y-y*pyramid.TileSize)
	at := image.Pt(int(s.p.View[2])+x*s.side, int(s.p.View[5])+23+y*s.side)
	return image.Rectangle{at, at.Add(image.Pt(stretched(w, s.side), stretched(h, s.side)))}
}

func stretched(pixels, side int) int {
	return int(math.Round(float64(pixels*side) / pyramid.TileSize))
}

// put draws a tile over a rectangle.
func (s *screen) put(t *testing.T, k pyramid.Key, at image.Rectangle) {
	t.Helper()
	if at.Intersect(s.Rect).Empty() {
		return
	}
	tile := tileOf(t, s.tiles, k)
	for y := max(at.Min.Y, 0); y < min(at.Max.Y, s.Rect.Max.Y); y++ {
		for x := max(at.Min.X, 0); x < min(at.Max.X, s.Rect.Max.X); x++ {
			u := (float64(x-at.Min.X) + 0.5) / float64(at.Dx()) * float64(tile.Rect.Dx())
			v := (float64(y-at.Min.Y) + 0.5) / float64(at.Dy()) * float64(tile.Rect.Dy())
			s.Set(x, y, texel(tile, u, v, at.Dx() >= 2*tile.Rect.Dx()))
		}
	}
}

// texel reads a texture at a position, clamped to its edge.
func texel(m *image.RGBA, u, v float64, squares bool) color.Color {
	at := func(x, y int) int {
		x, y = min(max(x, 0), m.Rect.Dx()-1), min(max(y, 0), m.Rect.Dy()-1)
		return int(m.Pix[m.PixOffset(x, y)])
	}
	if squares {
		return color.Gray{uint8(at(int(u), int(v)))}
	}
	x, y := int(math.Floor(u-0.5)), int(math.Floor(v-0.5))
	f, g := int(256*(u-0.5-float64(x))), int(256*(v-0.5-float64(y)))
	top, low := at(x, y)*(256-f)+at(x+1, y)*f, at(x, y+1)*(256-f)+at(x+1, y+1)*f
	return color.Gray{uint8((top*(256-g) + low*g + 1<<15) >> 16)}
}

// tileOf makes a tile and waits for it.
func tileOf(t *testing.T, p *pyramid.Pyramid, k pyramid.Key) *image.RGBA {
	t.Helper()
	came := make(chan struct{}, 1)
	if p.Request([]pyramid.Key{k}, func() { came <- struct{}{} }) > 0 {
		<-came
	}
	tile, ok := p.Tile(k)
	if !ok {
		t.Fatalf("there is no tile %v", k)
	}
	return tile
}

// madeMap is a picture with the look of a map: bent lines of one to three
// pixels on paper that is not quite even, and specks as of figures.
func madeMap(w, h int) *image.Gray {
	dice := rand.New(rand.NewPCG(4, 2))
	m := image.NewGray(image.Rect(0, 0, w, h))
	for i := range m.Pix {
		m.Pix[i] = uint8(232 + dice.IntN(12))
	}
	for range w * h / 2500 {
		x, y, turn := dice.Float64()*float64(w), dice.Float64()*float64(h), dice.Float64()*7
		dark, wide := uint8(30+dice.IntN(120)), 1+dice.IntN(3)
		for range 20 + dice.IntN(120) {
			turn += (dice.Float64() - 0.5) / 3
			x, y = x+math.Cos(turn), y+math.Sin(turn)
			draw.Draw(m, image.Rect(int(x), int(y), int(x)+wide, int(y)+wide), image.NewUniform(color.Gray{dark}), image.Point{}, draw.Src)
		}
	}
	return m
}

// detail is how much there is to be seen in a block of the screen: the standard
// deviation of its luma, grey steps.
func (s *screen) detail(b image.Rectangle) float64 {
	sum, squares, n := 0.0, 0.0, float64(b.Dx()*b.Dy())
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			v := lumaOf(s.At(x, y))
			sum, squares = sum+v, squares+v*v
		}
	}
	return math.Sqrt(squares/n - sum*sum/n/n)
}

// clone is a screen whose pixels may be changed.
func (s *screen) clone() *screen {
	c := *s
	c.RGBA = image.NewRGBA(s.Rect)
	copy(c.Pix, s.Pix)
	return &c
}

// faults are what may stand in the place of a tile. The tile is 1, 1 of the
// screen's level and at is its rectangle.
func faults() map[string]func(t *testing.T, s *screen, at image.Rectangle) {
	over := func(levels int) func(*testing.T, *screen, image.Rectangle) {
		return func(t *testing.T, s *screen, at image.Rectangle) {
			under := s.clone()
			k := pyramid.Key{Level: s.level + levels, X: 1 >> levels, Y: 1 >> levels}
			under.put(t, k, coarser(s, k, levels))
			draw.Draw(s, at, under, at.Min, draw.Src)
		}
	}
	return map[string]func(t *testing.T, s *screen, at image.Rectangle){
		"no tile": func(_ *testing.T, s *screen, at image.Rectangle) {
			draw.Draw(s, at, image.White, image.Point{}, draw.Src)
		},
		"one level coarser":  over(1),
		"two levels coarser": over(2),
		"tile of elsewhere": func(t *testing.T, s *screen, at image.Rectangle) {
			s.put(t, pyramid.Key{Level: s.level, X: 2, Y: 1}, at)
		},
		"two pixels aside": func(t *testing.T, s *screen, at image.Rectangle) {
			s.put(t, pyramid.Key{Level: s.level, X: 1, Y: 1}, at.Add(image.Pt(2, 0)))
		},
		"two pixels down": func(t *testing.T, s *screen, at image.Rectangle) {
			s.put(t, pyramid.Key{Level: s.level, X: 1, Y: 1}, at.Add(image.Pt(0, 2)))
		},
	}
}

// coarser is where a tile some levels above the screen's is drawn.
func coarser(s *screen, k pyramid.Key, levels int) image.Rectangle {
	side := s.side << levels
	in := s.tiles.LevelSize(k.Level)
	at := image.Pt(int(s.p.View[2])+k.X*side, int(s.p.View[5])+23+k.Y*side)
	w, h := min(pyramid.TileSize, in.X-k.X*pyramid.TileSize), min(pyramid.TileSize, in.Y-k.Y*pyramid.TileSize)
	return image.Rectangle{at, at.Add(image.Pt(stretched(w, side), stretched(h, side)))}
}

// TestHolesAreFound finds no hole where none is, and every block with detail
// that lies in one, at scales all the way between two levels.
func TestHolesAreFound(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ level, side int }{{0, 512}, {0, 328}, {0, 262}, {0, 257}, {1, 512}, {1, 335}, {1, 268}, {2, 300}} {
		pic := madeMap(1500<<c.level+211, 1300<<c.level+77)
		ref := newReference(pic)
		t.Run(fmt.Sprintf("level %d on %d pixels", c.level, c.side), func(t *testing.T) {
			t.Parallel()
			good := newScreen(t, pic, c.level, c.side, image.Pt(140-c.side, 80-c.side))
			holes, compared := ref.Holes(good, image.Point{}, good.p)
			if len(holes) != 0 || compared < 40 {
				t.Errorf("%d holes in %d blocks, want none in 40 or more", len(holes), compared)
			}
			for name, put := range faults() {
				bad := good.clone()
				at := bad.rect(1, 1)
				put(t, bad, at)
				ref.holdTo(t, name, good, bad, at)
			}
		})
	}
}

// leastDetail is the standard deviation, grey steps, from which on a block has
// detail. The paper's unevenness alone is 3.5.
const leastDetail = 4

// holdTo wants every block with detail within at to be found, and none that
// is as it was.
func (r *Reference) holdTo(t *testing.T, name string, good, bad *screen, at image.Rectangle) {
	t.Helper()
	found := map[image.Rectangle]bool{}
	holes, _ := r.Holes(bad, image.Point{}, bad.p)
	for _, h := range holes {
		found[h] = true
		if h.Intersect(at.Inset(-2)).Empty() {
			t.Errorf("%s: a hole at %v, where nothing is wrong", name, h)
		}
	}
	in := 0
	for _, b := range r.blocks(good.p) {
		if !b.In(at) || good.detail(b) < leastDetail {
			continue
		}
		if in++; !found[b] {
			t.Errorf("%s: the block at %v is not found, %+v", name, b, r.compare(bad, image.Point{}, bad.p, b))
		}
	}
	if in < 4 {
		t.Errorf("%s: %d blocks with detail lie in the hole, want 4 or more", name, in)
	}
}
