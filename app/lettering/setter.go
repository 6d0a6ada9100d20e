package lettering

import (
	"image"
	"image/color"
	"math"
	"sort"
	"strings"

	"github.com/go-text/typesetting/font"
	"golang.org/x/image/vector"
)

// Style is one way of setting text.
type Style struct {
	Size float32 // of the em, in units of the window
	Bold bool
}

// Setter sets text at one scale. It caches shaped lines and drawn letters and is
// not safe for concurrent use: each drawer has its own.
type Setter struct {
	*shaper
	scale  float32 // physical pixels per unit of the window
	sets   map[Style]*set
	filler vector.Rasterizer
}

// New returns a setter whose units are pixels.
func New() *Setter { return &Setter{shaper: newShaper(), scale: 1, sets: map[Style]*set{}} }

// At returns a setter for a scale in physical pixels per unit of the window: s
// itself if it has that scale, otherwise a new one with the cached lines of s,
// which may be nil. A scale of 0 or less changes nothing.
func (s *Setter) At(scale float32) *Setter {
	if s == nil {
		s = New()
	}
	if scale == s.scale || !(scale > 0) || math.IsInf(float64(scale), 0) {
		return s
	}
	return &Setter{shaper: s.shaper, scale: scale, sets: map[Style]*set{}}
}

// Scale returns the scale the setter was made for.
func (s *Setter) Scale() float32 { return s.scale }

// Ascent returns the height of a line's top above its baseline, in units of the
// window.
func (s *Setter) Ascent(st Style) float32 {
	f := s.family(st.Bold).face(0)
	e, _ := f.FontHExtents()
	return st.Size * e.Ascender / float32(f.em)
}

// Cap returns the height of capitals and figures, in units of the window.
func (s *Setter) Cap(st Style) float32 {
	f := s.family(st.Bold).face(0)
	return st.Size * f.LineMetric(font.CapHeight) / float32(f.em)
}

// Width returns how wide a text is, in units of the window.
func (s *Setter) Width(text string, st Style) float32 {
	return st.Size * float32(s.Line(text, st.Bold).width)
}

// Fit cuts a text to a width. A text that was cut ends with an ellipsis.
func (s *Setter) Fit(text string, st Style, width float32) string {
	if text == "" || s.Width(text, st) <= width {
		return text
	}
	runes := []rune(text)
	return string(runes[:s.fitting(runes, "…", st, width)]) + "…"
}

// FitEnd cuts a text to a width in its middle: it keeps its first few letters and as much of its end
// as fits. Where that end would be shorter, it is cut as by Fit.
func (s *Setter) FitEnd(text string, st Style, width float32) string {
	const first = 6
	runes := []rune(text)
	if len(runes) <= 2*first || s.Width(text, st) <= width {
		return s.Fit(text, st, width)
	}
	head := strings.TrimRight(string(runes[:first]), " ") + "…"
	rest := runes[first:]
	cut := sort.Search(len(rest), func(n int) bool { return s.Width(head+string(rest[n:]), st) <= width })
	if len(rest)-cut < first {
		return s.Fit(text, st, width)
	}
	return head + strings.TrimLeft(string(rest[cut:]), " ")
}

// fitting returns how many letters of a text fit, with end, into width.
func (s *Setter) fitting(text []rune, end string, st Style, width float32) int {
	return sort.Search(len(text), func(n int) bool {
		return s.Width(string(text[:n+1])+end, st) > width
	})
}

// Wrap breaks a text at its spaces into lines of a width, and breaks a word only if
// it is too long for a line.
func (s *Setter) Wrap(text string, st Style, width float32) []string {
	var lines []string
	for _, w := range strings.Fields(text) {
		if n := len(lines); n > 0 && s.Width(lines[n-1]+" "+w, st) <= width {
			lines[n-1] += " " + w
			continue
		}
		for rest := []rune(w); len(rest) > 0; {
			n := max(s.fitting(rest, "", st, width), 1)
			lines, rest = append(lines, string(rest[:n])), rest[n:]
		}
	}
	return lines
}

// Write draws a text from x on, on a baseline, both in units of the window. The
// baseline is rounded to a whole pixel, which keeps letters sharp; letters begin at
// quarters of a pixel.
func (s *Setter) Write(dst *image.RGBA, text string, st Style, x, line float32, c color.NRGBA) {
	l, set := s.Line(text, st.Bold), s.set(st)
	foot := float32(math.Floor(float64(line*s.scale) + 0.5))
	for _, g := range l.glyphs {
		col, across := quarters(x*s.scale + g.x*set.size)
		row, down := quarters(foot + g.y*set.size)
		set.cover(&s.filler, l.family.face(g.face), glyphKey{g.id, g.face, across, down}).draw(dst, col, row, c)
	}
}

// quarters rounds a coordinate to quarters of a pixel, and returns whole pixels and
// the remaining quarters.
func quarters(v float32) (whole, part int) {
	q := int(math.Floor(float64(v)*4 + 0.5))
	return q >> 2, q & 3
}

// set returns the drawn letters of a style.
func (s *Setter) set(st Style) *set {
	if l := s.sets[st]; l != nil {
		return l
	}
	l := &set{size: st.Size * s.scale, covers: map[glyphKey]*cover{}}
	s.sets[st] = l
	return l
}
