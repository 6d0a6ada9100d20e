package overlay

import (
	"bytes"
	"testing"
)

// TestNamesOfEveryScriptDiffer sets pairs of names as long as each other: drawn
// as boxes for missing letters they would be the same picture.
func TestNamesOfEveryScriptDiffer(t *testing.T) {
	t.Parallel()
	l := newLetterer(plates)
	for _, c := range []struct{ name, a, b string }{
		{"cyrillic", "Гора", "Озер"},
		{"greek", "Όρος", "Λίμν"},
		{"hebrew", "הר", "נח"},
		{"arabic", "جبل", "نهر"},
		{"chinese", "山", "湖"},
		{"emoji", "😀", "😁"},
	} {
		t.Run(c.name, func(t *testing.T) {
			a, b := l.plate(words{text: c.a, size: 14, ink: black}), l.plate(words{text: c.b, size: 14, ink: black})
			l.draw(a)
			l.draw(b)
			if a.width == 0 || b.width == 0 {
				t.Fatalf("got widths %v and %v, want more than 0", a.width, b.width)
			}
			if bytes.Equal(a.img.Pix, b.img.Pix) {
				t.Errorf("%q and %q are drawn alike", c.a, c.b)
			}
		})
	}
}
