package look_test

import (
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"legwright/assets/look"
)

// TestFacesParseAndFiguresAlign reads every face and measures the ten figures:
// columns of bearings only line up when all ten are of one width.
func TestFacesParseAndFiguresAlign(t *testing.T) {
	t.Parallel()
	faces := []struct {
		name string
		data []byte
	}{
		{"Regular", look.Regular()},
		{"Bold", look.Bold()},
		{"Italic", look.Italic()},
		{"BoldItalic", look.BoldItalic()},
		{"Mono", look.Mono()},
	}
	for _, face := range faces {
		t.Run(face.name, func(t *testing.T) {
			t.Parallel()
			parsed, err := sfnt.Parse(face.data)
			if err != nil {
				t.Fatalf("parse: %v", err)
			}
			want := advance(t, parsed, '0')
			for r := '1'; r <= '9'; r++ {
				if got := advance(t, parsed, r); got != want {
					t.Errorf("advance of %q: got %v, want %v as for '0'", r, got, want)
				}
			}
			for _, r := range "°′″àèìòùÀÈÌÒÙ±²√−–→" {
				var buf sfnt.Buffer
				if index, err := parsed.GlyphIndex(&buf, r); err != nil || index == 0 {
					t.Errorf("glyph of %q: got index %d, %v, want a glyph", r, index, err)
				}
			}
		})
	}
}

func advance(t *testing.T, f *sfnt.Font, r rune) fixed.Int26_6 {
	t.Helper()
	var buf sfnt.Buffer
	index, err := f.GlyphIndex(&buf, r)
	if err != nil || index == 0 {
		t.Fatalf("glyph of %q: index %d, %v", r, index, err)
	}
	adv, err := f.GlyphAdvance(&buf, index, fixed.I(1000), font.HintingNone)
	if err != nil {
		t.Fatalf("advance of %q: %v", r, err)
	}
	return adv
}
