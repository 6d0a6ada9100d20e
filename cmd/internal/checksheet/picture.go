package checksheet

import (
	"image"
	"math"
	"math/rand/v2"
	"slices"
)

// Printed is what lines a made picture shows.
type Printed string

// The pictures. The last three hold no grid of squares, or more lines than its own.
const (
	CleanGrid Printed = "clean grid"
	HardGrid  Printed = "hard grid" // broken lines, noise, shadow, tilted or bent
	Tenths    Printed = "tenths"    // faint lines at each tenth of a square
	Framed    Printed = "frame"     // a frame near the outermost grid lines
	Graticule Printed = "graticule" // latitude and longitude
	Linework  Printed = "linework"  // evenly spaced parallels of other things
)

// Picture is a drawn map with printed lines. U and V are the printed lines of its
// grid in units of its square, from the top left, V downwards.
type Picture struct {
	Image  *image.Gray
	Square float64 // picture pixels a square, about
	lines  [2][]line
	w, h   int
	turn   float64
	tilt   [2]float64
	waves  float64
	phase  [4]float64
	reach  [2]float64 // of the map about the middle, in drawing pixels
	origin Pt         // of the grid in the drawing
	dice   *rand.Rand
	kind   Printed
}

// line stands at a point of the drawing, in pixels from its middle.
type line struct{ at, width, ink, gaps float64 }

// Draw draws a picture of that kind.
func Draw(k Printed, dice *rand.Rand) *Picture {
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*dice.Float64() }
	p := &Picture{kind: k, dice: dice, w: int(in(1200, 1700)), h: int(in(1000, 1300))}
	p.turn = in(-3, 3) * math.Pi / 180
	p.Square = math.Exp(in(math.Log(90), math.Log(300)))
	p.reach = [2]float64{in(0.40, 0.46) * float64(p.w), in(0.40, 0.46) * float64(p.h)}
	p.origin = Pt{in(0, 1) * p.Square, in(0, 1) * p.Square}
	for i := range p.phase {
		p.phase[i] = in(0, 2*math.Pi)
	}
	gaps := in(0, 0.1)
	if k == HardGrid {
		gaps = in(0.05, 0.25)
		p.tilt, p.waves = [2]float64{in(-0.12, 0.12), in(-0.12, 0.12)}, in(0, 3)
	}
	main := line{width: in(1.2, 2.5), ink: in(0.5, 0.8), gaps: gaps}
	switch k {
	case Tenths:
		p.Square = in(220, 420)
		faint := main
		faint.width, faint.ink = 1, main.ink*in(0.25, 0.5)
		p.comb(0, p.Square/10, faint)
		p.comb(1, p.Square/10, faint)
	case Graticule:
		p.comb(0, p.Square*in(0.5, 0.93), main)
	case Linework:
		p.comb(0, p.Square*in(1.05, 1.6), main)
	}
	if k != Graticule && k != Linework {
		p.comb(0, p.Square, main)
	}
	p.comb(1, p.Square, main)
	if k == Framed {
		p.frame(main, in)
	}
	p.draw(in)
	return p
}

// comb prints lines of one family, 0 upright, over the whole map.
func (p *Picture) comb(family int, step float64, l line) {
	o := p.origin.X
	if family == 1 {
		o = p.origin.Y
	}
	for i := math.Ceil((-p.reach[family] - o) / step); o+i*step <= p.reach[family]; i++ {
		l.at = o + i*step
		p.lines[family] = append(p.lines[family], l)
	}
}

// frame prints the frame of the map like its grid lines, at the end of the map.
func (p *Picture) frame(l line, in func(lo, hi float64) float64) {
	l.width, l.gaps = l.width+in(0, 1), 0
	for family := range 2 {
		for _, side := range []float64{-1, 1} {
			l.at = side * p.reach[family]
			p.lines[family] = append(p.lines[family], l)
		}
	}
}

// drawing takes a point of the picture to the drawing.
func (p *Picture) drawing(q Pt) Pt {
	w, h := float64(p.w), float64(p.h)
	x := q.X + p.waves*math.Sin(2*math.Pi*q.Y/h+p.phase[0]) - w/2
	y := q.Y + p.waves*math.Sin(2*math.Pi*q.X/w+p.phase[1]) - h/2
	k := 1 + p.tilt[0]*x/w + p.tilt[1]*y/h
	s, c := math.Sincos(p.turn)
	return Pt{(c*x + s*y) / k, (c*y - s*x) / k}
}

