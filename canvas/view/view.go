package view

import "math"

const (
	// TileSize is the side of a tile in pixels of its level.
	TileSize = 512
	// MaxScale is the strongest magnification, screen pixels a picture pixel.
	MaxScale = 64
	// fitShare is the part of the map area that a fitted sheet fills.
	fitShare = 0.97
)

// View is where the picture stands on the screen. The zero View shows
// nothing; make one with New. Views are values: every method returns a new
// one and leaves its receiver alone. Arguments that are not finite change
// nothing.
type View struct {
	scale    float64 // screen pixels a picture pixel
	rot      float64 // turn of the picture on the screen, clockwise, radians
	sin, cos float64
	off      ScreenPt // where the picture's (0, 0) stands
	vw, vh   float64  // the map area, screen pixels
	pw, ph   float64  // the picture, pixels
}

// New returns the upright view in which a picture of picW × picH pixels just
// fits a map area of viewW × viewH screen pixels. Sizes below 1 count as 1.
func New(picW, picH, viewW, viewH int) View {
	v := View{
		scale: 1, cos: 1,
		pw: float64(max(picW, 1)), ph: float64(max(picH, 1)),
		vw: float64(max(viewW, 1)), vh: float64(max(viewH, 1)),
	}
	return v.Fit()
}

// IsZero says whether the view was never made by New.
func (v View) IsZero() bool { return v.scale == 0 }

// Scale is the number of screen pixels a picture pixel.
func (v View) Scale() float64 { return v.scale }

// Rotation is the turn of the picture on the screen in radians, clockwise,
// in (−π, π].
func (v View) Rotation() float64 { return v.rot }

// Offset is the screen position of the picture's corner (0, 0), in whole
// screen pixels.
func (v View) Offset() ScreenPt { return v.off }

// Viewport is the size of the map area in screen pixels.
func (v View) Viewport() (w, h int) { return int(v.vw), int(v.vh) }

// Picture is the size of the picture in pixels.
func (v View) Picture() (w, h int) { return int(v.pw), int(v.ph) }

// Middle is the centre of the map area.
func (v View) Middle() ScreenPt { return ScreenPt{v.vw / 2, v.vh / 2} }

// ToScreen returns where a picture position is drawn.
func (v View) ToScreen(p PicPt) ScreenPt {
	return ScreenPt{
		v.off.X + v.scale*(v.cos*p.X-v.sin*p.Y),
		v.off.Y + v.scale*(v.sin*p.X+v.cos*p.Y),
	}
}

// ToPicture returns which picture position is drawn at s. Of the zero View it
// is (0, 0).
func (v View) ToPicture(s ScreenPt) PicPt {
	if v.scale == 0 {
		return PicPt{}
	}
	x, y := (s.X-v.off.X)/v.scale, (s.Y-v.off.Y)/v.scale
	return PicPt{v.cos*x + v.sin*y, v.cos*y - v.sin*x}
}

// Visible returns the upright rectangle of picture pixels, cut to the
// picture, that holds everything on screen.
func (v View) Visible() Rect {
	r := RectOf(
		v.ToPicture(ScreenPt{}), v.ToPicture(ScreenPt{v.vw, 0}),
		v.ToPicture(ScreenPt{0, v.vh}), v.ToPicture(ScreenPt{v.vw, v.vh}))
	r.Min = PicPt{min(max(r.Min.X, 0), v.pw), min(max(r.Min.Y, 0), v.ph)}
	r.Max = PicPt{min(max(r.Max.X, 0), v.pw), min(max(r.Max.Y, 0), v.ph)}
	return r
}

// Level is the level drawn at this scale, and the number m in (256, 512] of
// screen pixels on which a full tile of 512 of its pixels is drawn. Level n is
// the picture at 1/2ⁿ; below 0 it is the picture magnified.
func (v View) Level() (level, m int) { return lattice(v.scale) }

// lattice gives the coarsest level whose pixels are not magnified, and the
// screen pixels of its full tile, rounded.
func lattice(scale float64) (level, m int) {
	if !(scale > 0) {
		return 0, TileSize
	}
	level = int(math.Floor(-math.Log2(scale) + 1e-9))
	m = int(math.Round(math.Ldexp(scale, level) * TileSize))
	if m <= TileSize/2 {
		return level + 1, TileSize
	}
	return level, m
}

// settle returns the view with its scale within limits and on the lattice.
func (v View) settle() View {
	level, m := lattice(min(max(v.scale, v.minScale()), v.maxScale()))
	v.scale = math.Ldexp(float64(m)/TileSize, -level)
	return v
}

// pinned returns the view with p drawn at s, rounded to whole pixels, and the
// sheet kept in sight.
func (v View) pinned(p PicPt, s ScreenPt) View {
	v.off = ScreenPt{}
	at := v.ToScreen(p)
	v.off = ScreenPt{math.Round(s.X - at.X), math.Round(s.Y - at.Y)}
	return v.clamped()
}

// clamped moves the view so that the middle of the map area lies on the
// sheet, within the rounding of the offset: a part of the sheet always
// remains visible.
func (v View) clamped() View {
	c := v.ToPicture(v.Middle())
	in := PicPt{min(max(c.X, 0), v.pw), min(max(c.Y, 0), v.ph)}
	if in.Dist(c)*v.scale <= 1 {
		return v
	}
	from, to := v.ToScreen(in), v.Middle()
	v.off = ScreenPt{math.Round(v.off.X + to.X - from.X), math.Round(v.off.Y + to.Y - from.Y)}
	return v
}
