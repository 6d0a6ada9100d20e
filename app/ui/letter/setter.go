package letter

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	face "legwright/assets/look"
	"legwright/canvas/script"
)

// Style is one way of setting text.
type Style struct {
	Size float32 // of the em, in units of the window
	Bold bool
}

// Setter sets text at one scale of the display. It keeps the letters it has
// drawn, and is not safe for concurrent use.
type Setter struct {
	scale float32
	fonts [2][]*opentype.Font // plain and bold; the first that has a letter draws it
	sets  map[Style]*set
}

// New returns a setter for a scale in physical pixels a unit of the window.
// It sets B612, and takes letters that B612 lacks from the toolkit's own face
// or from DejaVu Sans; those that none has are spelt out by their code.
func New(scale float32) (*Setter, error) {
	if !(scale > 0) || math.IsInf(float64(scale), 0) {
		return nil, fmt.Errorf("letter: scale %v, want more than 0", scale)
	}
	s := &Setter{scale: scale, sets: map[Style]*set{}}
	for i, list := range [2][][]byte{
		{face.Regular(), theme.DefaultTextFont().Content(), face.Wide(), theme.DefaultSymbolFont().Content()},
		{face.Bold(), theme.DefaultTextBoldFont().Content(), face.WideBold(), theme.DefaultSymbolFont().Content()},
	} {
		for _, data := range list {
			f, err := opentype.Parse(data)
			if err != nil {
				return nil, fmt.Errorf("letter: read a face: %w", err)
			}
			s.fonts[i] = append(s.fonts[i], f)
		}
	}
	return s, nil
}

// At returns a setter for a scale: s itself where it is one, else a new one.
// Where there is no such scale it is s, which may be nil.
func (s *Setter) At(scale float32) *Setter {
	if s != nil && s.scale == scale {
		return s
	}
	made, err := New(scale)
	if err != nil {
		fyne.LogError("no letters for this display", err) // the fonts are embedded
		return s
	}
	return made
}

// Scale returns the scale the setter was made for.
func (s *Setter) Scale() float32 { return s.scale }

// Ascent returns how far a line's top lies above the line on which its text
// stands, in units of the window.
func (s *Setter) Ascent(st Style) float32 {
	return s.units(s.set(st).face(0).Metrics().Ascent)
}

// Cap returns the height of capitals and figures, in units of the window.
func (s *Setter) Cap(st Style) float32 {
	return s.units(s.set(st).face(0).Metrics().CapHeight)
}

func (s *Setter) units(v fixed.Int26_6) float32 { return float32(v) / 64 / s.scale }

// Width returns how wide a text is, in units of the window.
func (s *Setter) Width(text string, st Style) float32 {
	var x fixed.Int26_6
	s.each(text, st, 0, func(g *glyph, _ fixed.Int26_6, end fixed.Int26_6) { x = end })
	return s.units(x)
}

// Write sets a text with its left end at x and standing on a line, both in
// units of the window. The line is brought to a whole pixel.
func (s *Setter) Write(dst *image.RGBA, text string, st Style, x, line float32, c color.NRGBA) {
	from := fixed.Int26_6(x*s.scale*64 + 0.5)
	y := int(math.Floor(float64(line*s.scale) + 0.5))
	s.each(text, st, from, func(g *glyph, at, _ fixed.Int26_6) {
		g.draw(dst, at.Floor(), y, c)
	})
}

// each goes through the letters of a text that begins at x: their pictures,
// where they stand and where the next begins.
func (s *Setter) each(text string, st Style, x fixed.Int26_6, do func(g *glyph, at, end fixed.Int26_6)) {
	before, set := rune(-1), s.set(st)
	for _, r := range script.Line(text, set.has) {
		if before >= 0 {
			x += set.kern(before, r)
		}
		g := set.glyph(r, x)
		do(g, x, x+g.advance)
		x, before = x+g.advance, r
	}
}

// Fit cuts a text so that it is no wider than width, and ends it with an
// ellipsis where it was cut.
func (s *Setter) Fit(text string, st Style, width float32) string {
	if text == "" || s.Width(text, st) <= width {
		return text
	}
	runes := []rune(text)
	low, high := 0, len(runes)
	for low < high {
		mid := (low + high + 1) / 2
		if s.Width(string(runes[:mid])+"…", st) <= width {
			low = mid
		} else {
			high = mid - 1
		}
	}
	return string(runes[:low]) + "…"
}

// set returns the letters of a style.
func (s *Setter) set(st Style) *set {
	if l := s.sets[st]; l != nil {
		return l
	}
	weight := 0
	if st.Bold {
		weight = 1
	}
	l := newSet(s.fonts[weight], float64(st.Size*s.scale))
	s.sets[st] = l
	return l
}
