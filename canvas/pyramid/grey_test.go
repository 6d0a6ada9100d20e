package pyramid

import (
	"image"
	"image/color"
	"testing"
)

func TestGrey(t *testing.T) {
	t.Parallel()
	r := image.Rect(0, 0, 300, 280)
	for _, c := range []struct {
		name string
		m    image.Image
		want bool
	}{
		{"grey", image.NewGray(r), true},
		{"colour", image.NewRGBA(r), false},
		{"chroma", image.NewYCbCr(r, image.YCbCrSubsampleRatio420), false},
		{"a palette of greys", image.NewPaletted(r, color.Palette{color.Black, color.Gray{90}, color.White}), true},
		{"a palette with a red", image.NewPaletted(r, color.Palette{color.Black, color.RGBA{200, 0, 0, 255}}), false},
	} {
		store, key := emptyStore(t), [32]byte{7}
		for _, opt := range []Options{{}, {Store: store, Key: key}} {
			p := New(c.m, opt)
			if err := p.Wait(0); err != nil {
				t.Fatal(err)
			}
			if got := p.Grey(); got != c.want {
				t.Errorf("%s, store %t: got %t", c.name, opt.Store != nil, got)
			}
			p.Close()
			if p.Grey() {
				t.Errorf("%s: grey after Close", c.name)
			}
		}
	}
}
