package ledger

import (
	"image"
	"image/color"
	"image/draw"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	face "legwright/assets/look"
)

// style is one way of setting text in the table.
type style int

const (
	plain style = iota
	bold
	small // references and headings
	styles
)

// Text sizes in units of the window.
const (
	textSize  = 13
	smallSize = 11
)

// lettering sets text into pictures at one scale of the display. The whole
// table is one picture: a hundred text objects of the toolkit would cost
// more of each frame than the sheet itself.
type lettering struct {
	scale float32
	faces [styles]font.Face
}

// newLettering prepares the faces for a scale in physical pixels a unit.
func newLettering(scale float32) (*lettering, error) {
	l := &lettering{scale: scale}
	for s, f := range [styles]struct {
		data []byte
		size float64
	}{plain: {face.Regular(), textSize}, bold: {face.Bold(), textSize}, small: {face.Regular(), smallSize}} {
		parsed, err := opentype.Parse(f.data)
		if err != nil {
			return nil, err
		}
		l.faces[s], err = opentype.NewFace(parsed, &opentype.FaceOptions{Size: f.size * float64(scale), DPI: 72})
		if err != nil {
			return nil, err
		}
	}
	return l, nil
}

// width is how wide a text is, in units of the window.
func (l *lettering) width(text string, s style) float32 {
	return float32(font.MeasureString(l.faces[s], text)) / 64 / l.scale
}

// ascent is the height above the line on which text stands.
func (l *lettering) ascent(s style) float32 {
	return float32(l.faces[s].Metrics().CapHeight) / 64 / l.scale
}

// write sets a text with its left end and its line at a place in units of the
// window.
func (l *lettering) write(dst draw.Image, text string, s style, x, line float32, c color.Color) {
	d := font.Drawer{
		Dst: dst, Src: image.NewUniform(c), Face: l.faces[s],
		Dot: fixed.Point26_6{X: fixed.Int26_6(x * l.scale * 64), Y: fixed.I(int(line*l.scale + 0.5))},
	}
	d.DrawString(text)
}

// fit cuts a text so that it is no wider than width, and ends it with an
// ellipsis where it was cut.
func (l *lettering) fit(text string, s style, width float32) string {
	if text == "" || l.width(text, s) <= width {
		return text
	}
	runes := []rune(text)
	low, high := 0, len(runes)
	for low < high {
		mid := (low + high + 1) / 2
		if l.width(string(runes[:mid])+"…", s) <= width {
			low = mid
		} else {
			high = mid - 1
		}
	}
	return string(runes[:low]) + "…"
}
