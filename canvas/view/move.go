package view

import "math"

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

// minScale lets the sheet shrink to half of what fits.
func (v View) minScale() float64 {
	return min(0.5, 0.5*v.scaleFor(Rect{Max: PicPt{v.pw, v.ph}}))
}

func (v View) maxScale() float64 { return MaxScale }
