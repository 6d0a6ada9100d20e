package lettering

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/harfbuzz"
	"golang.org/x/text/unicode/norm"
)

// Shown returns a text as it stands wherever the program shows it, for widgets that
// set their texts themselves: a letter that the fonts lack is written as its code
// point, such as [65E5], as a [Setter] writes it, and marks are joined with their
// letters where Unicode has such a letter. Otherwise a name would look different on
// the sheet and in a list, and would depend on the fonts of the machine. A text of
// letters that the fonts have is returned as it is.
func Shown(text string) string {
	if known(text) {
		return text
	}
	var b strings.Builder
	for _, r := range norm.NFC.String(text) {
		switch {
		case harfbuzz.IsDefaultIgnorable(r):
		case drawn(r) || unicode.IsControl(r):
			b.WriteRune(r)
		default:
			b.WriteString(codeOf(r))
		}
	}
	return b.String()
}

// known reports whether the fonts have all letters of a text, none of them a mark
// that might be joined.
func known(text string) bool {
	for _, r := range text {
		if r >= 0x300 && (unicode.Is(unicode.M, r) || !drawn(r)) {
			return false
		}
	}
	return true
}

// drawn reports whether a letter is drawn, plain and bold alike: one of the fonts of
// each style has it, or nothing needs to be seen. Pictograms that B612 lacks are not,
// for the other font has only some of them.
func drawn(r rune) bool {
	if blank(r) {
		return true
	}
	fonts := fallbacks
	if unicode.Is(unicode.So, r) {
		fonts = 1
	}
	for _, style := range files {
		if !slices.ContainsFunc(style[:fonts], func(f func() *font.Font) bool {
			id, _ := f().NominalGlyph(r)
			return id != 0
		}) {
			return false
		}
	}
	return true
}

// codeOf is what is written in place of a letter that cannot be drawn.
func codeOf(r rune) string { return fmt.Sprintf("[%04X]", r) }
