package pyramid

import (
	"fmt"
	"image"
	"image/color"
	"math/rand/v2"
	"testing"
	"time"
)

// forms gives one random picture in every form that is read in place, and one
// that is read through At.
func forms(w, h int) map[string]image.Image {
	r := rand.New(rand.NewPCG(uint64(w), uint64(h)))
	rect := image.Rect(0, 0, w, h)
	fill := func(b []uint8) {
		for i := range b {
			b[i] = uint8(r.Uint32())
		}
	}
	out := map[string]image.Image{}
	gray, rgba, nrgba := image.NewGray(rect), image.NewRGBA(rect), image.NewNRGBA(rect)
	fill(gray.Pix)
	fill(nrgba.Pix)
	for i := range rgba.Pix { // premultiplied: no channel above alpha
		rgba.Pix[i] = uint8(r.IntN(128))
		if i%4 == 3 {
			rgba.Pix[i] = uint8(128 + r.IntN(128))
		}
	}
	pal := image.NewPaletted(rect, color.Palette{color.RGBA{200, 10, 20, 255}, color.RGBA{1, 2, 3, 255}, color.RGBA{40, 20, 0, 90}})
	for i := range pal.Pix {
		pal.Pix[i] = uint8(r.IntN(3))
	}
	gray16 := image.NewGray16(rect)
	fill(gray16.Pix)
	out["gray"], out["rgba"], out["nrgba"], out["palette"], out["gray16"] = gray, rgba, nrgba, pal, gray16
	for _, ratio := range ratios() {
		m := image.NewYCbCr(rect, ratio)
		fill(m.Y)
		fill(m.Cb)
		fill(m.Cr)
		out[ratio.String()] = m
	}
	return out
}

func ratios() []image.YCbCrSubsampleRatio {
	return []image.YCbCrSubsampleRatio{
		image.YCbCrSubsampleRatio444, image.YCbCrSubsampleRatio422, image.YCbCrSubsampleRatio420,
		image.YCbCrSubsampleRatio440, image.YCbCrSubsampleRatio411, image.YCbCrSubsampleRatio410,
	}
}

// raw reads a layer pixel's own samples: luma and chroma, grey or RGBA.
func raw(l layer, x, y int) []int {
	switch l := l.(type) {
	case *grayLayer:
		return []int{int(l.pix[y*l.stride+x])}
	case *yccLayer:
		c := y>>l.sy*l.cStride + x>>l.sx
		return []int{int(l.y[y*l.yStride+x]), int(l.cb[c]), int(l.cr[c])}
	}
	var p [4]uint8
	l.cut(p[:], 4, image.Rect(x, y, x+1, y+1))
	return []int{int(p[0]), int(p[1]), int(p[2]), int(p[3])}
}

// slowHalf is the rounded mean of the pixels that exist under (x, y).
func slowHalf(l layer, x, y int) []int {
	var sum []int
	n := 0
	for v := 2 * y; v < min(2*y+2, l.size().Y); v++ {
		for u := 2 * x; u < min(2*x+2, l.size().X); u++ {
			for i, s := range raw(l, u, v) {
				if i >= len(sum) {
					sum = append(sum, 0)
				}
				sum[i] += s
			}
			n++
		}
	}
	for i := range sum {
		sum[i] = (2*sum[i] + n) / (2 * n)
	}
	return sum
}

// TestHalves holds each level against a slow reference made from the level
// before it, for all forms and awkward sizes.
func TestHalves(t *testing.T) {
	t.Parallel()
	for _, s := range []image.Point{{1, 1}, {1, 9}, {9, 1}, {2, 2}, {7, 5}, {16, 16}, {33, 18}, {18, 33}, {130, 67}} {
		for name, img := range forms(s.X, s.Y) {
			l := newLayer(img)
			for n := 1; max(l.size().X, l.size().Y) > 1; n++ {
				next, fill := l.half()
				fill(0, next.size().Y/2)
				fill(next.size().Y/2, next.size().Y)
				if want := halfSize(l.size()); next.size() != want {
					t.Fatalf("%s %v level %d: size %v, want %v", name, s, n, next.size(), want)
				}
				if where, got, want, ok := firstDifference(l, next); !ok {
					t.Fatalf("%s %v level %d at %v: %v, want %v", name, s, n, where, got, want)
				}
				l = next
			}
		}
	}
}

func firstDifference(l, next layer) (where image.Point, got, want []int, ok bool) {
	for y := range next.size().Y {
		for x := range next.size().X {
			got, want := raw(next, x, y), slowHalf(l, x, y)
			if fmt.Sprint(got) != fmt.Sprint(want) {
				return image.Pt(x, y), got, want, false
			}
		}
	}
	return image.Point{}, nil, nil, true
}

