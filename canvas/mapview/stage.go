package mapview

import (
	"cmp"
	"image"
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

const (
	// spareTiles is how many tiles out of sight keep their textures.
	spareTiles = 24
	// pixelsFrom is the magnification from which pixels are shown as squares:
	// smoothing shows seams between tiles.
	pixelsFrom = 2
	// keptSide is the longer side in pixels of the level that is always held, so
	// that something stands under every missing tile.
	keptSide = 1024
)

// piece is a tile on the canvas.
type piece struct {
	img  *canvas.Image
	pix  *image.RGBA
	used int // the last round in which it was shown
}

// stage keeps the tiles of one source on the canvas.
type stage struct {
	src    source
	levels int
	kept   int // the level always held
	pieces map[pyramid.Key]*piece
	round  int
}

func newStage(src source, p *pyramid.Pyramid) *stage {
	s := &stage{src: src, levels: p.Levels(), pieces: map[pyramid.Key]*piece{}}
	for s.kept < s.levels-1 && max(p.LevelSize(s.kept).X, p.LevelSize(s.kept).Y) > keptSide {
		s.kept++
	}
	return s
}

// show finds the tiles for the view, asks for those that are missing, places
// what there is on c and returns it from the coarsest up. done is called from
// a worker when tiles have come in. It also says how many are missing.
func (s *stage) show(c fyne.Canvas, f frame, v view.View, done func()) ([]fyne.CanvasObject, int) {
	s.round++
	level, side := levelOf(v, s.src.finest(), s.levels)
	var shown, want []pyramid.Key
	seen := map[pyramid.Key]bool{}
	for _, k := range visible(v, s.src, level, side, 0) {
		if s.piece(k) != nil {
			shown = append(shown, k)
			continue
		}
		want = append(want, k)
		if p, ok := s.standIn(k); ok && !seen[p] {
			seen[p] = true
			shown = append(shown, p)
		}
	}
	missing := len(want)
	s.src.request(s.wishes(v, level, side, want), done)
	slices.SortStableFunc(shown, func(a, b pyramid.Key) int { return cmp.Compare(b.Level, a.Level) })
	out := make([]fyne.CanvasObject, 0, len(shown)+8)
	for _, k := range shown {
		out = append(out, s.put(c, f, v, k, math.Ldexp(side, k.Level-level)))
	}
	s.sweep(c)
	return out, missing
}

// wishes adds to the missing tiles the level always held and, last, the rim
// around the map area.
func (s *stage) wishes(v view.View, level int, side float64, want []pyramid.Key) []pyramid.Key {
	all := s.src.extent(s.kept)
	for y := all.Min.Y; y < all.Max.Y; y++ {
		for x := all.Min.X; x < all.Max.X; x++ {
			want = append(want, pyramid.Key{Level: s.kept, X: x, Y: y})
		}
	}
	return append(want, visible(v, s.src, level, side, 1)...)
}

// piece gives the tile's object, made when its pixels are in memory.
func (s *stage) piece(k pyramid.Key) *piece {
	if p := s.pieces[k]; p != nil {
		return p
	}
	pix, ok := s.src.tile(k)
	if !ok {
		return nil
	}
	p := &piece{img: canvas.NewImageFromImage(pix), pix: pix}
	p.img.ScaleMode = canvas.ImageScaleFastest
	s.pieces[k] = p
	return p
}

// standIn is the nearest coarser tile that is in memory.
func (s *stage) standIn(k pyramid.Key) (pyramid.Key, bool) {
	for n := 1; k.Level+n < s.levels; n++ {
		if p := parent(k, n); s.piece(p) != nil {
			return p, true
		}
	}
	return pyramid.Key{}, false
}

// put places a tile whose full side is side screen pixels.
func (s *stage) put(c fyne.Canvas, f frame, v view.View, k pyramid.Key, side float64) fyne.CanvasObject {
	p := s.pieces[k]
	p.used = s.round
	mode := canvas.ImageScaleFastest
	if side >= pixelsFrom*pyramid.TileSize {
		mode = canvas.ImageScalePixels
	}
	if p.img.ScaleMode != mode {
		p.img.ScaleMode = mode
		canvas.Refresh(p.img)
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
func (s *stage) sweep(c fyne.Canvas) {
	var idle []pyramid.Key
	for k, p := range s.pieces {
		if p.used != s.round {
			idle = append(idle, k)
		}
	}
	if len(idle) <= spareTiles {
		return
	}
	slices.SortFunc(idle, func(a, b pyramid.Key) int { return cmp.Compare(s.pieces[a].used, s.pieces[b].used) })
	for _, k := range idle[:len(idle)-spareTiles] {
		s.drop(c, k)
	}
}

// drop frees the texture and gives the pixels back.
func (s *stage) drop(c fyne.Canvas, k pyramid.Key) {
	p := s.pieces[k]
	delete(s.pieces, k)
	if c != nil {
		c.Refresh(p.img)
	}
	s.src.release(p.pix)
}

// close drops everything.
func (s *stage) close(c fyne.Canvas) {
	for k := range s.pieces {
		s.drop(c, k)
	}
	s.src.close()
}
