package letter

import (
	"fmt"
	"image"
	"image/color"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// mostOthers bounds what a set keeps beyond Latin: a long ledger in many
// scripts begins anew rather than growing.
const mostOthers = 1024

// latin is how many letters have a place of their own.
const latin = 0x180

// set is the letters of one style: at each of the four quarters of a pixel at
// which a letter may begin.
type set struct {
	fonts  []*opentype.Font
	faces  []font.Face // nil until needed
	size   float64     // of the em in pixels
	latin  [latin][4]*glyph
	others map[glyphKey]*glyph
	kerns  map[[2]rune]fixed.Int26_6
}

// glyphKey names a drawn letter beyond Latin; part is the quarter.
type glyphKey struct {
	r    rune
	part uint8
}

// glyph is a drawn letter: its coverage, and where that lies from the pixel in
// which the letter begins on its line.
type glyph struct {
	mask    *image.Alpha // nil where nothing is drawn, as for a space
	corner  image.Point
	advance fixed.Int26_6
}

func newSet(fonts []*opentype.Font, size float64) *set {
	return &set{
		fonts: fonts, faces: make([]font.Face, len(fonts)), size: size,
		others: map[glyphKey]*glyph{}, kerns: map[[2]rune]fixed.Int26_6{},
	}
}

// face returns one of the set's faces.
func (s *set) face(i int) font.Face {
	if s.faces[i] == nil {
		f, err := opentype.NewFace(s.fonts[i], &opentype.FaceOptions{Size: s.size, DPI: 72})
		if err != nil { // it never fails on a font that was parsed
			panic(fmt.Sprintf("letter: %v", err))
		}
		s.faces[i] = f
	}
	return s.faces[i]
}

// glyph returns a letter as it is drawn when it begins at x.
func (s *set) glyph(r rune, x fixed.Int26_6) *glyph {
	part := uint8(x&63) >> 4
	if r >= 0 && r < latin {
		g := &s.latin[r][part]
		if *g == nil {
			*g = s.make(r, part)
		}
		return *g
	}
	key := glyphKey{r, part}
	g := s.others[key]
	if g == nil {
		if len(s.others) >= mostOthers {
			clear(s.others)
		}
		g = s.make(r, part)
		s.others[key] = g
	}
	return g
}

func (s *set) make(r rune, part uint8) *glyph {
	box, mask, at, advance, ok := s.face(s.fontOf(r)).Glyph(fixed.Point26_6{X: fixed.Int26_6(part) << 4}, r)
	if !ok {
		return &glyph{}
	}
	g := &glyph{corner: box.Min, advance: advance}
	if box.Empty() {
		return g
	}
	g.mask = image.NewAlpha(image.Rectangle{Max: box.Size()})
	for y := range box.Dy() {
		for x := range box.Dx() {
			_, _, _, a := mask.At(at.X+x, at.Y+y).RGBA()
			g.mask.Pix[y*g.mask.Stride+x] = uint8(a >> 8)
		}
	}
	return g
}

// fontOf returns the first font that has a letter, else the first.
func (s *set) fontOf(r rune) int {
	i, _ := s.find(r)
	return i
}

// has reports whether any font has a letter.
func (s *set) has(r rune) bool {
	_, ok := s.find(r)
	return ok
}

func (s *set) find(r rune) (font int, ok bool) {
	var buf sfnt.Buffer
	for i, f := range s.fonts {
		if index, err := f.GlyphIndex(&buf, r); err == nil && index != 0 {
			return i, true
		}
	}
	return 0, false
}

// kern returns what two letters move towards each other.
func (s *set) kern(a, b rune) fixed.Int26_6 {
	key := [2]rune{a, b}
	k, ok := s.kerns[key]
	if !ok {
		if len(s.kerns) >= mostOthers {
			clear(s.kerns)
		}
		if of := s.fontOf(a); of == s.fontOf(b) {
			k = s.face(of).Kern(a, b)
		}
		s.kerns[key] = k
	}
	return k
}

// draw lays a letter over a picture in the pixel column and on the line given.
func (g *glyph) draw(dst *image.RGBA, x, y int, c color.NRGBA) {
	if g.mask == nil {
		return
	}
	at := g.mask.Rect.Add(g.corner).Add(image.Pt(x, y))
	seen := at.Intersect(dst.Rect)
	for row := seen.Min.Y; row < seen.Max.Y; row++ {
		from := (row-at.Min.Y)*g.mask.Stride + seen.Min.X - at.Min.X
		over(dst.Pix[dst.PixOffset(seen.Min.X, row):], g.mask.Pix[from:from+seen.Dx()], c)
	}
}

// over lays a colour through a row of coverage over premultiplied pixels.
func over(dst, mask []byte, c color.NRGBA) {
	for i, m := range mask {
		if m == 0 {
			continue
		}
		d := dst[4*i : 4*i+4 : 4*i+4]
		a := (uint32(m)*uint32(c.A) + 127) / 255
		if a == 255 {
			d[0], d[1], d[2], d[3] = c.R, c.G, c.B, 255
			continue
		}
		d[0], d[1], d[2] = mix(c.R, d[0], a), mix(c.G, d[1], a), mix(c.B, d[2], a)
		d[3] = mix(255, d[3], a)
	}
}

// mix is ink by its coverage a of 255, over what was there.
func mix(ink, was uint8, a uint32) uint8 {
	return uint8((uint32(ink)*a + uint32(was)*(255-a) + 127) / 255)
}