// TestCutMatchesAt: a cut of level 0 gives what the standard library's colour
// conversion gives, sub-images included.
func TestCutMatchesAt(t *testing.T) {
	t.Parallel()
	type subImager interface {
		SubImage(image.Rectangle) image.Image
	}
	for name, whole := range forms(37, 29) {
		for _, r := range []image.Rectangle{{Max: image.Pt(37, 29)}, image.Rect(4, 2, 31, 27), image.Rect(3, 5, 30, 28)} {
			img := whole.(subImager).SubImage(r)
			l := newLayer(img)
			pix := make([]uint8, 4*r.Dx()*r.Dy())
			l.cut(pix, 4*r.Dx(), image.Rectangle{Max: r.Size()})
			for y := range r.Dy() {
				for x := range r.Dx() {
					want := color.RGBAModel.Convert(img.At(r.Min.X+x, r.Min.Y+y)).(color.RGBA)
					p := pix[4*(y*r.Dx()+x):]
					got := color.RGBA{p[0], p[1], p[2], p[3]}
					if far(got, want) > 1 { // 1: premultiplied by rounding, not cutting
						t.Fatalf("%s %v at (%d, %d): %v, want %v", name, r, x, y, got, want)
					}
				}
			}
		}
	}
}

func far(a, b color.RGBA) int {
	d := func(a, b uint8) int { return max(int(a)-int(b), int(b)-int(a)) }
	return max(d(a.R, b.R), d(a.G, b.G), d(a.B, b.B), d(a.A, b.A))
}

// TestNoCopyOfThePicture: level 0 reads the picture's own memory, and 4:2:0
// chroma is shared with level 1.
func TestNoCopyOfThePicture(t *testing.T) {
	t.Parallel()
	for name, img := range forms(40, 30) {
		if name == "gray16" {
			continue // read through At
		}
		if b := newLayer(img).bytes(); b == 0 {
			t.Errorf("%s is not read in place", name)
		}
	}
	m := image.NewYCbCr(image.Rect(0, 0, 40, 30), image.YCbCrSubsampleRatio420)
	half, _ := newLayer(m).half()
	if l := half.(*yccLayer); &l.cb[0] != &m.Cb[0] || l.own != 20*15 {
		t.Errorf("level 1 of 4:2:0 owns %d bytes, want the %d of its luma alone", l.own, 20*15)
	}
	palette := image.NewPaletted(image.Rect(0, 0, 2, 1), color.Palette{color.White})
	palette.Pix[1] = 200
	var pix [8]uint8
	newLayer(palette).cut(pix[:], 8, palette.Rect)
	if pix[3] != 255 || pix[7] != 0 {
		t.Errorf("palette index beyond its end has alpha %d, want 0", pix[7])
	}
}

// TestThinLineContrast: the reason for averaging encoded values. A one-pixel
// black line on white keeps 25 % contrast at 1/4.
func TestThinLineContrast(t *testing.T) {
	t.Parallel()
	m := image.NewGray(image.Rect(0, 0, 256, 256))
	for i := range m.Pix {
		m.Pix[i] = 255
		if i%256 == 102 {
			m.Pix[i] = 0
		}
	}
	p := New(m, Options{})
	defer p.Close()
	if err := p.Wait(2); err != nil {
		t.Fatal(err)
	}
	if got := p.layer(2).(*grayLayer).pix[102/4]; got > 192 {
		t.Errorf("line is %d on 255 at 1/4, want at most 192", got)
	}
}

// BenchmarkLevels makes all levels of 24 megapixels.
func BenchmarkLevels(b *testing.B) {
	r := image.Rect(0, 0, 6000, 4000)
	for name, m := range map[string]image.Image{
		"ycc420": image.NewYCbCr(r, image.YCbCrSubsampleRatio420), "ycc444": image.NewYCbCr(r, image.YCbCrSubsampleRatio444),
		"gray": image.NewGray(r), "rgba": image.NewRGBA(r), "nrgba": image.NewNRGBA(r),
		"palette": image.NewPaletted(r, color.Palette{color.White, color.Black}),
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				p := New(m, Options{})
				if err := p.Wait(p.Levels() - 1); err != nil {
					b.Fatal(err)
				}
				p.Close()
			}
		})
	}
}

// settled waits until all levels are there.
func settled(t testing.TB, p *Pyramid) *Pyramid {
	t.Helper()
	for n := range p.Levels() {
		if err := p.Wait(n); err != nil {
			t.Fatal(err)
		}
	}
	t.Cleanup(p.Close)
	return p
}

// until polls a condition that must come true.
func until(t testing.TB, what string, ok func() bool) {
	t.Helper()
	for end := time.Now().Add(10 * time.Second); !ok(); time.Sleep(time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("waited 10 s in vain: %s", what)
		}
	}
}
