package baseplate

import (
	"image/color"
	"math"
)

// Measures of what lies under the compass.
const (
	gridStep  = 0.30 // between two grid lines
	gridWidth = 0.007
	paleness  = 0.6
	lineWidth = 0.014
	dash      = 0.055 // of a line that leads elsewhere
	endRadius = 0.022
)

// ground fills the whole picture: 0 is the map, 1 the ground.
func (d *Drawing) ground(share float64) {
	c := between(d.ink.Map, d.ink.Ground, share)
	row := d.out.Pix[:d.out.Stride]
	for i := 0; i < len(row); i += 4 {
		row[i], row[i+1], row[i+2], row[i+3] = c.R, c.G, c.B, 0xff
	}
	for y := 1; y < d.out.Rect.Dy(); y++ {
		copy(d.out.Pix[y*d.out.Stride:(y+1)*d.out.Stride], row)
	}
}

// between mixes two opaque colours: 0 is the first, 1 the second.
func between(a, b color.NRGBA, share float64) color.NRGBA {
	mix := func(a, b uint8) uint8 { return uint8(math.Round(float64(a) + share*(float64(b)-float64(a)))) }
	return color.NRGBA{mix(a.R, b.R), mix(a.G, b.G), mix(a.B, b.B), 0xff}
}

// grid draws the grid lines, which keep their distance from FROM. On the ground, where
// none are drawn, they are pale.
func (d *Drawing) grid(from Point, ground float64) {
	ink := between(d.ink.Grid, d.ink.Ground, ground*paleness)
	for _, upright := range []bool{true, false} {
		at := from[0]
		if !upright {
			at = from[1]
		}
		for at = math.Mod(at, gridStep) - 4*gridStep; at < 1; at += gridStep {
			if at <= -1 {
				continue
			}
			if upright {
				d.segment(Point{at, -1.1}, Point{at, 1.1}, gridWidth, ink)
			} else {
				d.segment(Point{-1.1, at}, Point{1.1, at}, gridWidth, ink)
			}
		}
	}
}

// lines draws the line from FROM to TO, and that along which the compass leads.
func (d *Drawing) lines(v View) {
	d.segment(v.From, v.To, lineWidth, d.ink.Line)
	if v.Led.Shown {
		ink := d.ink.Housing.Needle
		if v.Led.Wrong {
			ink = d.ink.Wrong
		}
		d.dashed(v.Led.From, v.Led.To, lineWidth, ink)
		if v.Led.Wrong {
			d.cross(v.Led.To, ink)
		}
	}
	for _, p := range []Point{v.From, v.To} {
		d.spot(p, endRadius, d.ink.Line)
		d.spot(p, endRadius*0.5, d.ink.Map)
	}
}

// segment draws a straight line.
func (d *Drawing) segment(a, b Point, width float64, ink color.NRGBA) {
	dx, dy := b[0]-a[0], b[1]-a[1]
	long := math.Hypot(dx, dy)
	if long == 0 {
		return
	}
	w := max(width, 1.2/d.pen.Radius()) / 2
	nx, ny := dy/long*w, -dx/long*w
	d.shape(ink, Point{a[0] + nx, a[1] + ny}, Point{b[0] + nx, b[1] + ny}, Point{b[0] - nx, b[1] - ny}, Point{a[0] - nx, a[1] - ny})
}

// dashed draws a broken line.
func (d *Drawing) dashed(a, b Point, width float64, ink color.NRGBA) {
	dx, dy := b[0]-a[0], b[1]-a[1]
	long := math.Hypot(dx, dy)
	for at := 0.0; at < long; at += 1.6 * dash {
		from, to := at/long, min(at+dash, long)/long
		d.segment(Point{a[0] + from*dx, a[1] + from*dy}, Point{a[0] + to*dx, a[1] + to*dy}, width, ink)
	}
}

// cross marks the end of a line that leads elsewhere.
func (d *Drawing) cross(at Point, ink color.NRGBA) {
	const arm = 0.03
	d.segment(Point{at[0] - arm, at[1] - arm}, Point{at[0] + arm, at[1] + arm}, lineWidth, ink)
	d.segment(Point{at[0] - arm, at[1] + arm}, Point{at[0] + arm, at[1] - arm}, lineWidth, ink)
}

// shape fills a closed shape.
func (d *Drawing) shape(ink color.NRGBA, corners ...Point) {
	least, most := corners[0], corners[0]
	list := make([][2]float64, len(corners))
	for i, c := range corners {
		list[i] = [2]float64{c[1], c[0]}
		least = Point{min(least[0], c[0]), min(least[1], c[1])}
		most = Point{max(most[0], c[0]), max(most[1], c[1])}
	}
	if !d.begin(least, most) {
		return
	}
	d.pen.Polygon(0, list)
	d.pen.Fill(d.out, ink)
}

// spot fills a disc.
func (d *Drawing) spot(at Point, r float64, ink color.NRGBA) {
	if d.begin(Point{at[0] - r, at[1] - r}, Point{at[0] + r, at[1] + r}) {
		d.pen.Disc(at[1], at[0], r, 0)
		d.pen.Fill(d.out, ink)
	}
}

// begin starts a fill within a box, and reports whether any of it is in the picture.
func (d *Drawing) begin(least, most Point) bool {
	const edge = 1.05
	least = Point{max(least[0], -edge), max(least[1], -edge)}
	most = Point{min(most[0], edge), min(most[1], edge)}
	if least[0] >= most[0] || least[1] >= most[1] {
		return false
	}
	x, y := (least[0]+most[0])/2, (least[1]+most[1])/2
	d.pen.Begin(math.Hypot(x, y), math.Atan2(x, y), (most[0]-least[0])/2, (most[1]-least[1])/2)
	return true
}
