// Package ink draws with even edges into one large picture: fills, strokes,
// lettering along lines, and the writing of PNG and JPEG files that state their
// resolution. It knows nothing of maps or ground.
//
// Positions are pixels, x right and y down from the top-left corner.
package ink

import (
	"math"

	"golang.org/x/image/vector"
)

// Pt is a position in pixels.
type Pt struct{ X, Y float64 }

// Pen collects outlines that will be inked together. Pieces drawn with the same
// turning sense add up; the sum is clipped to full cover.
type Pen struct {
	ops        []op
	minX, minY float64
	maxX, maxY float64
}

type op struct {
	kind byte // m, l, q, c
	p    [3]Pt
}

// NewPen returns an empty pen.
func NewPen() *Pen {
	return &Pen{minX: math.Inf(1), minY: math.Inf(1), maxX: math.Inf(-1), maxY: math.Inf(-1)}
}

func (p *Pen) add(kind byte, pts ...Pt) {
	o := op{kind: kind}
	for i, q := range pts {
		o.p[i] = q
		p.minX, p.maxX = math.Min(p.minX, q.X), math.Max(p.maxX, q.X)
		p.minY, p.maxY = math.Min(p.minY, q.Y), math.Max(p.maxY, q.Y)
	}
	p.ops = append(p.ops, o)
}

// Area adds the inside of an outline, which closes by itself.
func (p *Pen) Area(outline []Pt) {
	if len(outline) < 3 {
		return
	}
	p.add('m', outline[0])
	for _, q := range outline[1:] {
		p.add('l', q)
	}
}

// Rect adds an upright rectangle.
func (p *Pen) Rect(x0, y0, x1, y1 float64) {
	p.Area([]Pt{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}})
}

// Disc adds a filled circle.
func (p *Pen) Disc(c Pt, r float64) {
	n := max(8, int(r*2.5))
	outline := make([]Pt, n)
	for i := range outline {
		s, k := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		outline[i] = Pt{c.X + r*k, c.Y + r*s}
	}
	p.Area(outline)
}

// Stroke adds a line of even width with round joins and round ends.
func (p *Pen) Stroke(line []Pt, width float64) {
	p.stroke(line, func(int) float64 { return width / 2 }, true)
}

// Butt adds a line of even width whose ends are cut square.
func (p *Pen) Butt(line []Pt, width float64) {
	p.stroke(line, func(int) float64 { return width / 2 }, false)
}

// Swell adds a line that widens evenly from w0 at its start to w1 at its end.
func (p *Pen) Swell(line []Pt, w0, w1 float64) {
	n := float64(max(len(line)-1, 1))
	p.stroke(line, func(i int) float64 { return (w0 + (w1-w0)*float64(i)/n) / 2 }, true)
}

func (p *Pen) stroke(line []Pt, half func(i int) float64, roundEnds bool) {
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		d := math.Hypot(b.X-a.X, b.Y-a.Y)
		if d < 1e-9 {
			continue
		}
		nx, ny := (b.Y-a.Y)/d, -(b.X-a.X)/d
		ra, rb := half(i-1), half(i)
		p.Area([]Pt{
			{a.X + nx*ra, a.Y + ny*ra},
			{b.X + nx*rb, b.Y + ny*rb},
			{b.X - nx*rb, b.Y - ny*rb},
			{a.X - nx*ra, a.Y - ny*ra},
		})
		if i < len(line)-1 {
			p.elbow(a, b, line[i+1], rb)
		}
	}
	if roundEnds && len(line) > 1 {
		p.Disc(line[0], half(0))
		p.Disc(line[len(line)-1], half(len(line)-1))
	}
}

