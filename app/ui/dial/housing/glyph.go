package housing

import (
	"fmt"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	face "legwright/assets/look"
)

// em is the size at which outlines are loaded; they are scaled when drawn.
const em = 1024

// outline is one glyph in em units, y down from the baseline.
type outline struct {
	segments sfnt.Segments
	advance  float64 // fraction of the em
}

// lettering holds the outlines of the ten figures and the four letters.
type lettering struct {
	glyphs map[rune]outline
	cap    float64 // height of a figure, fraction of the em
}

// newLettering loads B612 Bold, whose ten figures have one width.
func newLettering() (*lettering, error) {
	parsed, err := sfnt.Parse(face.Bold())
	if err != nil {
		return nil, fmt.Errorf("housing: read the face: %w", err)
	}
	l := &lettering{glyphs: make(map[rune]outline)}
	var buf sfnt.Buffer
	for _, r := range "0123456789NESW" {
		o, err := load(parsed, &buf, r)
		if err != nil {
			return nil, err
		}
		l.glyphs[r] = o
	}
	metrics, err := parsed.Metrics(&buf, fixed.I(em), font.HintingNone)
	if err != nil {
		return nil, fmt.Errorf("housing: measure the face: %w", err)
	}
	l.cap = float64(metrics.CapHeight) / 64 / em
	return l, nil
}

func load(f *sfnt.Font, buf *sfnt.Buffer, r rune) (outline, error) {
	index, err := f.GlyphIndex(buf, r)
	if err != nil || index == 0 {
		return outline{}, fmt.Errorf("housing: the face has no glyph for %q: %w", r, err)
	}
	segments, err := f.LoadGlyph(buf, index, fixed.I(em), nil)
	if err != nil {
		return outline{}, fmt.Errorf("housing: load %q: %w", r, err)
	}
	segments = append(sfnt.Segments(nil), segments...) // the buffer is reused
	advance, err := f.GlyphAdvance(buf, index, fixed.I(em), font.HintingNone)
	if err != nil {
		return outline{}, fmt.Errorf("housing: measure %q: %w", r, err)
	}
	return outline{segments, float64(advance) / 64 / em}, nil
}

func (l *lettering) width(text string) (ems float64) {
	for _, r := range text {
		ems += l.glyphs[r].advance
	}
	return ems
}

// write adds text to the pen, its middle at radius r and upright seen from the
// centre; size is the em as a fraction of the face.
func (l *lettering) write(p *pen, text string, r, angle, size float64) {
	across := -l.width(text) * size / 2
	for _, g := range text {
		o := l.glyphs[g]
		p.glyph(o, r-l.cap*size/2, across, angle, size)
		across += o.advance * size
	}
}

// glyph adds an outline with its origin at along, across.
func (p *pen) glyph(o outline, along, across, angle, size float64) {
	scale := size / em / 64
	point := func(q fixed.Point26_6) (float32, float32) {
		return p.shifted(along-float64(q.Y)*scale, across+float64(q.X)*scale, angle)
	}
	for _, s := range o.segments {
		x, y := point(s.Args[0])
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			p.path.ClosePath()
			p.path.MoveTo(x, y)
		case sfnt.SegmentOpLineTo:
			p.path.LineTo(x, y)
		case sfnt.SegmentOpQuadTo:
			x1, y1 := point(s.Args[1])
			p.path.QuadTo(x, y, x1, y1)
		case sfnt.SegmentOpCubeTo:
			x1, y1 := point(s.Args[1])
			x2, y2 := point(s.Args[2])
			p.path.CubeTo(x, y, x1, y1, x2, y2)
		}
	}
	p.path.ClosePath()
}
