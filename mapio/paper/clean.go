package paper

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/bidi"

	"legwright/app/lettering"
)

// clean returns a text as it is drawn: as everywhere in the program, and beyond that with
// the code points of letters that the writer of PDFs cannot set. Line feeds stay.
func clean(text string) string {
	var b strings.Builder
	for _, r := range lettering.Shown(text) {
		switch {
		case r == '\n':
			b.WriteRune(r)
		case unicode.In(r, unicode.Cc, unicode.Zl, unicode.Zp):
			b.WriteByte(' ')
		case r == '\u00ad', unicode.Is(unicode.Cf, r):
		case r > 0xffff || fromRight(r):
			fmt.Fprintf(&b, "[%04X]", r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// fromRight reports whether a letter is written from right to left.
func fromRight(r rune) bool {
	c, _ := bidi.LookupRune(r)
	return c.Class() == bidi.R || c.Class() == bidi.AL
}
