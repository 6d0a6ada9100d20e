package ink

import (
	"embed"
	"fmt"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

//go:embed fonts/*.ttf
var fontFiles embed.FS

// Face is a typeface whose outlines can be drawn at any size and turn.
type Face struct {
	font *sfnt.Font
	buf  sfnt.Buffer
}

// NewFace reads an OpenType or TrueType file.
func NewFace(data []byte) (*Face, error) {
	f, err := sfnt.Parse(data)
	if err != nil {
		return nil, fmt.Errorf("read the typeface: %w", err)
	}
	return &Face{font: f}, nil
}

// Lettering returns one of the embedded faces for names: "Regular", "Italic" or "Bold".
func Lettering(style string) (*Face, error) {
	data, err := fontFiles.ReadFile("fonts/Caladea-" + style + ".ttf")
	if err != nil {
		return nil, fmt.Errorf("open the lettering face: %w", err)
	}
	return NewFace(data)
}

const unitsPerEm = 2048

// glyph is one letter ready to be placed: its outline index and where it starts, in pixels.
type glyph struct {
	index   sfnt.GlyphIndex
	x       float64
	advance float64
}

// set lines up the letters of a text at a size in pixels per em with extra space after each letter.
func (f *Face) set(text string, size, spacing float64) ([]glyph, float64) {
	scale := size / unitsPerEm
	var out []glyph
	x, last := 0.0, sfnt.GlyphIndex(0)
	for _, r := range text {
		index, err := f.font.GlyphIndex(&f.buf, r)
		if err != nil || index == 0 {
			panic(fmt.Sprintf("ink: the typeface has no glyph for %q", r))
		}
		adv, err := f.font.GlyphAdvance(&f.buf, index, fixed.I(unitsPerEm), font.HintingNone)
		if err != nil {
			panic(fmt.Sprintf("ink: width of %q: %v", r, err))
		}
		if kern, err := f.font.Kern(&f.buf, last, index, fixed.I(unitsPerEm), font.HintingNone); err == nil && last != 0 {
			x += float64(kern) / 64 * scale
		}
		w := float64(adv) / 64 * scale
		out = append(out, glyph{index, x, w})
		x += w + spacing
		last = index
	}
	return out, x - spacing
}

// Width returns the length of the text in pixels.
func (f *Face) Width(text string, size, spacing float64) float64 {
	_, w := f.set(text, size, spacing)
	return w
}

// Text adds a text whose baseline starts at p and runs in the direction turn (radians from x towards y).
func (f *Face) Text(pen *Pen, text string, p Pt, turn, size, spacing float64) {
	glyphs, _ := f.set(text, size, spacing)
	s, c := math.Sincos(turn)
	for _, g := range glyphs {
		f.place(pen, g.index, Pt{p.X + g.x*c, p.Y + g.x*s}, turn, size)
	}
}

// TextAlong adds a text along a line, from s0 pixels along it, each letter turned to the line; the
// baseline runs lift pixels to the left of the line.
func (f *Face) TextAlong(pen *Pen, text string, line []Pt, s0, lift, size, spacing float64) {
	glyphs, _ := f.set(text, size, spacing)
	for _, g := range glyphs {
		half := g.advance / 2
		mid, _ := At(line, s0+g.x+half)
		a, _ := At(line, s0+g.x-0.3*size)
		b, _ := At(line, s0+g.x+g.advance+0.3*size)
		turn := math.Atan2(b.Y-a.Y, b.X-a.X)
		s, c := math.Sincos(turn)
		f.place(pen, g.index, Pt{mid.X - half*c + lift*s, mid.Y - half*s - lift*c}, turn, size)
	}
}

func (f *Face) place(pen *Pen, index sfnt.GlyphIndex, p Pt, turn, size float64) {
	segments, err := f.font.LoadGlyph(&f.buf, index, fixed.I(unitsPerEm), nil)
	if err != nil {
		panic(fmt.Sprintf("ink: outline of glyph %d: %v", index, err))
	}
	s, c := math.Sincos(turn)
	scale := size / unitsPerEm / 64
	at := func(q fixed.Point26_6) Pt {
		x, y := float64(q.X)*scale, float64(q.Y)*scale
		return Pt{p.X + x*c - y*s, p.Y + x*s + y*c}
	}
	for _, seg := range segments {
		switch seg.Op {
		case sfnt.SegmentOpMoveTo:
			pen.add('m', at(seg.Args[0]))
		case sfnt.SegmentOpLineTo:
			pen.add('l', at(seg.Args[0]))
		case sfnt.SegmentOpQuadTo:
			pen.add('q', at(seg.Args[0]), at(seg.Args[1]))
		case sfnt.SegmentOpCubeTo:
			pen.add('c', at(seg.Args[0]), at(seg.Args[1]), at(seg.Args[2]))
		}
	}
}

// Outline returns a pen that holds the outlines of p as lines of the given width: the halo of a text.
func (p *Pen) Outline(width float64) *Pen {
	out := NewPen()
	var line []Pt
	flush := func() {
		if len(line) > 1 {
			out.Stroke(append(line, line[0]), width)
		}
		line = line[:0]
	}
	for _, o := range p.ops {
		switch o.kind {
		case 'm':
			flush()
			line = append(line, o.p[0])
		case 'l':
			line = append(line, o.p[0])
		case 'q':
			a := line[len(line)-1]
			line = append(line, bezier(a, a, o.p[0], o.p[1], 0.5, true), o.p[1])
		case 'c':
			a := line[len(line)-1]
			line = append(line, bezier(a, o.p[0], o.p[1], o.p[2], 0.33, false), bezier(a, o.p[0], o.p[1], o.p[2], 0.67, false), o.p[2])
		}
	}
	flush()
	return out
}

func bezier(a, b, c, d Pt, t float64, quad bool) Pt {
	u := 1 - t
	if quad { // a, c, d are the quadratic's points
		return Pt{u*u*a.X + 2*u*t*c.X + t*t*d.X, u*u*a.Y + 2*u*t*c.Y + t*t*d.Y}
	}
	return Pt{
		u*u*u*a.X + 3*u*u*t*b.X + 3*u*t*t*c.X + t*t*t*d.X,
		u*u*u*a.Y + 3*u*u*t*b.Y + 3*u*t*t*c.Y + t*t*t*d.Y,
	}
}
