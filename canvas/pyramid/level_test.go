package pyramid

import (
	"bytes"
	"image"
	"image/color"
	"maps"
	"math/rand/v2"
	"slices"
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

// someForms are all the forms; under the race detector one of each model, as the forms of
// a model are read by the same goroutines.
func someForms(w, h int) map[string]image.Image {
	out := forms(w, h)
	if testing.Short() {
		few := []string{"gray", "rgba", "palette", image.YCbCrSubsampleRatio420.String()}
		maps.DeleteFunc(out, func(name string, _ image.Image) bool { return !slices.Contains(few, name) })
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
	var p [4]uint8
	if err := l.cut(p[:], 4, image.Rect(x, y, x+1, y+1), true); err != nil {
		panic(err)
	}
	switch l.kind().model {
	case grey:
		return []int{int(p[0])}
	case ycc:
		return []int{int(p[0]), int(p[1]), int(p[2])}
	}
	return []int{int(p[0]), int(p[1]), int(p[2]), int(p[3])}
}

// slowShrink is what a pass should make of the pixels that exist under
// (x, y): the filter for luma, grey and RGBA, the mean for chroma.
func slowShrink(l layer, x, y int) []int {
	var sum, low []int
	n := 0
	for v := 2 * y; v < min(2*y+2, l.size().Y); v++ {
		for u := 2 * x; u < min(2*x+2, l.size().X); u++ {
			for i, s := range raw(l, u, v) {
				if i >= len(sum) {
					sum, low = append(sum, 0), append(low, s)
				}
				sum[i] += s
				low[i] = min(low[i], s)
			}
			n++
		}
	}
	for i := range sum {
		mean := (2*sum[i] + n) / (2 * n)
		if chroma := l.kind().model == ycc && i > 0; !chroma {
			mean = slowFilter(mean, low[i])
		}
		sum[i] = mean
	}
	return sum
}

// slowFilter is the filter of the levels over a rounded mean and the darkest
// of the pixels it was made of.
func slowFilter(mean, low int) int { return mean - (mean-low)/4 }

// TestPass compares every level with a slow reference made from the level
// before it, for all forms and awkward sizes.
func TestPass(t *testing.T) {
	t.Parallel()
	for _, s := range []image.Point{{1, 1}, {1, 90}, {90, 1}, {66, 5}, {130, 67}, {513, 70}, {1025, 40}} {
		for name, img := range forms(s.X, s.Y) {
			l := newLayer(img)
			b := newPass(levelSizes(s), l, 0, 1, nil, func() bool { return false })
			if err := b.run(); err != nil {
				t.Fatal(err)
			}
			for n := 1; n < len(b.sizes); n++ {
				next := b.kept(n)
				if next.size() != halfSize(l.size()) {
					t.Fatalf("%s %v level %d: size %v, want %v", name, s, n, next.size(), halfSize(l.size()))
				}
				if where, got, want, ok := firstDifference(l, next); !ok {
					t.Fatalf("%s %v level %d at %v: %v, want %v", name, s, n, where, got, want)
				}
				l = next
			}
		}
	}
}

// TestMaker: a raw tile made on demand is the one a pass makes.
func TestMaker(t *testing.T) {
	t.Parallel()
	size := image.Pt(1100, 600)
	for name, img := range someForms(size.X, size.Y) {
		l := newLayer(img)
		b := newPass(levelSizes(size), l, 0, 1, nil, func() bool { return false })
		if err := b.run(); err != nil {
			t.Fatal(err)
		}
		m := newMaker(l, b.sizes)
		got := newRawTile(0)
		for n := 1; n < len(b.sizes); n++ {
			for i, want := range b.grid[n] {
				across := span(b.sizes[n].X)
				if err := m.make(got, Key{n, i % across, i / across}); err != nil || !bytes.Equal(got.pix, want.pix) || got.kind != want.kind {
					t.Fatalf("%s: raw tile %d of level %d differs (%v)", name, i, n, err)
				}
			}
		}
	}
}

func firstDifference(l, next layer) (where image.Point, got, want []int, ok bool) {
	step := 1 + next.size().X*next.size().Y/20000 // every pixel of small levels
	for i := 0; i < next.size().X*next.size().Y; i += step {
		x, y := i%next.size().X, i/next.size().X
		if got, want := raw(next, x, y), slowShrink(l, x, y); !slices.Equal(got, want) {
			return image.Pt(x, y), got, want, false
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
			if err := l.cut(pix, 4*r.Dx(), image.Rectangle{Max: r.Size()}, false); err != nil {
				t.Fatal(err)
			}
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

// TestNoCopyOfThePicture: level 0 reads the picture's own memory.
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
	palette := image.NewPaletted(image.Rect(0, 0, 2, 1), color.Palette{color.White})
	palette.Pix[1] = 200
	var pix [8]uint8
	if err := newLayer(palette).cut(pix[:], 8, palette.Rect, false); err != nil {
		t.Fatal(err)
	}
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
	if got := raw(p.layer(2), 102/4, 30)[0]; got > 192 {
		t.Errorf("line is %d on 255 at 1/4, want at most 192", got)
	}
}

// settled waits until all levels are there.
func settled(t testing.TB, p *Pyramid) *Pyramid {
	t.Helper()
	t.Cleanup(p.Close)
	if err := p.WaitWhole(); err != nil {
		t.Fatal(err)
	}
	return p
}

// patience is how long a test waits for what must come. It only bounds a test that fails.
const patience = time.Minute

// until polls a condition that must come true.
func until(t testing.TB, what string, ok func() bool) {
	t.Helper()
	for end := time.Now().Add(patience); !ok(); time.Sleep(time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("waited in vain: %s", what)
		}
	}
}