// elbow fills the gap on the outer side of a join by a fan from the corner.
func (p *Pen) elbow(a, b, c Pt, r float64) {
	in, out := math.Atan2(b.Y-a.Y, b.X-a.X), math.Atan2(c.Y-b.Y, c.X-b.X)
	turn := math.Remainder(out-in, 2*math.Pi)
	if math.Abs(turn) < 0.02 {
		return
	}
	side := -math.Pi / 2
	if turn < 0 {
		side = math.Pi / 2
	}
	n := 1 + int(math.Abs(turn)/0.6)
	fan := []Pt{b}
	for i := 0; i <= n; i++ {
		s, k := math.Sincos(in + side + turn*float64(i)/float64(n))
		fan = append(fan, Pt{b.X + r*k, b.Y + r*s})
	}
	if turn < 0 {
		for i, j := 1, len(fan)-1; i < j; i, j = i+1, j-1 {
			fan[i], fan[j] = fan[j], fan[i]
		}
	}
	p.Area(fan)
}

// Dash adds pieces of the line: on pixels drawn, off pixels left out, and so on.
func (p *Pen) Dash(line []Pt, width, on, off float64) {
	for _, piece := range Pieces(line, on, off) {
		p.Butt(piece, width)
	}
}

// Pieces cuts the line into the parts that a dash of on and off pixels leaves.
// The period is stretched a little so that the last dash is whole.
func Pieces(line []Pt, on, off float64) [][]Pt {
	total := Length(line)
	n := math.Max(math.Round((total+off)/(on+off)), 1)
	stretch := total / (n*(on+off) - off)
	on, off = on*stretch, off*stretch
	var out [][]Pt
	for s := 0.0; s < total-0.5; s += on + off {
		out = append(out, Cut(line, s, math.Min(s+on, total)))
	}
	return out
}

// Length returns the length of the line in pixels.
func Length(line []Pt) float64 {
	sum := 0.0
	for i := 1; i < len(line); i++ {
		sum += math.Hypot(line[i].X-line[i-1].X, line[i].Y-line[i-1].Y)
	}
	return sum
}

// Cut returns the part of the line from s0 to s1 pixels along it.
func Cut(line []Pt, s0, s1 float64) []Pt {
	var out []Pt
	s := 0.0
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		d := math.Hypot(b.X-a.X, b.Y-a.Y)
		at := func(t float64) Pt { return Pt{a.X + (b.X-a.X)*t/d, a.Y + (b.Y-a.Y)*t/d} }
		if d > 0 && s+d > s0 && s < s1 {
			if len(out) == 0 {
				out = append(out, at(math.Max(s0-s, 0)))
			}
			out = append(out, at(math.Min(s1-s, d)))
		}
		s += d
	}
	return out
}

// At returns the position s pixels along the line and the direction there in
// radians from x towards y; beyond the ends the end pieces go straight on.
func At(line []Pt, s float64) (Pt, float64) {
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		d := math.Hypot(b.X-a.X, b.Y-a.Y)
		if d > 0 && s <= d || i == len(line)-1 {
			return Pt{a.X + (b.X-a.X)*s/d, a.Y + (b.Y-a.Y)*s/d}, math.Atan2(b.Y-a.Y, b.X-a.X)
		}
		s -= d
	}
	return line[0], 0
}

// fill plays the outlines into a rasteriser whose origin is (x0, y0).
func (p *Pen) fill(r *vector.Rasterizer, x0, y0 float64) {
	f := func(q Pt) (float32, float32) { return float32(q.X - x0), float32(q.Y - y0) }
	open := false
	for _, o := range p.ops {
		ax, ay := f(o.p[0])
		bx, by := f(o.p[1])
		cx, cy := f(o.p[2])
		switch o.kind {
		case 'm':
			if open {
				r.ClosePath()
			}
			r.MoveTo(ax, ay)
			open = true
		case 'l':
			r.LineTo(ax, ay)
		case 'q':
			r.QuadTo(ax, ay, bx, by)
		case 'c':
			r.CubeTo(ax, ay, bx, by, cx, cy)
		}
	}
	if open {
		r.ClosePath()
	}
}
