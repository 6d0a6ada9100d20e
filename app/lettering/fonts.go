package lettering

import (
	"bytes"
	"fmt"
	"sync"
	"unicode"

	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/harfbuzz"

	"legwright/assets/look"
)

// files are the fonts, plain and bold; the first is used for every letter that it
// has. Each is read when it is first needed, once for all setters.
var files = [2][fallbacks]func() *font.Font{
	{parsed(look.Regular), parsed(look.Wide)},
	{parsed(look.Bold), parsed(look.WideBold)},
}

// fallbacks is the number of fonts of a style.
const fallbacks = 2

// ReadAll reads the fonts that were not needed yet, so that the first name in another
// script holds up no frame. It may be called from any goroutine.
func ReadAll() {
	for _, style := range files {
		for _, read := range style {
			read()
		}
	}
}

func parsed(file func() []byte) func() *font.Font {
	return sync.OnceValue(func() *font.Font {
		f, err := font.ParseTTF(bytes.NewReader(file()))
		if err != nil {
			panic(fmt.Sprintf("lettering: an embedded font cannot be read: %v", err))
		}
		return f.Font
	})
}

// face is a font with its cached outlines.
type face struct {
	*font.Face
	shape    *harfbuzz.Font
	em       float64 // font units in an em
	outlines map[font.GID][]font.Segment
}

// mostOutlines is the most outlines that a face keeps.
const mostOutlines = 1024

// outline is the shape of a letter in font units, upwards.
func (f *face) outline(id font.GID) []font.Segment {
	o, ok := f.outlines[id]
	if !ok {
		if len(f.outlines) >= mostOutlines {
			clear(f.outlines)
		}
		g, _ := f.GlyphData(id).(font.GlyphOutline)
		o = g.Segments
		f.outlines[id] = o
	}
	return o
}

// family is the faces of one weight.
type family struct {
	bold  int              // 0 or 1
	faces [fallbacks]*face // nil until needed
}

func (f *family) face(i int) *face {
	if f.faces[i] == nil {
		it := font.NewFace(files[f.bold][i]())
		f.faces[i] = &face{it, harfbuzz.NewFont(it), float64(it.Upem()), map[font.GID][]font.Segment{}}
	}
	return f.faces[i]
}

// find returns the first face that has all letters of a text.
func (f *family) find(text ...rune) (i int, ok bool) {
	for i := range fallbacks {
		if f.has(i, text) {
			return i, true
		}
	}
	return 0, false
}

// blank reports whether a letter needs no shape of its own: a space, which is made
// from the plain one, or a control character.
func blank(r rune) bool {
	return r > ' ' && unicode.Is(unicode.Zs, r) || harfbuzz.IsDefaultIgnorable(r)
}

// has reports whether a face has all visible letters of a text.
func (f *family) has(i int, text []rune) bool {
	for _, r := range text {
		if id, _ := f.face(i).NominalGlyph(r); id == 0 && !blank(r) {
			return false
		}
	}
	return true
}
