package lettering

import (
	"math"

	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/harfbuzz"
	"github.com/go-text/typesetting/language"
	"github.com/go-text/typesetting/shaping"
	"golang.org/x/image/math/f64"
)

// Line is a shaped line of text. It has no size: lengths are in ems, rightwards and
// downwards from the beginning of the text on its baseline. Like its setter it is
// not safe for concurrent use.
type Line struct {
	family *family
	glyphs []glyph // from left to right
	width  float64
}

// glyph is a letter, or a ligature, at its position on the line.
type glyph struct {
	id   font.GID
	face int
	x, y float32
}

// Width returns how far from its beginning a text after this one would begin.
func (l *Line) Width() float64 { return l.width }

// Bounds returns the box that the ink of the line lies in; all are 0 where
// there is none.
func (l *Line) Bounds() (left, top, right, bottom float64) {
	for _, g := range l.glyphs {
		f := l.family.face(g.face)
		e, ok := f.GlyphExtents(g.id)
		if !ok || e.Width == 0 {
			continue
		}
		x, y := float64(g.x)+float64(e.XBearing)/f.em, float64(g.y)-float64(e.YBearing)/f.em
		left, right = min(left, x), max(right, x+float64(e.Width)/f.em)
		top, bottom = min(top, y), max(bottom, y-float64(e.Height)/f.em)
	}
	return left, top, right, bottom
}

// Path takes outlines; vector.Rasterizer is one.
type Path interface {
	MoveTo(x, y float32)
	LineTo(x, y float32)
	QuadTo(x1, y1, x, y float32)
	CubeTo(x1, y1, x2, y2, x, y float32)
	ClosePath()
}

// At returns the transform from ems to pixels for a line that begins at x, y, with
// an em of size pixels, turned clockwise on the screen by an angle in radians.
func At(x, y, size, angle float64) f64.Aff3 {
	sin, cos := math.Sincos(angle)
	return f64.Aff3{size * cos, -size * sin, x, size * sin, size * cos, y}
}

// Trace adds the outlines of the line, transformed to pixels by m, to a path.
func (l *Line) Trace(to Path, m f64.Aff3) {
	for _, g := range l.glyphs {
		trace(to, l.family.face(g.face), g.id, moved(m, g.x, g.y))
	}
}

// moved is m for a letter that stands at x, y.
func moved(m f64.Aff3, x, y float32) f64.Aff3 {
	m[2] += m[0]*float64(x) + m[1]*float64(y)
	m[5] += m[3]*float64(x) + m[4]*float64(y)
	return m
}

// trace adds the outline of one letter.
func trace(to Path, f *face, id font.GID, m f64.Aff3) {
	a, b, c, d := m[0]/f.em, -m[1]/f.em, m[3]/f.em, -m[4]/f.em // outlines go upwards
	at := func(p opentype.SegmentPoint) (x, y float32) {
		px, py := float64(p.X), float64(p.Y)
		return float32(a*px + b*py + m[2]), float32(c*px + d*py + m[5])
	}
	segments := f.outline(id)
	for i := range segments {
		s := &segments[i]
		x, y := at(s.Args[0])
		switch s.Op {
		case opentype.SegmentOpMoveTo:
			to.ClosePath()
			to.MoveTo(x, y)
		case opentype.SegmentOpLineTo:
			to.LineTo(x, y)
		case opentype.SegmentOpQuadTo:
			x1, y1 := at(s.Args[1])
			to.QuadTo(x, y, x1, y1)
		case opentype.SegmentOpCubeTo:
			x1, y1 := at(s.Args[1])
			x2, y2 := at(s.Args[2])
			to.CubeTo(x, y, x1, y1, x2, y2)
		}
	}
	to.ClosePath()
}

// mostLines is how many recently used lines a setter keeps, more than a sheet shows
// at once; it keeps as many older ones.
const mostLines = 2048

// lineKey names a line.
type lineKey struct {
	text string
	bold bool
}

// shaper shapes lines and caches them.
type shaper struct {
	families       [2]*family
	lines, earlier map[lineKey]*Line
	segmenter      shaping.Segmenter
	buffer         *harfbuzz.Buffer
	runes          []rune
}

func newShaper() *shaper {
	return &shaper{
		families: [2]*family{{bold: 0}, {bold: 1}},
		lines:    map[lineKey]*Line{}, earlier: map[lineKey]*Line{},
		buffer: harfbuzz.NewBuffer(),
	}
}

func (s *shaper) family(bold bool) *family {
	if bold {
		return s.families[1]
	}
	return s.families[0]
}

// Line returns a shaped text, plain or bold.
func (s *shaper) Line(text string, bold bool) *Line {
	key := lineKey{text, bold}
	if l := s.lines[key]; l != nil {
		return l
	}
	l := s.earlier[key]
	if l == nil {
		l = s.make(text, s.family(bold))
	}
	if len(s.lines) >= mostLines {
		s.lines, s.earlier = s.earlier, s.lines
		clear(s.lines)
	}
	s.lines[key] = l
	return l
}

// make shapes a text.
func (s *shaper) make(text string, f *family) *Line {
	l := &Line{family: f}
	switch {
	case text == "":
	case f.plain(text):
		s.runes = append(s.runes[:0], []rune(text)...)
		s.add(l, run{to: len(s.runes), script: language.Latin, language: "en"})
	default:
		s.runes = f.clean(s.runes[:0], text)
		for _, r := range s.runs(f, s.runes) {
			s.add(l, r)
		}
	}
	return l
}

// add shapes a run and appends it to a line.
func (s *shaper) add(l *Line, r run) {
	f := l.family.face(r.face)
	s.buffer.Clear()
	s.buffer.AddRunes(s.runes, r.from, r.to-r.from)
	s.buffer.Props = harfbuzz.SegmentProperties{Direction: harfbuzz.LeftToRight, Script: r.script, Language: r.language}
	if r.level == 1 {
		s.buffer.Props.Direction = harfbuzz.RightToLeft
	}
	s.buffer.Shape(f.shape, nil)
	if l.glyphs == nil {
		l.glyphs = make([]glyph, 0, max(len(s.buffer.Info), len(s.runes)))
	}
	for i, p := range s.buffer.Pos {
		x, y := l.width+float64(p.XOffset)/f.em, -float64(p.YOffset)/f.em
		l.glyphs = append(l.glyphs, glyph{s.buffer.Info[i].Glyph, r.face, float32(x), float32(y)})
		l.width += float64(p.XAdvance) / f.em
	}
}
