package mapview

import (
	"cmp"
	"image"
	"math"
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

const (
	// spareTiles is how many tiles out of sight keep their textures.
	spareTiles = 12
	// freshTiles is how many tiles may become textures within freshTime, about
	// a frame, while the sheet moves: an upload takes the main thread a quarter
	// of a millisecond. On a sheet at rest, all that has come is shown at once.
	freshTiles = 4
	freshTime  = 12 * time.Millisecond
	// pixelsFrom is the magnification from which pixels are shown as squares:
	// smoothing shows seams between tiles.
	pixelsFrom = 2
	// keptSide is the longer side in pixels of the level that is always held, so
	// that something stands under every missing tile.
	keptSide = 1024
)

// placedTile is a tile on the canvas.
type placedTile struct {
	img   *canvas.Raster
	pix   *image.RGBA
	used  int  // the last round in which it was shown
	stale bool // the picture has changed since
}

// tileLayer keeps the tiles of one source on the canvas.
type tileLayer struct {
	src    source
	pic    *pyramid.Pyramid // in whose budget the textures are counted
	levels int
	kept   int // the level always held
	placed map[pyramid.Key]*placedTile
	on     fyne.Canvas // where they were shown last; nil before
	round  int
	now    func() time.Time
	fresh  int // textures made since
	since  time.Time
	held   bool // tiles in memory wait for the next frame
	moving bool // the sheet is moving: few textures a frame

	shown, want []pyramid.Key // used anew in each round
	seen        map[pyramid.Key]bool
}

func newTileLayer(src source, p *pyramid.Pyramid, now func() time.Time) *tileLayer {
	s := &tileLayer{src: src, pic: p, now: now, levels: p.Levels(), placed: map[pyramid.Key]*placedTile{}, seen: map[pyramid.Key]bool{}}
	for s.kept < s.levels-1 && max(p.LevelSize(s.kept).X, p.LevelSize(s.kept).Y) > keptSide {
		s.kept++
	}
	return s
}

// show finds the tiles for the view, asks for those that are missing, places
// what there is on c and adds it to out from the coarsest up. done is called
// from a worker when tiles have come in. It also says how many are missing.
func (s *tileLayer) show(out []fyne.CanvasObject, c fyne.Canvas, f frame, v view.View, d velocity, done func()) ([]fyne.CanvasObject, int) {
	s.round++
	s.on = c
	s.held, s.moving = false, d != velocity{}
	level, side := levelOf(v, s.src.finest(), s.levels)
	s.src.near(level, onScreen(v, level))
	s.shown, s.want = s.shown[:0], s.want[:0]
	clear(s.seen)
	for _, k := range visible(v, s.src, level, side, margin{}) {
		p := s.placedTile(k)
		if p == nil || p.stale {
			s.want = append(s.want, k)
		}
		if p != nil {
			s.shown = append(s.shown, k)
			continue
		}
		s.finer(k)
		if q, ok := s.standIn(k); ok && !s.seen[q] {
			s.seen[q] = true
			s.shown = append(s.shown, q)
			if s.placed[q].stale {
				s.want = append(s.want, q)
			}
		}
	}
	missing := len(s.want)
	s.wishes(v, level, side, d)
	s.src.request(s.want, done)
	slices.SortStableFunc(s.shown, func(a, b pyramid.Key) int { return cmp.Compare(b.Level, a.Level) })
	for _, k := range s.shown {
		out = append(out, s.put(c, f, v, k, math.Ldexp(side, k.Level-level)))
	}
	s.sweep(c)
	return out, missing
}

// wishes adds to the missing tiles: while the level shown is not ready, the
// finest that is; the level always held; and what comes into sight soon.
func (s *tileLayer) wishes(v view.View, level int, side float64, d velocity) {
	for n := level + 1; n < s.kept && len(s.want) > 0 && !s.src.ready(n-1); n++ {
		if s.src.ready(n) {
			s.want = append(s.want, visible(v, s.src, n, math.Ldexp(side, n-level), margin{})...)
			break
		}
	}
	all := s.src.extent(s.kept)
	for y := all.Min.Y; y < all.Max.Y; y++ {
		for x := all.Min.X; x < all.Max.X; x++ {
			s.want = append(s.want, pyramid.Key{Level: s.kept, X: x, Y: y})
		}
	}
	if n := level + d.next(); n != level && n >= s.src.finest() && n < s.levels && s.src.ready(n) {
		s.want = append(s.want, soonest(visible(v, s.src, n, math.Ldexp(side, n-level), margin{}), aheadMost)...)
	}
	x, y := d.ahead(side)
	s.want = append(s.want, visible(v, s.src, level, side, marginOf(x, y))...)
}

// aheadMost is how many tiles of the next level are made ahead.
const aheadMost = 12

// soonest is the first few of keys.
func soonest(keys []pyramid.Key, n int) []pyramid.Key { return keys[:min(n, len(keys))] }

// change marks a level of the picture as no longer what it was.
func (s *tileLayer) change(level int) {
	s.src.change(level)
	for k, p := range s.placed {
		if max(k.Level, 0) == level {
			p.stale = true
		}
	}
}

// placedTile gives the tile's object, made when its pixels are in memory.
func (s *tileLayer) placedTile(k pyramid.Key) *placedTile {
	p := s.placed[k]
	if p != nil && !p.stale {
		return p
	}
	if !s.free() {
		return p
	}
	pix, ok := s.src.tile(k)
	if !ok {
		return p
	}
	s.fresh++
	if p != nil {
		s.renew(p, pix)
		return p
	}
	p = &placedTile{pix: pix}
	p.img = rasterOf(canvas.ImageScaleFastest, func() *image.RGBA { return p.pix })
	s.placed[k] = p
	s.pic.Reserve(int64(len(pix.Pix))) // the texture's copy
	return p
}

// free says whether another tile may become a texture in this frame. The level
// always held is small and has its tiles before.
func (s *tileLayer) free() bool {
	if now := s.now(); now.Sub(s.since) > freshTime {
		s.since, s.fresh = now, 0
	}
	if s.fresh < freshTiles || !s.moving {
		return true
	}
	s.held = true
	return false
}

// charge counts another picture of some bytes that has just gone to the
// graphics side as the tiles it is as large as.
func (s *tileLayer) charge(bytes int) {
	s.free() // a new frame begins a new count
	s.fresh += bytes / (4 * pyramid.TileSize * pyramid.TileSize)
}

// finer shows the four tiles under a missing one that are still on the canvas.
func (s *tileLayer) finer(k pyramid.Key) {
	for i := range 4 {
		c := pyramid.Key{Level: k.Level - 1, X: 2*k.X + i%2, Y: 2*k.Y + i/2}
		if s.placed[c] != nil {
			s.shown = append(s.shown, c)
		}
	}
}

// renew puts other pixels in the place of those shown.
func (s *tileLayer) renew(p *placedTile, pix *image.RGBA) {
	p.stale = false
	s.src.release(p.pix)
	if p.pix == pix {
		return
	}
	p.pix = pix
	refreshOn(s.on, p.img)
}

// standIn is the nearest coarser tile that is in memory.
func (s *tileLayer) standIn(k pyramid.Key) (pyramid.Key, bool) {
	for n := 1; k.Level+n < s.levels; n++ {
		if p := parent(k, n); s.placedTile(p) != nil {
			return p, true
		}
	}
	return pyramid.Key{}, false
}

// put places a tile whose full side is side screen pixels.
func (s *tileLayer) put(c fyne.Canvas, f frame, v view.View, k pyramid.Key, side float64) fyne.CanvasObject {
	p := s.placed[k]
	p.used = s.round
	mode := canvas.ImageScaleFastest
	if side >= pixelsFrom*pyramid.TileSize {
		mode = canvas.ImageScalePixels
	}
	if p.img.ScaleMode != mode {
		p.img.ScaleMode = mode
		refreshOn(c, p.img)
	}
	r := tileRect(v, k, side, p.pix.Rect.Size())
	place(c, p.img, f.pos(r.x0, r.y0), f.extent(r.x1-r.x0, r.y1-r.y0))
	return p.img
}

// box is a rectangle on whole screen pixels.
type box struct{ x0, y0, x1, y1 float64 }

// tileRect is where a tile of size pixels is drawn when a full one has side
// screen pixels.
func tileRect(v view.View, k pyramid.Key, side float64, size image.Point) box {
	o := v.Offset()
	x, y := o.X+float64(k.X)*side, o.Y+float64(k.Y)*side
	const t = pyramid.TileSize
	r := box{math.Round(x), math.Round(y), math.Round(x + side*float64(size.X)/t), math.Round(y + side*float64(size.Y)/t)}
	r.x1, r.y1 = max(r.x1, r.x0+1), max(r.y1, r.y0+1)
	return r
}

// sweep drops the tiles that have been out of sight longest.
func (s *tileLayer) sweep(c fyne.Canvas) {
	var idle []pyramid.Key
	for k, p := range s.placed {
		if p.used != s.round {
			idle = append(idle, k)
		}
	}
	if len(idle) <= spareTiles {
		return
	}
	slices.SortFunc(idle, func(a, b pyramid.Key) int { return cmp.Compare(s.placed[a].used, s.placed[b].used) })
	for _, k := range idle[:len(idle)-spareTiles] {
		s.drop(c, k)
	}
}

// drop frees the texture and gives the pixels back. The toolkit remembers the
// object for a minute more, and must not hold the pixels through it.
func (s *tileLayer) drop(c fyne.Canvas, k pyramid.Key) {
	p := s.placed[k]
	delete(s.placed, k)
	if c != nil {
		c.Refresh(p.img)
	}
	s.pic.Unreserve(int64(len(p.pix.Pix)))
	s.src.release(p.pix)
	p.pix = nil
}

// close drops everything.
func (s *tileLayer) close(c fyne.Canvas) {
	for k := range s.placed {
		s.drop(c, k)
	}
	s.src.close()
}
