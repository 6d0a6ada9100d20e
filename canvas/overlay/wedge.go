package overlay

import (
	"math"
	"slices"

	"legwright/canvas/view"
)

const (
	// wedgeGap is how far apart the lines of a wedge's hatching lie, in
	// device-independent pixels, and wedgeSlant how they cross the ray.
	wedgeGap   = 13
	wedgeSlant = 65 * math.Pi / 180
)

// wedge is the hatching of a ray's wedge, as far as the sheet reaches and is seen.
func (d *drawing) wedge(r *Ray) []strokeAt {
	if len(r.rim) < 2 {
		return nil
	}
	var shape []view.ScreenPt
	for _, way := range [][]view.PicPt{r.left, r.rim, backward(r.right)} {
		for _, p := range way {
			shape = append(shape, d.v.ToScreen(p))
		}
	}
	from, to := d.v.ToScreen(r.From), d.v.ToScreen(r.line[len(r.line)-1])
	angle := math.Atan2(to.Y-from.Y, to.X-from.X) + pick(r.Second, -wedgeSlant, wedgeSlant)
	var out []strokeAt
	sin, cos := math.Sincos(angle)
	gap := wedgeGap * d.p.px
	lo, hi := d.across(shape, from, -sin, cos)
	for n := math.Ceil(lo / gap); n*gap <= hi; n++ {
		at := from.Add(-sin*n*gap, cos*n*gap)
		cuts := crossings(shape, at, cos, sin)
		for i := 1; i < len(cuts); i += 2 {
			out = d.hatched(out, r.From, at.Add(cos*cuts[i-1], sin*cuts[i-1]), at.Add(cos*cuts[i], sin*cuts[i]))
		}
	}
	return out
}

// across is how far a shape reaches along a direction from a point, no farther than
// what is seen.
func (d *drawing) across(shape []view.ScreenPt, from view.ScreenPt, ux, uy float64) (lo, hi float64) {
	w, h := float64(d.p.img.Rect.Dx()), float64(d.p.img.Rect.Dy())
	bounds := func(points []view.ScreenPt) (lo, hi float64) {
		lo, hi = math.Inf(1), math.Inf(-1)
		for _, p := range points {
			v := (p.X-from.X)*ux + (p.Y-from.Y)*uy
			lo, hi = min(lo, v), max(hi, v)
		}
		return lo, hi
	}
	lo, hi = bounds(shape)
	l, u := bounds([]view.ScreenPt{{}, {X: w}, {Y: h}, {X: w, Y: h}})
	return max(lo, l), min(hi, u)
}

// crossings are where a straight line meets the edges of a shape, counted along it.
func crossings(shape []view.ScreenPt, at view.ScreenPt, ux, uy float64) []float64 {
	var out []float64
	side := func(p view.ScreenPt) float64 { return (p.Y-at.Y)*ux - (p.X-at.X)*uy }
	for i, p := range shape {
		q := shape[(i+1)%len(shape)]
		if a, b := side(p), side(q); (a < 0) != (b < 0) {
			f := a / (a - b)
			x, y := p.X+f*(q.X-p.X), p.Y+f*(q.Y-p.Y)
			out = append(out, (x-at.X)*ux+(y-at.Y)*uy)
		}
	}
	slices.Sort(out)
	return out
}

// hatched adds a stroke, cut to the sheet.
func (d *drawing) hatched(out []strokeAt, from view.PicPt, a, b view.ScreenPt) []strokeAt {
	p, q, ok := d.onPicture(from, d.v.ToPicture(a), d.v.ToPicture(b))
	if !ok {
		return out
	}
	if a, b = d.v.ToScreen(p), d.v.ToScreen(q); d.sees(a, b) {
		out = append(out, strokeAt{a, b})
	}
	return out
}

// onPicture cuts a line to the picture, which may reach out to a point beside it.
func (d *drawing) onPicture(from, a, b view.PicPt) (p, q view.PicPt, ok bool) {
	w, h := d.v.Picture()
	box := view.RectOf(view.PicPt{}, view.PicPt{X: float64(w), Y: float64(h)}, from)
	dx, dy := b.X-a.X, b.Y-a.Y
	t0, t1 := 0.0, 1.0
	for _, e := range [4][2]float64{{-dx, a.X - box.Min.X}, {dx, box.Max.X - a.X}, {-dy, a.Y - box.Min.Y}, {dy, box.Max.Y - a.Y}} {
		switch {
		case e[0] == 0 && e[1] < 0:
			return a, b, false
		case e[0] < 0:
			t0 = max(t0, e[1]/e[0])
		case e[0] > 0:
			t1 = min(t1, e[1]/e[0])
		}
	}
	return view.PicPt{X: a.X + t0*dx, Y: a.Y + t0*dy}, view.PicPt{X: a.X + t1*dx, Y: a.Y + t1*dy}, t0 < t1
}

func backward(points []view.PicPt) []view.PicPt {
	out := slices.Clone(points)
	slices.Reverse(out)
	return out
}
