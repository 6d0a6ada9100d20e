package pen

import (
	"image"
	"image/color"
	"testing"
)

// TestMixRounds compares the blending of two channels in one word with plain
// arithmetic, for every coverage and each pair of values of a coarse set.
func TestMixRounds(t *testing.T) {
	t.Parallel()
	for a := range uint32(256) {
		for was := uint32(0); was < 256; was += 3 {
			for ink := uint32(0); ink < 256; ink += 5 {
				want := (was*(255-a) + ink*a + 127) / 255
				got := mix(was|(255-was)<<16, ink|(255-ink)<<16, a)
				high := ((255-was)*(255-a) + (255-ink)*a + 127) / 255
				if got != want|high<<16 {
					t.Fatalf("%d over %d by %d: got %#x, want %#x", ink, was, a, got, want|high<<16)
				}
			}
		}
	}
}

// TestFillAndPut paints a disc over an opaque ground: what is filled lets the ground show
// through a translucent colour, what is put takes its place.
func TestFillAndPut(t *testing.T) {
	t.Parallel()
	ground, ink := color.NRGBA{200, 100, 0, 0xff}, color.NRGBA{0, 100, 200, 0x80}
	cases := []struct {
		name string
		lay  func(*Pen, *image.RGBA)
		want color.RGBA
	}{
		{"fill", func(p *Pen, im *image.RGBA) { p.Fill(im, ink) }, color.RGBA{100, 100, 100, 0xff}},
		{"put", func(p *Pen, im *image.RGBA) { p.Put(im, ink) }, color.RGBA{0, 50, 100, 0x80}},
	}
	for _, c := range cases {
		p, im := New(64), image.NewRGBA(image.Rect(0, 0, 64, 64))
		p.Begin(0, 0, 1, 1)
		p.Polygon(0, [][2]float64{{-2, -2}, {2, -2}, {2, 2}, {-2, 2}})
		p.Fill(im, ground)
		p.Begin(0, 0, 1, 1)
		p.Disc(0, 0, 0.5, 0)
		c.lay(p, im)
		for i, v := range []uint8{im.RGBAAt(32, 32).R, im.RGBAAt(32, 32).G, im.RGBAAt(32, 32).B, im.RGBAAt(32, 32).A} {
			if want := []uint8{c.want.R, c.want.G, c.want.B, c.want.A}[i]; max(v, want)-min(v, want) > 1 {
				t.Errorf("%s: got %v in the disc, want %v", c.name, im.RGBAAt(32, 32), c.want)
			}
		}
		if got := im.RGBAAt(60, 32); got != color.RGBA(ground) {
			t.Errorf("%s: got %v beside the disc, want the ground", c.name, got)
		}
	}
}
