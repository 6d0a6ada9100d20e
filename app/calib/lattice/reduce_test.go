package lattice

import (
	"image"
	"image/color"
	"image/draw"
	"maps"
	"testing"
)

// TestReduced: each pixel of the reduced picture is the mean of (R + 2G + B)/4
// over its square, also beside the edges of blocks and of the picture, and what
// comes in blocks is what the whole picture gives.
func TestReduced(t *testing.T) {
	t.Parallel()
	at := func(x, y int) color.RGBA { return color.RGBA{uint8(x * 3), uint8(y * 5), uint8(x + y), 255} }
	cases := []struct {
		size image.Point
		k    int
	}{{image.Pt(1, 1), 1}, {image.Pt(300, 517), 1}, {image.Pt(6001, 5003), 2}}
	if testing.Short() {
		cases = cases[:2] // TestPlaneOfLarge reduces a large one
	}
	for _, c := range cases {
		m, k := Reduced(t.Context(), c.size, func(r image.Rectangle) image.Image {
			b := image.NewRGBA(image.Rectangle{Max: r.Size()})
			for y := range r.Dy() {
				for x := range r.Dx() {
					b.SetRGBA(x, y, at(r.Min.X+x, r.Min.Y+y))
				}
			}
			return b
		})
		if k != c.k || m.Rect != image.Rect(0, 0, c.size.X/k, c.size.Y/k) {
			t.Fatalf("%v: %v reduced %d times, want %d", c.size, m.Rect, k, c.k)
		}
		for y := 0; y < m.Rect.Dy(); y += 1 + m.Rect.Dy()/97 {
			for x := 0; x < m.Rect.Dx(); x += 1 + m.Rect.Dx()/97 {
				sum := 0.0
				for i := range k * k {
					p := at(x*k+i%k, y*k+i/k)
					sum += (float64(p.R) + 2*float64(p.G) + float64(p.B)) / 4
				}
				if got, want := float64(m.GrayAt(x, y).Y), sum/float64(k*k); got < want-1 || got > want+1 {
					t.Fatalf("%v: pixel (%d, %d) is %g, want %g to within 1", c.size, x, y, got, want)
				}
			}
		}
	}
}

// TestPlaneOfLarge: a large picture is searched in the same plane whatever form
// it has in memory.
func TestPlaneOfLarge(t *testing.T) {
	t.Parallel()
	whole := image.NewGray(image.Rect(7, 5, 7+6001, 5+5003))
	for i := range whole.Pix {
		whole.Pix[i] = uint8(i * i >> 9)
	}
	want, k := planeOf(t.Context(), whole)
	if k != 2 {
		t.Fatalf("reduced %d times, want twice", k)
	}
	grey := make(color.Palette, 256)
	for i := range grey {
		grey[i] = color.Gray{uint8(i)}
	}
	rgba := image.NewRGBA(whole.Rect)
	draw.Draw(rgba, rgba.Rect, whole, whole.Rect.Min, draw.Src)
	forms := map[string]image.Image{
		"palette": &image.Paletted{Pix: whole.Pix, Stride: whole.Stride, Rect: whole.Rect, Palette: grey},
		"RGBA":    rgba,
		"luma":    &image.YCbCr{Y: whole.Pix, YStride: whole.Stride, Rect: whole.Rect},
	}
	if testing.Short() {
		maps.DeleteFunc(forms, func(name string, _ image.Image) bool { return name != "RGBA" })
	}
	for name, m := range forms {
		got, _ := planeOf(t.Context(), m)
		for y := range want.h {
			for x, v := range want.row(y) {
				if g := got.row(y)[x]; g != v {
					t.Fatalf("%s: pixel (%d, %d) is %d, want %d", name, x, y, g, v)
				}
			}
		}
	}
}
