package report

import (
	"golang.org/x/image/font/sfnt"

	"legwright/assets/look"
	"legwright/canvas/script"
)

// seen returns a name as its letters stand from left to right, and those that
// the page's type lacks by their code, so that two names never look the same.
// It is for lines that are not broken, and done once: done again it would turn
// the letters back.
func seen(text string) string {
	face, err := sfnt.Parse(look.Wide())
	if err != nil {
		return text
	}
	var b sfnt.Buffer
	return script.Line(text, func(r rune) bool {
		i, err := face.GlyphIndex(&b, r)
		return r <= 0xffff && err == nil && i != 0
	})
}
