package pyramid

import "image"

// tiled is a level kept as raw tiles, whether they are in memory (grid), made
// from a finer picture or read from disk when wanted (fetch).
type tiled struct {
	sz   image.Point
	form kind
	// grid holds the raw tiles row by row; nil where fetch is to be asked.
	grid []*rawTile
	// fetch borrows a raw tile; what it gives back must be called when done. keep
	// says that the raw tile is likely to be wanted again soon.
	fetch func(x, y int, keep bool) (*rawTile, func(), error)
}

// span is the number of tiles over n pixels.
func span(n int) int { return (n + TileSize - 1) / TileSize }

// rawTileRect is the part of a level of sz pixels that a tile covers.
func rawTileRect(sz image.Point, x, y int) image.Rectangle {
	o := image.Pt(x*TileSize, y*TileSize)
	return image.Rectangle{o, o.Add(image.Pt(TileSize, TileSize))}.Intersect(image.Rectangle{Max: sz})
}

func (l *tiled) size() image.Point { return l.sz }
func (l *tiled) kind() kind        { return l.form }

func (l *tiled) bytes() int64 {
	n := int64(0)
	for _, s := range l.grid {
		n += int64(cap(s.pix))
	}
	return n
}

func (l *tiled) cut(pix []uint8, stride int, r image.Rectangle, raw bool) error {
	for y := r.Min.Y / TileSize; y < span(r.Max.Y); y++ {
		for x := r.Min.X / TileSize; x < span(r.Max.X); x++ {
			if err := l.cutFrom(x, y, pix, stride, r, raw); err != nil {
				return err
			}
		}
	}
	return nil
}

// cutFrom is the part of cut that lies in one raw tile.
func (l *tiled) cutFrom(x, y int, pix []uint8, stride int, r image.Rectangle, raw bool) error {
	at := rawTileRect(l.sz, x, y)
	in := at.Intersect(r)
	s, done, err := l.rawTile(x, y, in != at) // one that is cut whole is kept as a tile
	if err != nil {
		return err
	}
	defer done()
	to := pix[(in.Min.Y-r.Min.Y)*stride+4*(in.Min.X-r.Min.X):]
	return s.layer().cut(to, stride, in.Sub(at.Min), raw)
}

func (l *tiled) rawTile(x, y int, keep bool) (*rawTile, func(), error) {
	if l.grid != nil {
		return l.grid[y*span(l.sz.X)+x], func() {}, nil
	}
	return l.fetch(x, y, keep)
}

// sameAs says whether two levels show the same, byte by byte.
func (l *tiled) sameAs(m *tiled) bool {
	if l.sz != m.sz || l.form != m.form || len(l.grid) != len(m.grid) {
		return false
	}
	for i, s := range l.grid {
		if string(s.pix) != string(m.grid[i].pix) {
			return false
		}
	}
	return true
}
