package view

import (
	"image"
	"math"
)

// ZoomAt multiplies the scale by factor and keeps what is drawn at s where it
// is, to half a pixel each way. At a limit of the scale it stays there.
func (v View) ZoomAt(s ScreenPt, factor float64) View {
	return v.ZoomAbout(v.ToPicture(s), s, factor)
}

// ZoomAbout multiplies the scale by factor and draws the picture position p
// at s. A series of steps that gives the same p each time does not drift.
func (v View) ZoomAbout(p PicPt, s ScreenPt, factor float64) View {
	return v.ScaledTo(v.scale*factor, p, s)
}

// ScaledTo sets the scale, screen pixels a picture pixel, and draws the
// picture position p at s.
func (v View) ScaledTo(scale float64, p PicPt, s ScreenPt) View {
	if !finite(p.X, p.Y, s.X, s.Y, scale) || scale <= 0 {
		return v
	}
	v.scale = scale
	return v.settle().pinned(p, s)
}

// PanBy moves the picture by dx, dy screen pixels, rounded to whole ones.
func (v View) PanBy(dx, dy float64) View {
	if !finite(dx, dy) {
		return v
	}
	v.off = ScreenPt{v.off.X + math.Round(dx), v.off.Y + math.Round(dy)}
	return v.clamped()
}

// RotateTo turns the picture to the angle in radians, clockwise from upright,
// about what is drawn at s. To have grid north up on a sheet whose grid north
// stands at an angle r clockwise from picture up, rotate to −r.
func (v View) RotateTo(angle float64, s ScreenPt) View {
	if !finite(angle, s.X, s.Y) {
		return v
	}
	p := v.ToPicture(s)
	v.rot = normal(angle)
	v.sin, v.cos = math.Sincos(v.rot)
	return v.pinned(p, s)
}

// normal brings an angle into (−π, π] and turns below a tenth of a
// microradian, which move no pixel of any sheet, into upright.
func normal(a float64) float64 {
	a = math.Remainder(a, 2*math.Pi)
	if a <= -math.Pi {
		a = math.Pi
	}
	if math.Abs(a) < 1e-7 {
		return 0
	}
	return a
}

// CenterOn draws p in the middle of the map area.
func (v View) CenterOn(p PicPt) View {
	if !finite(p.X, p.Y) {
		return v
	}
	return v.pinned(p, v.Middle())
}

// Fit shows the whole sheet, as it is turned, in the middle of the map area.
func (v View) Fit() View {
	return v.FitRect(Rect{Max: PicPt{v.pw, v.ph}}, fitShare)
}

// FitRect shows the rectangle in the middle of the map area, filling at most
// the given share of its width and height.
func (v View) FitRect(r Rect, share float64) View {
	if !finite(r.Min.X, r.Min.Y, r.Max.X, r.Max.Y, share) || share <= 0 {
		return v
	}
	v.scale = share * v.scaleFor(r)
	v = v.settle()
	if level, m := v.Level(); v.scale > share*v.scaleFor(r) && v.scale > v.minScale() {
		v.scale = math.Ldexp(float64(m-1)/TileSize, -level)
	}
	return v.CenterOn(r.Centre())
}

// scaleFor is the scale at which the turned rectangle just fills the map
// area. A rectangle without extent gives MaxScale.
func (v View) scaleFor(r Rect) float64 {
	w, h := math.Abs(r.Max.X-r.Min.X), math.Abs(r.Max.Y-r.Min.Y)
	c, s := math.Abs(v.cos), math.Abs(v.sin)
	return min(MaxScale, v.vw/max(w*c+h*s, 1e-9), v.vh/max(w*s+h*c, 1e-9))
}

// OneToOne shows one picture pixel on one screen pixel and keeps what is
// drawn at s.
func (v View) OneToOne(s ScreenPt) View { return v.ScaledTo(1, v.ToPicture(s), s) }

// WithViewport sets the size of the map area in screen pixels and keeps the
// middle of what is shown. Sizes below 1 count as 1.
func (v View) WithViewport(w, h int) View {
	p := v.ToPicture(v.Middle())
	v.vw, v.vh = float64(max(w, 1)), float64(max(h, 1))
	if v.scale == 0 {
		return v
	}
	return v.settle().pinned(p, v.Middle())
}

// Grown returns the view of a map area larger by margin screen pixels on each
// side, in which the picture stands where it stood on the old one. It is for
// drawing more than is seen; it keeps neither limits nor the sheet in sight.
func (v View) Grown(margin int) View {
	if v.scale == 0 || margin <= 0 {
		return v
	}
	m := float64(margin)
	v.off = v.off.Add(m, m)
	v.vw, v.vh = v.vw+2*m, v.vh+2*m
	return v
}

// Part returns the view of a part of the map area, screen pixels, in which the picture stands
// where it stood. Like Grown it keeps neither limits nor the sheet in sight.
func (v View) Part(r image.Rectangle) View {
	if v.scale == 0 || r.Empty() {
		return v
	}
	v.off = v.off.Add(-float64(r.Min.X), -float64(r.Min.Y))
	v.vw, v.vh = float64(r.Dx()), float64(r.Dy())
	return v
}

// Between returns the view at a share of the way to another one of the same
// picture and map area: v at 0, exactly that one at 1. Each pixel of the sheet
// runs straight between its two places while the scale changes evenly in
// octaves; a turn goes the shorter way round, about the middle of the map
// area. Every view on the way stands on the lattice.
func (v View) Between(to View, share float64) View {
	switch {
	case !(share > 0) || v.scale == 0 || to.scale == 0:
		return v
	case share >= 1:
		return to
	}
	w := to
	w.scale = v.scale * math.Pow(to.scale/v.scale, share)
	w = w.settle()
	k := share // of the way between the two places
	if d := to.scale/v.scale - 1; math.Abs(d) > 1e-9 {
		k = (w.scale/v.scale - 1) / d
	}
	if v.rot == to.rot {
		w.off = ScreenPt{math.Round(v.off.X + k*(to.off.X-v.off.X)), math.Round(v.off.Y + k*(to.off.Y-v.off.Y))}
		return w
	}
	w.rot = normal(v.rot + share*math.Remainder(to.rot-v.rot, 2*math.Pi))
	w.sin, w.cos = math.Sincos(w.rot)
	a, b := v.ToPicture(v.Middle()), to.ToPicture(to.Middle())
	w.off = ScreenPt{}
	at := w.ToScreen(PicPt{a.X + k*(b.X-a.X), a.Y + k*(b.Y-a.Y)})
	w.off = ScreenPt{math.Round(w.Middle().X - at.X), math.Round(w.Middle().Y - at.Y)}
	return w
}

// minScale lets the sheet shrink to half of what fits.
func (v View) minScale() float64 {
	return min(0.5, 0.5*v.scaleFor(Rect{Max: PicPt{v.pw, v.ph}}))
}

func (v View) maxScale() float64 { return MaxScale }
