package look

import (
	"image/color"
	"math"
	"testing"
)

// luminance is the relative luminance of an opaque colour, WCAG 2.1,
// definitions, "relative luminance" (W3C Recommendation, 2018). The
// recommendation prints the threshold 0.03928; sRGB's own 0.04045 gives the
// same for 8-bit colours.
func luminance(c color.NRGBA) float64 {
	linear := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.03928 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}

// contrast is the contrast ratio, WCAG 2.1, definitions, "contrast ratio".
func contrast(a, b color.NRGBA) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

// laid is a translucent colour over an opaque one.
func laid(over, under color.NRGBA) color.NRGBA {
	mix := func(o, u uint8) uint8 {
		a := float64(over.A) / 255
		return uint8(math.Round(float64(o)*a + float64(u)*(1-a)))
	}
	return color.NRGBA{R: mix(over.R, under.R), G: mix(over.G, under.G), B: mix(over.B, under.B), A: 0xff}
}

// TestContrastFormula holds the formula to the two ratios that follow from the
// definition alone and to #777777 on white, which is widely printed as 4.48
// (not checked against a publication).
func TestContrastFormula(t *testing.T) {
	t.Parallel()
	white, black := rgb(0xffffff), rgb(0x000000)
	cases := []struct {
		name      string
		a, b      color.NRGBA
		want, tol float64
	}{
		{"black on white", black, white, 21, 1e-9},
		{"white on white", white, white, 1, 1e-9},
		{"grey 77 on white", rgb(0x777777), white, 4.48, 0.005},
	}
	for _, c := range cases {
		if got := contrast(c.a, c.b); math.Abs(got-c.want) > c.tol {
			t.Errorf("%s: got %.4f, want %.4f ± %g", c.name, got, c.want, c.tol)
		}
	}
}

type pair struct {
	name        string
	mark, under color.NRGBA
	least       float64
}

// The least ratios of WCAG 2.1: 1.4.3 for text below 18 pt, 1.4.11 for marks.
const (
	leastText = 4.5
	leastMark = 3.0
)

func textPairs(p Palette) []pair {
	pairs := []pair{
		{"accent's own text", p[OnAccent], p[Accent], leastText},
		{"caution on its wash", p[Caution], p[CautionWash], leastText},
		{"fault on its wash", p[Fault], p[FaultWash], leastText},
		{"good on its wash", p[Good], p[GoodWash], leastText},
		{"paper on caution", p[Paper], p[Caution], leastText},
		{"paper on fault", p[Paper], p[Fault], leastText},
		{"paper on good", p[Paper], p[Good], leastText},
		{"ink on key", p[Ink], p[Key], leastText},
		{"dial figures", p.Dial().Mark, p.Dial().Ring, leastText},
		{"dial letters", p.Dial().Letter, p.Dial().Plate, leastText},
	}
	surfaces := map[string]color.NRGBA{"paper": p[Paper], "board": p[Board], "well": p[Well]}
	inks := map[string]color.NRGBA{"ink": p[Ink], "quiet": p[Quiet], "accent": p[Accent], "caution": p[Caution], "fault": p[Fault], "good": p[Good]}
	for s, under := range surfaces {
		for i, ink := range inks {
			pairs = append(pairs, pair{i + " on " + s, ink, under, leastText})
		}
		pairs = append(
			pairs,
			pair{"ink on selected " + s, p[Ink], laid(p[Select], under), leastText},
			pair{"ink on hovered " + s, p[Ink], laid(p[Hover], under), leastText},
			pair{"ink on pressed " + s, p[Ink], laid(p[Press], under), leastText},
			pair{"accent on hovered " + s, p[Accent], laid(p[Hover], under), leastText},
		)
	}
	return pairs
}

func markPairs(p Palette) []pair {
	pairs := []pair{
		{"needle on plate", p.Dial().Needle, p.Dial().Plate, leastMark},
		{"needle's tail on plate", p.Dial().Tail, p.Dial().Plate, leastMark},
		{"index on ring", p.Dial().Index, p.Dial().Ring, leastMark},
		{"faint on key", p[Faint], p[Key], 2.5}, // what cannot be used is exempt; still to be seen
	}
	for s, under := range map[string]color.NRGBA{"paper": p[Paper], "board": p[Board], "well": p[Well]} {
		pairs = append(
			pairs,
			pair{"edge on " + s, p[Edge], under, leastMark},
			pair{"faint on " + s, p[Faint], under, leastMark},
		)
	}
	return pairs
}

// TestPaletteContrast holds both variants to the contrast ratios of WCAG 2.1
// level AA.
func TestPaletteContrast(t *testing.T) {
	t.Parallel()
	for name, p := range map[string]Palette{"light": Light(), "dark": Dark()} {
		for _, c := range append(textPairs(p), markPairs(p)...) {
			if c.under.A != 0xff || c.mark.A != 0xff {
				t.Errorf("%s, %s: got a translucent colour, want opaque ones", name, c.name)
			}
			if got := contrast(c.mark, c.under); got < c.least {
				t.Errorf("%s, %s: got a contrast of %.2f, want at least %.1f", name, c.name, got, c.least)
			}
		}
	}
}
