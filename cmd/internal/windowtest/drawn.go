package windowtest

import (
	"image"
	"math"

	"legwright/cmd/internal/xdisplay"
)

// What the screen must show is more than a level: the bench hands each tile of
// a level to the graphics side, which stretches it over a rectangle of whole
// screen pixels and reads it between the middles of its pixels, and at the
// tile's edge from that tile alone. At a scale a little above that of the next
// level this differs from a smooth reading by as much as the two levels
// differ, so the comparison draws as the bench does.

const (
	// tileSide is the side in pixels of a full tile.
	tileSide = 512
	// squaresFrom is the magnification from which a tile's pixels are drawn as
	// squares.
	squaresFrom = 2
)

// tap is from where in a level one screen pixel is read along one axis: the
// share f of b, the rest of a.
type tap struct {
	a, b int
	f    float64
}

// taps are those of screen pixels from to to, counted from the picture's
// corner, on a level of size pixels whose full tile is side screen pixels.
func taps(from, to, size int, side float64) []tap {
	list := make([]tap, 0, to-from)
	for i := from; i < to; i++ {
		list = append(list, tapOf(i, size, side))
	}
	return list
}

func tapOf(i, size int, side float64) tap {
	at := float64(i) + 0.5
	k := min(int(at/side), (size-1)/tileSide)
	first := math.Round(float64(k) * side)
	if at < first { // the tile before reaches this far
		k--
		first = math.Round(float64(k) * side)
	}
	pixels := min(tileSide, size-k*tileSide)
	drawn := math.Round(float64(k)*side+side*float64(pixels)/tileSide) - first
	u := min(max((at-first)/drawn*float64(pixels), 0), float64(pixels))
	if side >= squaresFrom*tileSide {
		a := k*tileSide + min(int(u), pixels-1)
		return tap{a: a, b: a}
	}
	u = min(max(u-0.5, 0), float64(pixels-1))
	a := int(u)
	return tap{k*tileSide + a, k*tileSide + min(a+1, pixels-1), u - float64(a)}
}

// drawn is the luma of a block of the window as it looks when the tiles of a
// level are drawn there, row by row.
func (r *Reference) drawn(p xdisplay.Probe, b image.Rectangle, level int) []float64 {
	l := r.levels[level]
	side := math.Ldexp(p.View[0], level) * tileSide
	o := corner(p)
	across := taps(b.Min.X-o.X, b.Max.X-o.X, l.Rect.Dx(), side)
	down := taps(b.Min.Y-o.Y, b.Max.Y-o.Y, l.Rect.Dy(), side)
	out := make([]float64, 0, len(across)*len(down))
	for _, v := range down {
		top, low := l.Pix[v.a*l.Stride:], l.Pix[v.b*l.Stride:]
		for _, u := range across {
			upper := float64(top[u.a])*(1-u.f) + float64(top[u.b])*u.f
			lower := float64(low[u.a])*(1-u.f) + float64(low[u.b])*u.f
			out = append(out, upper*(1-v.f)+lower*v.f)
		}
	}
	return out
}

// corner is the window's pixel at which the picture begins, of a sheet that
// stands upright. The bench puts it on a whole pixel.
func corner(p xdisplay.Probe) image.Point {
	return image.Pt(int(math.Round(p.Sheet.X)+p.View[2]), int(math.Round(p.Sheet.Y)+p.View[5]))
}

// levelShown is the level that must be shown: the coarsest that need not be
// magnified.
func levelShown(p xdisplay.Probe, levels int) int {
	n := int(math.Floor(-math.Log2(math.Hypot(p.View[0], p.View[3])) + 1e-9))
	return min(max(n, 0), levels-1)
}

// covers says whether the block lies on the picture.
func (r *Reference) covers(p xdisplay.Probe, b image.Rectangle) bool {
	o, size := corner(p), r.size()
	in := image.Rect(0, 0, int(float64(size.X)*p.View[0])-1, int(float64(size.Y)*p.View[4])-1).Add(o)
	return b.In(in)
}
