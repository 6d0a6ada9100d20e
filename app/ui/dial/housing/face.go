package housing

import (
	"errors"
	"fmt"
	"image"
	"image/color"
	"math"

	"legwright/app/lettering"
	"legwright/app/ui/pen"
	"legwright/app/units"
)

// The side of a face in pixels. Below Smallest the figures of the ring cannot
// be distinguished; above Largest a caller has mistaken its size.
const (
	Smallest = 96
	Largest  = 4096
)

// ErrSize says that a face was asked for outside Smallest to Largest.
var ErrSize = errors.New("housing: side out of range")

// Ink is the set of colours of a face. All are opaque, but for Plate: where it is
// translucent, so is the floor inside the ring.
type Ink struct {
	Rim, Ring, Mark, Plate, Line, Letter, Needle, Tail, Index color.NRGBA
}

// State is what a face shows.
type State struct {
	Head      units.Angle  // the index, clockwise from the head of the picture
	At        units.Angle  // the figure at the index, on the housing
	NeedleOff units.Angle  // needle, clockwise from the housing's north
	GateOff   units.Angle  // gate, clockwise from the housing's north
	Circle    units.Circle // graduation of the ring
	Needle    bool         // false: magnetic north is not known, no needle is drawn
	Gate      bool         // false: no gate is drawn
	Focus     bool         // the rim shows that the ring has the keys
	Blank     bool         // only a question mark is drawn, and nothing that has a direction
}

// The radii and widths of the face as fractions of the whole.
const (
	ringInner    = 0.685
	tickOuter    = 0.945
	tickFine     = 0.908
	tickMiddle   = 0.885
	tickFigure   = 0.862
	figureAt     = 0.778
	figureSize   = 0.112
	letterAt     = 0.585
	letterSize   = 0.118
	questionSize = 0.9
	focusInner   = 0.955
	focusMiddle  = 0.978
	plateLine    = 0.645 // north lines end here
	gateInner    = 0.31
	gateOuter    = 0.50
	gateHalf     = 0.078
)

// Face draws the dial at one size in one set of colours. It keeps its last
// picture and draws anew only when the state changes. It is not safe for
// concurrent use.
type Face struct {
	ink     Ink
	letters *lettering.Setter
	pen     *pen.Pen
	base    *image.RGBA
	out     *image.RGBA
	last    *State // as drawn; nil before the first time
}

// New returns a face of px by px pixels; px lies in Smallest to Largest, else
// the error wraps ErrSize.
func New(px int, ink Ink) (*Face, error) {
	if px < Smallest || px > Largest {
		return nil, fmt.Errorf("%w: %d pixels, want %d to %d", ErrSize, px, Smallest, Largest)
	}
	f := &Face{ink: ink, letters: lettering.New(), pen: pen.New(px)}
	f.base = image.NewRGBA(image.Rect(0, 0, px, px))
	f.out = image.NewRGBA(f.base.Rect)
	f.drawBase()
	return f, nil
}

// Side returns the side of the picture in pixels.
func (f *Face) Side() int { return f.base.Rect.Dx() }

// Ink returns the colours the face was made with.
func (f *Face) Ink() Ink { return f.ink }

// Draw returns the picture of a state. It is the face's own picture: it is
// overwritten by the next Draw and must not be changed. Outside the housing it
// is transparent. An angle that is not finite is drawn as zero without a
// needle, so that no direction is shown that was not computed.
func (f *Face) Draw(s State) *image.RGBA {
	s = s.sound()
	if f.last != nil && s == *f.last {
		return f.out
	}
	copy(f.out.Pix, f.base.Pix)
	f.last = &s
	if s.Blank {
		f.drawQuestion()
		return f.out
	}
	north := s.Head.Rad() - s.At.Rad()
	f.drawPlate(north, s)
	f.drawRing(north, scaleOf(s.Circle))
	if s.Needle {
		f.drawNeedle(north + s.NeedleOff.Rad())
	}
	if s.Focus {
		f.drawFocus()
	}
	f.drawIndex(s.Head.Rad())
	return f.out
}

func (s State) sound() State {
	if !s.At.IsFinite() || !s.Head.IsFinite() {
		s.At, s.Head, s.Needle = 0, 0, false
	}
	if !s.NeedleOff.IsFinite() {
		s.NeedleOff, s.Needle = 0, false
	}
	if !s.GateOff.IsFinite() {
		s.GateOff, s.Gate = 0, false
	}
	return s
}

