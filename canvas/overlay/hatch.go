package overlay

import (
	"math"
	"strconv"

	"legwright/canvas/view"
)

// leastHatch is how near hatching lines come to each other where the error is
// large, in device-independent pixels: they lie this far apart or up to twice as
// far, by the scale.
const leastHatch = 8

// stroke is a piece of a line on the screen.
type strokeAt struct{ a, b view.ScreenPt }

// setLocal places the hatching of the error, which lies still in the picture
// while that is moved.
func (d *drawing) setLocal() {
	if l := &d.scene.Local; !l.Empty() {
		d.strokes = d.slanting(hatching{l.errorAt, l.field, l.hatch, leastHatch})
	}
}

// hatching says where slanting lines are drawn.
type hatching struct {
	at     func(view.PicPt) float64
	field  field     // for its size
	levels []float64 // of at, ascending: one for each density
	least  float64   // how near lines come to each other, device-independent pixels
}

// slanting returns the lines of a hatching that are in sight. They lie still in the
// picture while that is moved.
func (d *drawing) slanting(l hatching) (out []strokeAt) {
	gap := math.Exp2(math.Ceil(math.Log2(l.least * d.p.px / d.v.Scale())))
	for crossed := range 2 {
		out = d.hatch(out, &l, gap, crossed == 1)
	}
	return out
}

// hatch lays one family of slanting lines over what is seen. A line of the
// first is drawn where the error reaches the first level if its number can be
// divided by 4, the second if by 2, and the third; lines of the other family,
// which cross it, in the same way from the fourth level.
func (d *drawing) hatch(out []strokeAt, l *hatching, gap float64, crossed bool) []strokeAt {
	if len(l.levels) == 0 || crossed && len(l.levels) < 4 {
		return out
	}
	lo, hi, t0, t1 := d.hatchBounds(l, crossed)
	step := 6 * d.p.px / d.v.Scale()
	for n := math.Ceil(lo / gap); n*gap <= hi; n++ {
		class := 3
		switch {
		case math.Mod(n, 4) == 0:
			class = 1
		case math.Mod(n, 2) == 0:
			class = 2
		}
		if crossed {
			class += 3
		}
		if class <= len(l.levels) && !math.IsInf(l.levels[class-1], 1) {
			out = d.hatchLine(out, l, hatchWay{n * gap, crossed}, t0, t1, step, l.levels[class-1])
		}
	}
	return out
}

// hatchWay is a line that slants through the picture at a distance from its
// corner; t counts along it.
type hatchWay struct {
	off     float64
	crossed bool
}

func (w hatchWay) at(t float64) view.PicPt {
	if w.crossed {
		return view.PicPt{X: (w.off + t) / math.Sqrt2, Y: (w.off - t) / math.Sqrt2}
	}
	return view.PicPt{X: (t + w.off) / math.Sqrt2, Y: (t - w.off) / math.Sqrt2}
}

// hatchBounds are the least and greatest distance of lines from the corner and
// the part along them that covers what is seen of the picture.
func (d *drawing) hatchBounds(l *hatching, crossed bool) (lo, hi, t0, t1 float64) {
	w, h := float64(d.p.img.Rect.Dx()), float64(d.p.img.Rect.Dy())
	seen := view.RectOf(d.v.ToPicture(view.ScreenPt{}), d.v.ToPicture(view.ScreenPt{X: w}), d.v.ToPicture(view.ScreenPt{Y: h}), d.v.ToPicture(view.ScreenPt{X: w, Y: h}))
	x0, y0 := max(seen.Min.X, 0), max(seen.Min.Y, 0)
	x1, y1 := min(seen.Max.X, float64(l.field.cols-1)*l.field.stepX), min(seen.Max.Y, float64(l.field.rows-1)*l.field.stepY)
	if x0 >= x1 || y0 >= y1 {
		return 1, 0, 0, 0
	}
	sum, off := [2]float64{(x0 + y0) / math.Sqrt2, (x1 + y1) / math.Sqrt2}, [2]float64{(x0 - y1) / math.Sqrt2, (x1 - y0) / math.Sqrt2}
	if crossed {
		return sum[0], sum[1], off[0], off[1]
	}
	return off[0], off[1], sum[0], sum[1]
}