// Place is where an intersection of the grid lies in the picture, by its number to the
// right and down; false where the map does not reach there.
func (p *Picture) Place(i, j int) (Pt, bool) {
	d := Pt{p.origin.X + float64(i)*p.Square, p.origin.Y + float64(j)*p.Square}
	q := Pt{float64(p.w) / 2, float64(p.h) / 2}
	for range 40 {
		g, gx, gy := p.drawing(q), p.drawing(Pt{q.X + 0.5, q.Y}), p.drawing(Pt{q.X, q.Y + 0.5})
		a, b, c, e := 2*(gx.X-g.X), 2*(gy.X-g.X), 2*(gx.Y-g.Y), 2*(gy.Y-g.Y)
		det, dx, dy := a*e-b*c, d.X-g.X, d.Y-g.Y
		q = Pt{q.X + (e*dx-b*dy)/det, q.Y + (a*dy-c*dx)/det}
	}
	ok := math.Abs(d.X) < p.reach[0]-2 && math.Abs(d.Y) < p.reach[1]-2 && q.X > 8 && q.Y > 8 && q.X < float64(p.w)-8 && q.Y < float64(p.h)-8
	return q, ok
}

// Number is where a point of the picture lies in squares right and down of the grid's
// origin.
func (p *Picture) Number(q Pt) (right, down float64) {
	d := p.drawing(q)
	return (d.X - p.origin.X) / p.Square, (d.Y - p.origin.Y) / p.Square
}

// draw inks paper, contours, lettering and lines.
func (p *Picture) draw(in func(lo, hi float64) float64) {
	p.Image = image.NewGray(image.Rect(0, 0, p.w, p.h))
	noise, shadow := in(0, 3), 0.0
	if p.kind == HardGrid {
		noise, shadow = in(2, 9), in(0.1, 0.4)
	}
	for f := range p.lines {
		slices.SortFunc(p.lines[f], func(a, b line) int { return int(math.Copysign(1, a.at-b.at)) })
	}
	letters := p.lettering()
	for y := range p.h {
		for x := range p.w {
			d := p.drawing(Pt{float64(x) + 0.5, float64(y) + 0.5})
			v := 235.0
			if math.Abs(d.X) < p.reach[0]+1 && math.Abs(d.Y) < p.reach[1]+1 {
				v *= 1 - 0.45*p.contour(d)
				v *= 1 - p.ink(0, d.X, d.Y)
				v *= 1 - p.ink(1, d.Y, d.X)
			}
			if letters[y/4*(p.w/4+1)+x/4] {
				v *= 0.3
			}
			v = v*(1-shadow*(0.5+0.5*math.Sin(2*float64(x)/float64(p.w)+p.phase[2]))) + noise*p.dice.NormFloat64()
			p.Image.Pix[p.Image.PixOffset(x, y)] = uint8(min(max(v+0.5, 0), 255))
		}
	}
}

// ink is how dark the lines of a family are at a point beside and along them.
func (p *Picture) ink(family int, beside, along float64) (dark float64) {
	list := p.lines[family]
	i, _ := slices.BinarySearchFunc(list, beside, func(l line, v float64) int { return int(math.Copysign(1, l.at-v)) })
	for k := max(i-2, 0); k < min(i+2, len(list)); k++ {
		l := list[k]
		cover := min(max(l.width/2+0.5-math.Abs(beside-l.at), 0), 1) * l.ink
		if cover > dark && !p.broken(family, k, along, l.gaps) {
			dark = cover
		}
	}
	return dark
}

// broken says whether something hides a line there, in pieces of 30 pixels.
func (p *Picture) broken(family, k int, along, gaps float64) bool {
	x := math.Sin(float64(family*997+k*131)+math.Floor(along/30)*12.9898+p.phase[3]) * 43758.5453
	return x-math.Floor(x) < gaps
}

// contour is how dark a contour is at a point of the drawing.
func (p *Picture) contour(d Pt) float64 {
	a, b := d.X/170+p.phase[0], d.Y/140+p.phase[1]
	h := 6 * (math.Sin(a) + math.Sin(b) + 0.7*math.Sin(0.6*a+1.3*b+p.phase[2]))
	slope := 6 * math.Hypot(math.Cos(a)/170+0.42/170*math.Cos(0.6*a+1.3*b+p.phase[2]), math.Cos(b)/140+0.9/140*math.Cos(0.6*a+1.3*b+p.phase[2]))
	return min(max(1-math.Abs(h-math.Round(h))/(slope+1e-3)/0.8, 0), 1)
}

// lettering is blots of 4 × 4 pixels in rows, like names.
func (p *Picture) lettering() []bool {
	wide := p.w/4 + 1
	out := make([]bool, wide*(p.h/4+1))
	for range p.w * p.h / 40000 {
		x, y, n := p.dice.IntN(wide-30), p.dice.IntN(p.h/4-4), 8+p.dice.IntN(20)
		for i := range n {
			for j := range 3 {
				out[(y+j)*wide+x+i] = p.dice.IntN(2) == 0
			}
		}
	}
	return out
}
