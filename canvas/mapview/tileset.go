package mapview

import (
	"cmp"
	"image"
	"math"
	"slices"

	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

// source hands out tiles of one plane: the picture itself or the picture
// rotated. Keys count tiles of 512 pixels of a level from the picture's (0, 0).
type source interface {
	tile(k pyramid.Key) (*image.RGBA, bool)
	request(keys []pyramid.Key, done func())
	release(img *image.RGBA)
	// extent is the range of tile indices of a level that can hold anything,
	// upper bounds excluded.
	extent(level int) image.Rectangle
	// holds says whether a tile within the extent shows any of the picture.
	holds(k pyramid.Key) bool
	// finest is the lowest level, below 0 where the plane is cut magnified.
	finest() int
	// ready says whether tiles of a level can be made now.
	ready(level int) bool
	// change says that a level of the picture looks otherwise than before.
	change(level int)
	// near says what is on screen, in pixels of a level.
	near(level int, at image.Rectangle)
	close()
}

// uprightTiles is the picture as it is.
type uprightTiles struct {
	p   *pyramid.Pyramid
	ask *pyramid.Asker
}

func (s uprightTiles) tile(k pyramid.Key) (*image.RGBA, bool)  { return s.p.Tile(k) }
func (s uprightTiles) request(keys []pyramid.Key, done func()) { s.ask.Request(keys, done) }
func (s uprightTiles) release(img *image.RGBA)                 { s.p.Release(img) }
func (s uprightTiles) holds(pyramid.Key) bool                  { return true }
func (s uprightTiles) finest() int                             { return 0 }
func (s uprightTiles) ready(level int) bool                    { return s.p.Ready(level) }
func (s uprightTiles) change(int)                              {} // the pyramid has dropped its tiles
func (s uprightTiles) near(level int, at image.Rectangle)      { s.ask.Near(level, at) }
func (s uprightTiles) close()                                  { s.ask.Leave() }
func (s uprightTiles) extent(level int) image.Rectangle {
	sz := s.p.LevelSize(level)
	const t = pyramid.TileSize
	return image.Rect(0, 0, (sz.X+t-1)/t, (sz.Y+t-1)/t)
}

// levelOf is the level to draw, within the given ones, and the number of
// screen pixels of its full tile.
func levelOf(v view.View, finest, levels int) (level int, side float64) {
	n, m := v.Level()
	level = min(max(n, finest), max(levels-1, 0))
	return level, math.Ldexp(float64(m), level-n)
}

// margin is how many tiles beyond the map area are listed on each side.
type margin struct{ left, top, right, bottom int }

// marginOf has one tile on each side, and more where the sheet comes from.
func marginOf(x, y int) margin {
	return margin{1 + max(-x, 0), 1 + max(-y, 0), 1 + max(x, 0), 1 + max(y, 0)}
}

// onScreen is what the map area shows of a level, in its pixels.
func onScreen(v view.View, level int) image.Rectangle {
	r, f := v.Visible(), math.Ldexp(1, -level)
	return image.Rect(int(r.Min.X*f), int(r.Min.Y*f), int(math.Ceil(r.Max.X*f)), int(math.Ceil(r.Max.Y*f)))
}

// visible lists the tiles of a level that the map area shows, nearest to its
// middle first, with a margin.
func visible(v view.View, s source, level int, side float64, grow margin) []pyramid.Key {
	w, h := v.Viewport()
	o := v.Offset()
	in := s.extent(level)
	r := image.Rect(
		int(math.Floor(-o.X/side))-grow.left, int(math.Floor(-o.Y/side))-grow.top,
		int(math.Ceil((float64(w)-o.X)/side))+grow.right, int(math.Ceil((float64(h)-o.Y)/side))+grow.bottom).Intersect(in)
	keys := make([]pyramid.Key, 0, max(0, r.Dx()*r.Dy()))
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			if k := (pyramid.Key{Level: level, X: x, Y: y}); s.holds(k) {
				keys = append(keys, k)
			}
		}
	}
	c := v.Middle()
	far := func(k pyramid.Key) float64 {
		return math.Hypot(o.X+(float64(k.X)+0.5)*side-c.X, o.Y+(float64(k.Y)+0.5)*side-c.Y)
	}
	slices.SortFunc(keys, func(a, b pyramid.Key) int { return cmp.Compare(far(a), far(b)) })
	return keys
}

// parent is the tile k levels coarser that covers t.
func parent(t pyramid.Key, k int) pyramid.Key {
	return pyramid.Key{Level: t.Level + k, X: t.X >> k, Y: t.Y >> k}
}
