package lettering

import (
	"slices"
	"unicode"

	"github.com/go-text/typesetting/di"
	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/harfbuzz"
	"github.com/go-text/typesetting/language"
	"github.com/go-text/typesetting/shaping"
	"golang.org/x/text/unicode/bidi"
	"golang.org/x/text/unicode/norm"
)

// run is a part of a text that is shaped in one go.
type run struct {
	from, to int // letters
	level    int // of embedding: odd from right to left
	face     int
	script   language.Script
	language language.Language
}

// plain reports whether a text is one run from left to right of the first face:
// Latin letters, figures and signs, as nearly all are.
func (f *family) plain(text string) bool {
	for _, r := range text {
		latin := r >= ' ' && r < 0x300 && !unicode.IsControl(r)
		signs := r >= 0x2000 && r < 0x200b || r >= 0x2010 && r < 0x2028 || r >= 0x2030 && r < 0x2060 ||
			r >= 0x2190 && r < 0x2300
		if !latin && !signs || !f.has(0, []rune{r}) {
			return false
		}
	}
	return true
}

// clean appends a text as it is shaped: letters with their marks made one where
// Unicode has such a letter, what would break the line a space, and letters
// that no face has as their code points. Marks of direction keep a code in one
// piece among letters from right to left.
func (f *family) clean(out []rune, text string) []rune {
	for _, r := range norm.NFC.String(text) {
		switch {
		case unicode.In(r, unicode.Cc, unicode.Zl, unicode.Zp):
			out = append(out, ' ')
		case drawn(r):
			out = append(out, r)
		default:
			out = append(out, []rune("\u200e"+codeOf(r)+"\u200e")...)
		}
	}
	return out
}

// ResolveFace makes a family a font map whose letters are all of the first
// face: the segmenter then splits by direction and script alone, and [family.byFace]
// splits further without parting letters from their marks.
func (f *family) ResolveFace(rune) *font.Face { return f.face(0).Face }

// runs splits a text by direction, script and face, in the order in which it
// is seen from left to right.
func (s *shaper) runs(f *family, text []rune) []run {
	var out []run
	whole, before := 0, 0
	if fromRight(text) {
		whole = 1
	}
	in := shaping.Input{Text: text, RunEnd: len(text), Direction: di.Direction(whole)}
	for _, p := range s.segmenter.Split(in, f) {
		r := run{from: p.RunStart, to: p.RunEnd, level: 2 * whole, script: p.Script, language: p.Language}
		switch {
		case p.Direction == di.DirectionRTL:
			r.level = 1
		case before == 1 && whole == 0:
			if n := r.from + numbers(text[r.from:r.to]); n > r.from {
				out = f.byFace(out, text, run{r.from, n, 2, 0, r.script, r.language})
				r.from = n
			}
		}
		before = r.level
		out = f.byFace(out, text, r)
	}
	order(out)
	return out
}

// fromRight reports whether the first letter with a direction is written from
// right to left, which gives the whole line its direction: rules P2 and P3 of
// Unicode Standard Annex 9.
func fromRight(text []rune) bool {
	for _, r := range text {
		switch c, _ := bidi.LookupRune(r); c.Class() {
		case bidi.L:
			return false
		case bidi.R, bidi.AL:
			return true
		}
	}
	return false
}

// numbers is how many letters of a run are a number at its head. After letters
// from right to left such a number belongs to them (rules W2 to W7 and I1 of
// the annex), which the segmenter does not say.
func numbers(text []rune) int {
	n := 0
	for i, r := range text {
		switch c, _ := bidi.LookupRune(r); c.Class() {
		case bidi.EN, bidi.AN:
			n = i + 1
		case bidi.ET, bidi.NSM:
			if n == i {
				n++
			}
		case bidi.ES, bidi.CS, bidi.BN:
		default:
			return n
		}
	}
	return n
}

// byFace appends a run split by face: a word is of the first face that has all
// of it, else each letter, with its marks, of the first that has that. Spaces
// are of the face before them.
func (f *family) byFace(out []run, text []rune, r run) []run {
	end := r.to
	for i := r.from; i < end; {
		face, n := f.next(text[i:end])
		if i > r.from && unicode.Is(unicode.Zs, text[i]) {
			face = r.face
		}
		if i > r.from && face != r.face {
			r.to = i
			out = append(out, r)
			r.from = i
		}
		r.face, i = face, i+n
	}
	if r.to = end; r.from < end {
		out = append(out, r)
	}
	return out
}

// next is how many letters at the head of a text are of one face, and which.
func (f *family) next(text []rune) (face, n int) {
	if unicode.Is(unicode.Zs, text[0]) {
		return 0, 1
	}
	for n = 1; n < len(text) && !unicode.Is(unicode.Zs, text[n]); n++ {
	}
	if face, ok := f.find(text[:n]...); ok {
		return face, n
	}
	for n = 1; n < len(text) && (unicode.Is(unicode.M, text[n]) || harfbuzz.IsDefaultIgnorable(text[n])); n++ {
	}
	face, ok := f.find(text[:n]...)
	if !ok {
		face, _ = f.find(text[0])
	}
	return face, n
}

// order puts runs in the order in which they are seen: rule L2 of the annex.
func order(runs []run) {
	for level := 2; level > 0; level-- {
		for i := 0; i < len(runs); i++ {
			j := i
			for j < len(runs) && runs[j].level >= level {
				j++
			}
			slices.Reverse(runs[i:j])
			i = j
		}
	}
}