// drawBase paints what never turns.
func (f *Face) drawBase() {
	p := f.pen
	discs := []struct {
		r   float64
		ink color.NRGBA
	}{
		{1, f.ink.Rim},
		{1 - 1.4/p.Radius(), f.ink.Ring},
		{ringInner, f.ink.Rim},
		{ringInner - 1.2/p.Radius(), f.ink.Plate},
	}
	for _, d := range discs {
		p.Begin(0, 0, 1, 1)
		p.Disc(0, 0, d.r, 0)
		p.Put(f.base, d.ink)
	}
}

// drawRing adds graduations and figures.
func (f *Face) drawRing(north float64, s scale) {
	p := f.pen
	p.Begin(0, 0, 1, 1)
	thin := max(1, p.Radius()*0.0085)
	step := 2 * math.Pi / float64(s.fine)
	for i := range s.fine {
		angle := north + float64(i)*step
		switch {
		case i%s.figure == 0:
			p.Bar(tickFigure, tickOuter, angle, thin*1.8)
			f.write(s.text(i), figureAt, angle, figureSize)
		case i%s.middle == 0:
			p.Bar(tickMiddle, tickOuter, angle, thin*1.4)
		default:
			p.Bar(tickFine, tickOuter, angle, thin)
		}
	}
	p.Fill(f.out, f.ink.Mark)
}

// drawPlate adds north lines, letters and the gate.
func (f *Face) drawPlate(north float64, s State) {
	p := f.pen
	p.Begin(0, 0, ringInner, ringInner)
	width := max(1, p.Radius()*0.009)
	for k := -3; k <= 3; k++ {
		across := 0.16 * float64(k)
		end := math.Sqrt(plateLine*plateLine - across*across)
		if k == 0 {
			end = letterAt - letterSize*0.75 // clear of the letters N and S
		}
		p.Line(-end, end, across, north, width)
	}
	p.Fill(f.out, f.ink.Line)
	p.Begin(0, 0, ringInner, ringInner)
	for i, letter := range []string{"N", "E", "S", "W"} {
		f.write(letter, letterAt, north+float64(i)*math.Pi/2, letterSize)
	}
	if s.Gate {
		f.addGate(north + s.GateOff.Rad())
	}
	p.Fill(f.out, f.ink.Letter)
}

// drawFocus paints a rim of two colours, one of which stands out against the ring and
// the other against what lies around the face.
func (f *Face) drawFocus() {
	for _, rim := range []struct {
		in, out float64
		ink     color.NRGBA
	}{{focusMiddle, 1, f.ink.Needle}, {focusInner, focusMiddle, f.ink.Index}} {
		f.pen.Begin(0, 0, 1, 1)
		f.pen.Ring(0, 0, rim.in, rim.out, 0)
		f.pen.Put(f.out, rim.ink)
	}
}

// drawQuestion paints what stands on a blank face.
func (f *Face) drawQuestion() {
	f.pen.Begin(0, 0, ringInner, ringInner)
	f.write("?", 0, 0, questionSize)
	f.pen.Fill(f.out, f.ink.Letter)
}

// write adds a text, its middle at radius r on an angle and upright seen from
// the centre; size is the em as a fraction of the face. The ten figures of B612
// have one width.
func (f *Face) write(text string, r, angle, size float64) {
	line, p := f.letters.Line(text, true), f.pen
	capital := float64(f.letters.Cap(lettering.Style{Size: 1, Bold: true}))
	x, y := p.At(r-capital*size/2, -line.Width()*size/2, angle)
	line.Trace(p.Path(), lettering.At(float64(x), float64(y), size*p.Radius(), angle))
}

// addGate adds the two posts between which the needle's point has to lie. They
// widen towards the hub, so that the eye slides outward along them.
func (f *Face) addGate(angle float64) {
	for _, side := range []float64{-1, 1} {
		f.pen.Polygon(angle, [][2]float64{
			{gateOuter, side * gateHalf},
			{gateOuter, side * (gateHalf + 0.02)},
			{gateInner, side * (gateHalf + 0.06)},
			{gateInner, side * (gateHalf + 0.015)},
		})
	}
}
