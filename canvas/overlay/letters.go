package overlay

import (
	"encoding/binary"
	"fmt"
	"image"
	"image/color"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"legwright/assets/look"
	"legwright/canvas/script"
)

// words is a text to be drawn: where it is placed is for others to say.
type words struct {
	text  string
	size  float64 // pixels an em
	angle float64 // radians, clockwise on the screen
	bold  bool
	ink   color.NRGBA
}

// maxRunes is the longest text drawn; the rest is cut off.
const maxRunes = 120

// plate is a text as a small picture with its halo. Its middle is the middle
// of the line of text.
type plate struct {
	img           *image.RGBA
	midX, midY    float64 // of the text in the picture
	width, height float64 // of the line of text, along and across
	used          int     // the round in which it was last wanted
}

// letterer turns texts into plates and keeps them. It is not safe for
// concurrent use.
type letterer struct {
	regular, bold faces
	buf           sfnt.Buffer
	plates        map[words]*plate
	most          int // plates above which those out of use are forgotten
	round         int
	scratch       scratch
}

func newLetterer(most int) *letterer {
	return &letterer{
		regular: faces{parse(look.Regular()), parse(look.Wide())},
		bold:    faces{parse(look.Bold()), parse(look.WideBold())},
		plates:  map[words]*plate{}, most: most,
	}
}

// turnOver begins another round of drawing, and forgets plates that were not
// wanted in the last one if there are many.
func (l *letterer) turnOver() {
	if len(l.plates) > l.most {
		for w, p := range l.plates {
			if p.used != l.round {
				delete(l.plates, w)
				l.scratch.takeBack(p)
			}
		}
	}
	l.round++
}

// parse reads an embedded face. A face that cannot be read is a programmer's
// mistake.
func parse(b []byte) *sfnt.Font {
	f, err := sfnt.Parse(b)
	if err != nil {
		panic(fmt.Sprintf("embedded face cannot be read: %v", err))
	}
	return f
}

// plate gives the picture of w, its angle rounded to a hundredth of a radian.
func (l *letterer) plate(w words) *plate {
	w.angle = math.Round(w.angle*100) / 100
	if r := []rune(w.text); len(r) > maxRunes {
		w.text = string(r[:maxRunes-1]) + "…"
	}
	p := l.plates[w]
	if p == nil {
		p = l.draw(w)
		l.plates[w] = p
	}
	p.used = l.round
	return p
}

func (l *letterer) faces(w words) faces {
	if w.bold {
		return l.bold
	}
	return l.regular
}

// faces are those of one weight: the first that has a letter draws it.
type faces []*sfnt.Font

// find returns the face that has r, and the letter in it, or nil.
func (f faces) find(buf *sfnt.Buffer, r rune) (*sfnt.Font, sfnt.GlyphIndex) {
	for _, face := range f {
		if g, err := face.GlyphIndex(buf, r); err == nil && g != 0 {
			return face, g
		}
	}
	return nil, 0
}

// glyphAt is a glyph and where it stands along the line.
type glyphAt struct {
	face  *sfnt.Font
	index sfnt.GlyphIndex
	x     float64
}

// layout sets the text on one line and gives its width in pixels. Letters that
// no face has are spelt out by their code.
func (l *letterer) layout(w words) (glyphs []glyphAt, width float64) {
	all, ppem := l.faces(w), fixed.Int26_6(w.size*64)
	has := func(r rune) bool { f, _ := all.find(&l.buf, r); return f != nil }
	var before glyphAt
	for _, r := range script.Line(w.text, has) {
		f, g := all.find(&l.buf, r)
		if f == nil {
			continue
		}
		if before.face == f {
			if k, err := f.Kern(&l.buf, before.index, g, ppem, font.HintingNone); err == nil {
				width += float64(k) / 64
			}
		}
		before = glyphAt{f, g, width}
		glyphs = append(glyphs, before)
		if a, err := f.GlyphAdvance(&l.buf, g, ppem, font.HintingNone); err == nil {
			width += float64(a) / 64
		}
	}
	return glyphs, width
}

// width is the width of a text in pixels.
func (l *letterer) width(w words) float64 {
	_, n := l.layout(w)
	return n
}

// capShare is the height of figures and capitals in ems, near enough for
// centring.
const capShare = 0.7

