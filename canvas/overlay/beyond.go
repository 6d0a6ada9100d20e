package overlay

import (
	"math"

	"legwright/canvas/view"
)

// beyondText stands outside the hull of the control points.
const beyondText = "beyond the control points"

// hull draws the hull of the control points, with ticks on the side where
// nothing holds the sheet.
func (d *drawing) hull(s *strip) {
	h, px := d.scene.Local.Hull, d.p.px
	for i := range h {
		a, b := d.v.ToScreen(h[i]), d.v.ToScreen(h[(i+1)%len(h)])
		if !d.sees(a, b) || a.Dist(b) < 1 {
			continue
		}
		t0, t1, ok := s.span(a, b, 12*px)
		if !ok || a.Dist(b) > farthest {
			continue
		}
		s.segment(&d.p.full[hullLine], a, b, true)
		nx, ny := outward(a, b)
		length := a.Dist(b)
		const gap, tick = 18, 6
		for n := math.Ceil(t0 * length / (gap * px)); n*gap*px <= t1*length; n++ {
			f := n * gap * px / length
			at := view.ScreenPt{X: a.X + f*(b.X-a.X), Y: a.Y + f*(b.Y-a.Y)}
			s.segment(&d.p.ink[hullLine], at, at.Add(nx*tick*px, ny*tick*px), false)
		}
	}
}

// outward is the unit step away from the hull, which runs round with its inside
// at the right hand on the screen.
func outward(a, b view.ScreenPt) (x, y float64) {
	l := a.Dist(b)
	return (b.Y - a.Y) / l, -(b.X - a.X) / l
}

// mostBeyond is along how many sides of the hull it is written what lies there.
const mostBeyond = 3

// hullTexts writes along the longest sides in sight what lies beyond.
func (d *drawing) hullTexts() {
	h := d.scene.Local.Hull
	w := words{text: beyondText, size: controlSize * d.p.px, bold: true, ink: black}
	if len(h) < 2 {
		return
	}
	width := d.p.letters.width(w)
	seen := strip{img: blank(d.seen.Dx(), d.seen.Dy()), y1: d.seen.Dy()}
	written := 0
	for i := range h {
		a, b := d.v.ToScreen(h[i]), d.v.ToScreen(h[(i+1)%len(h)])
		length := a.Dist(b)
		t0, t1, ok := seen.span(a.Add(-float64(d.seen.Min.X), -float64(d.seen.Min.Y)), b.Add(-float64(d.seen.Min.X), -float64(d.seen.Min.Y)), 0)
		if !ok || written == mostBeyond || (t1-t0)*length < width+20*d.p.px {
			continue
		}
		nx, ny := outward(a, b)
		f, off := (t0+t1)/2, 16*d.p.px
		w.angle = math.Atan2(b.Y-a.Y, b.X-a.X)
		if b.X < a.X || b.X == a.X && b.Y > a.Y {
			w.angle = math.Atan2(a.Y-b.Y, a.X-b.X)
		}
		mid := view.ScreenPt{X: a.X + f*(b.X-a.X) + nx*off, Y: a.Y + f*(b.Y-a.Y) + ny*off}
		if d.put(w, mid) {
			written++
		}
	}
}