// hatchLine adds the pieces of a line along which the value reaches m.
func (d *drawing) hatchLine(out []strokeAt, l *hatching, w hatchWay, t0, t1, step, m float64) []strokeAt {
	from, on := 0.0, false
	before := math.NaN()
	for t := t0; ; t += step {
		t = min(t, t1)
		v := l.at(w.at(t))
		edge := t
		if before-before == 0 && v-v == 0 && (before < m) != (v < m) { // both are figures
			edge = t - step*(v-m)/(v-before)
		}
		switch {
		case v >= m && !on:
			from, on = edge, true
		case !(v >= m) && on:
			out = d.addStroke(out, w, from, edge)
			on = false
		}
		if t >= t1 {
			break
		}
		before = v
	}
	if on {
		out = d.addStroke(out, w, from, t1)
	}
	return out
}

func (d *drawing) addStroke(out []strokeAt, w hatchWay, from, to float64) []strokeAt {
	a, b := d.v.ToScreen(w.at(from)), d.v.ToScreen(w.at(to))
	if d.sees(a, b) {
		out = append(out, strokeAt{a, b})
	}
	return out
}

// local draws the hatching, the contours and the hull of the control points.
func (d *drawing) local(s *strip) {
	for _, t := range d.strokes {
		s.segment(&d.p.ink[hatchLine], t.a, t.b, false)
	}
	for _, c := range d.scene.Local.Contours {
		for _, line := range c.Lines {
			d.polyline(s, errorLine, line)
		}
	}
	for _, line := range d.scene.Local.Reach {
		d.polyline(s, reachLine, line)
	}
	d.hull(s)
}

// polyline draws a line of many pieces: its whole casing first, which would
// else cover the ends of pieces.
func (d *drawing) polyline(s *strip, k kind, line []view.PicPt) {
	for _, pr := range []*profile{&d.p.casing[k], &d.p.ink[k]} {
		for i := 1; i < len(line); i++ {
			if a, b := d.v.ToScreen(line[i-1]), d.v.ToScreen(line[i]); d.sees(a, b) {
				s.segment(pr, a, b, true)
			}
		}
	}
}

// localTexts writes the contours' figures, and outside the hull what lies
// there.
func (d *drawing) localTexts() {
	d.hullTexts()
	untrusted := words{text: "do not trust the sheet beyond this line", size: controlSize * d.p.px, bold: true, ink: vermillion}
	for _, line := range d.scene.Local.Reach {
		d.onContour(untrusted, line, math.Inf(1))
	}
	for _, c := range d.scene.Local.Contours {
		w := words{text: metresText(c.M), size: gridSize * d.p.px, bold: true, ink: black}
		for _, line := range c.Lines {
			d.onContour(w, line, 0)
		}
	}
}

// onContour writes a text on a line, in the middle of what is seen of it no
// more than far beyond the sheet's reach.
func (d *drawing) onContour(w words, line []view.PicPt, far float64) {
	var seen []view.ScreenPt
	for _, p := range line {
		if at := d.v.ToScreen(p); !(d.scene.Local.beyond.value(p) > far) && at.X > float64(d.seen.Min.X) && at.Y > float64(d.seen.Min.Y) && at.X < float64(d.seen.Max.X) && at.Y < float64(d.seen.Max.Y) {
			seen = append(seen, at)
		}
	}
	for _, part := range []int{2, 3, 5} { // elsewhere if another text stands there
		if len(seen) > 1 && d.put(w, seen[len(seen)/part]) {
			return
		}
	}
}

// metresText writes a contour's figure.
func metresText(m float64) string {
	if m >= 1000 {
		return "± " + strconv.FormatFloat(m/1000, 'g', 3, 64) + " km"
	}
	return "± " + strconv.FormatFloat(m, 'g', 3, 64) + " m"
}