// draw fills the outlines, turned, and lays them over their halo.
func (l *letterer) draw(w words) *plate {
	glyphs, width := l.layout(w)
	sin, cos := math.Sincos(w.angle)
	halo := max(1.5, w.size*0.16)
	p := &plate{width: width, height: w.size * capShare}
	hw, hh := width/2+halo+w.size*0.2, w.size*0.75+halo
	bw, bh := math.Abs(hw*cos)+math.Abs(hh*sin), math.Abs(hw*sin)+math.Abs(hh*cos)
	size := image.Pt(int(math.Ceil(2*bw))+2, int(math.Ceil(2*bh))+2)
	p.midX, p.midY = float64(size.X)/2, float64(size.Y)/2
	z := &l.scratch.z
	z.Reset(size.X, size.Y)
	pen := pen{z: z, sin: sin, cos: cos, midX: p.midX, midY: p.midY}
	for _, g := range glyphs {
		segs, err := g.face.LoadGlyph(&l.buf, g.index, fixed.Int26_6(w.size*64), nil)
		if err != nil {
			continue
		}
		pen.dx, pen.dy = g.x-width/2, w.size*capShare/2
		pen.glyph(segs)
	}
	ink := mask(&l.scratch.ink, size)
	z.Draw(ink, ink.Rect, image.Opaque, image.Point{})
	p.img = l.scratch.picture(size)
	around := grow(mask(&l.scratch.halo, size), ink, l.scratch.disc(halo))
	compose(p.img, ink, around, l.scratch.shades(w.ink))
	return p
}

// pen feeds outlines to a rasteriser, moved along the line and turned about
// its middle. Plates are large enough for all their letters; what still falls
// outside is drawn to the edge, because the rasteriser must not leave it.
type pen struct {
	z          *vector.Rasterizer
	sin, cos   float64
	midX, midY float64
	dx, dy     float64
}

func (p *pen) at(a fixed.Point26_6) (x, y float32) {
	u, v := float64(a.X)/64+p.dx, float64(a.Y)/64+p.dy
	s := p.z.Size()
	return float32(min(max(p.midX+u*p.cos-v*p.sin, 0), float64(s.X))),
		float32(min(max(p.midY+u*p.sin+v*p.cos, 0), float64(s.Y)))
}

func (p *pen) glyph(segs sfnt.Segments) {
	for _, s := range segs {
		ax, ay := p.at(s.Args[0])
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			p.z.ClosePath()
			p.z.MoveTo(ax, ay)
		case sfnt.SegmentOpLineTo:
			p.z.LineTo(ax, ay)
		case sfnt.SegmentOpQuadTo:
			bx, by := p.at(s.Args[1])
			p.z.QuadTo(ax, ay, bx, by)
		case sfnt.SegmentOpCubeTo:
			bx, by := p.at(s.Args[1])
			cx, cy := p.at(s.Args[2])
			p.z.CubeTo(ax, ay, bx, by, cx, cy)
		}
	}
	p.z.ClosePath()
}

// dab is one pixel of a soft disc.
type dab struct {
	dx, dy int
	part   uint32 // of 256
}

// disc is a soft disc of radius r pixels.
func disc(r float64) []dab {
	var out []dab
	n := int(math.Ceil(r))
	for dy := -n; dy <= n; dy++ {
		for dx := -n; dx <= n; dx++ {
			if part := min(r+0.5-math.Hypot(float64(dx), float64(dy)), 1); part > 0 {
				out = append(out, dab{dx, dy, uint32(part * 256)})
			}
		}
	}
	return out
}

// grow widens a mask softly into a clear one: each inked pixel dabs a disc.
// Letters ink few pixels, so that this is quicker than to look around every
// pixel.
func grow(out, m *image.Alpha, brush []dab) *image.Alpha {
	w, h := m.Rect.Dx(), m.Rect.Dy()
	for i, v := range m.Pix {
		if v == 0 {
			continue
		}
		x, y := i%w, i/w
		for _, d := range brush {
			if px, py := x+d.dx, y+d.dy; px >= 0 && py >= 0 && px < w && py < h {
				p := &out.Pix[py*out.Stride+px]
				*p = max(*p, uint8(uint32(v)*d.part>>8))
			}
		}
	}
	return out
}

// compose lays ink over a halo, into a clear picture.
func compose(out *image.RGBA, ink, halo *image.Alpha, shades *shades) {
	for i, h := range halo.Pix {
		if h != 0 {
			v := over(shades.halo[h], shades.ink[ink.Pix[i]])
			binary.LittleEndian.PutUint32(out.Pix[4*i:], v)
		}
	}
}

// shades are a colour and its white halo at each of 256 opacities,
// premultiplied.
type shades struct {
	of        color.NRGBA
	ink, halo [256]uint32
}

func newShades(c color.NRGBA) *shades {
	s := &shades{of: c}
	light, dark := packColor(faded(white, 0xe0)), packColor(c)
	for i := range s.ink {
		part := float64(i) / 255
		s.ink[i], s.halo[i] = scaled(dark, part), scaled(light, part)
	}
	return s
}
