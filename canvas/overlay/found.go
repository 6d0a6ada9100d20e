package overlay

import (
	"image"
	"math"

	"legwright/app/calib/lattice"
	"legwright/canvas/view"
)

// Found is a printed grid found in the picture that nobody has used or discarded yet.
type Found struct {
	Lines         [][]view.PicPt // each along its intersections
	Intersections []FoundIntersection
}

// FoundIntersection is an intersection of a found grid and how well it is seen.
type FoundIntersection struct {
	At   view.PicPt
	Seen Seen
}

// Seen says how much of both lines is seen around an intersection.
type Seen int

// The grades of Seen, from the finder's quality of 0 … 1 (limits are our own:
// three quarters and two fifths).
const (
	WellSeen Seen = iota
	PartlySeen
	FaintlySeen
)

// SeenOf is the grade of a quality.
func SeenOf(quality float64) Seen {
	switch {
	case quality >= 0.75:
		return WellSeen
	case quality >= 0.4:
		return PartlySeen
	}
	return FaintlySeen
}

// FoundOf is what is drawn of a found grid: all lines of it, and rings around
// the intersections offered, which may be fewer.
func FoundOf(all, offered *lattice.Lattice) Found {
	var f Found
	for _, line := range all.Lines() {
		points := make([]view.PicPt, len(line))
		for i, c := range line {
			points[i] = view.PicPt{X: c.Col, Y: c.Row}
		}
		f.Lines = append(f.Lines, points)
	}
	for _, c := range offered.Intersections {
		f.Intersections = append(f.Intersections, FoundIntersection{view.PicPt{X: c.Col, Y: c.Row}, SeenOf(c.Quality)})
	}
	return f
}

// found draws the lines of a found grid, from rim to rim of the intersections.
func (d *drawing) found(s *strip) {
	dash, rim := scaledDash(d.p.table[foundLine].dash, d.p.px), (ringPx+3)*d.p.px
	for _, line := range d.scene.Found.Lines {
		for i := 1; i < len(line); i++ {
			a, b := d.v.ToScreen(line[i-1]), d.v.ToScreen(line[i])
			f := rim / a.Dist(b)
			if !(f < 0.5) || !d.sees(a, b) {
				continue
			}
			step := view.ScreenPt{X: f * (b.X - a.X), Y: f * (b.Y - a.Y)}
			s.dashed(&d.p.full[foundLine], a.Add(step.X, step.Y), b.Add(-step.X, -step.Y), dash, false)
		}
	}
}

// setRings places the rings around the intersections in sight.
func (d *drawing) setRings() {
	for _, c := range d.scene.Found.Intersections {
		if at := d.v.ToScreen(c.At); d.sees(at, at) {
			d.rings = append(d.rings, d.p.stamp(ringShape+shape(c.Seen), at))
		}
	}
}

// ringPx is the radius of a ring around an intersection, which stays free, in
// device-independent pixels.
const ringPx = 7

// drawRing draws a ring of sixteen strokes, some of which are left out.
func (p *Painter) drawRing(k stampKey) *image.RGBA {
	half := int(math.Ceil((ringPx + 4) * p.px))
	s := &strip{img: image.NewRGBA(image.Rect(0, 0, 2*half, 2*half)), y1: 2 * half}
	at := view.ScreenPt{X: float64(half) + float64(k.fx)/parts, Y: float64(half) + float64(k.fy)/parts}
	line, drawn := foundWell, uint(0xffff)
	switch k.shape {
	case brokenShape:
		line, drawn = foundPartly, 0x3333 // four arcs
	case strokesShape:
		line, drawn = foundFaint, 0x0303 // two
	}
	on := func(i int) view.ScreenPt {
		sin, cos := math.Sincos(float64(i) * math.Pi / 8)
		return at.Add(ringPx*p.px*cos, ringPx*p.px*sin)
	}
	for _, pr := range []*profile{&p.casing[line], &p.ink[line]} {
		for i := range 16 {
			if drawn>>i&1 != 0 {
				s.segment(pr, on(i), on(i+1), true)
			}
		}
	}
	return s.img
}
