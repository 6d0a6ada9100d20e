package pyramid

import (
	"errors"
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"

	"golang.org/x/image/math/f64"
)

// turned is a similarity: dst turned by an angle in radians, scale picture
// pixels a dst pixel, dst (0, 0) at (c, r) of the picture.
func turned(angle, scale, c, r float64) f64.Aff3 {
	sin, cos := math.Sincos(angle)
	return f64.Aff3{scale * cos, -scale * sin, c, scale * sin, scale * cos, r}
}

// TestRegionStraight: without turn and scale it is a copy, pixel for pixel,
// and transparent outside.
func TestRegionStraight(t *testing.T) {
	t.Parallel()
	p := settled(t, New(address(300, 200), Options{}))
	for _, f := range []Filter{Bilinear, Nearest} {
		dst := image.NewRGBA(image.Rect(-10, -20, 400, 300))
		for i := range dst.Pix {
			dst.Pix[i] = 77
		}
		if err := p.Region(dst, f64.Aff3{1, 0, 0, 0, 1, 0}, f); err != nil {
			t.Fatal(err)
		}
		for y := dst.Rect.Min.Y; y < dst.Rect.Max.Y; y++ {
			for x := dst.Rect.Min.X; x < dst.Rect.Max.X; x++ {
				got := dst.RGBAAt(x, y)
				if !image.Pt(x, y).In(image.Rect(0, 0, 300, 200)) {
					if got != (color.RGBA{}) {
						t.Fatalf("filter %d outside at (%d, %d): %v", f, x, y, got)
					}
				} else if u, v := placeOf(got); u != x || v != y {
					t.Fatalf("filter %d at (%d, %d): pixel (%d, %d)", f, x, y, u, v)
				}
			}
		}
	}
}

// TestRegionQuarterTurns: turned by right angles every pixel is another
// pixel exactly.
func TestRegionQuarterTurns(t *testing.T) {
	t.Parallel()
	p := settled(t, New(address(300, 200), Options{}))
	for q, m := range []f64.Aff3{{1, 0, 0, 0, 1, 0}, {0, 1, 0, -1, 0, 200}, {-1, 0, 300, 0, -1, 200}, {0, -1, 300, 1, 0, 0}} {
		dst := image.NewRGBA(image.Rect(0, 0, 200, 200))
		if err := p.Region(dst, m, Bilinear); err != nil {
			t.Fatal(err)
		}
		for y := range 200 {
			for x := range 200 {
				fx, fy := float64(x)+0.5, float64(y)+0.5
				c, r := int(m[0]*fx+m[1]*fy+m[2]), int(m[3]*fx+m[4]*fy+m[5])
				if u, v := placeOf(dst.RGBAAt(x, y)); u != c || v != r {
					t.Fatalf("quarter turn %d at (%d, %d): pixel (%d, %d), want (%d, %d)", q, x, y, u, v, c, r)
				}
			}
		}
	}
}

// slowRegion samples one dst pixel in floating point from a level.
func slowRegion(l layer, level int, pic image.Point, m f64.Aff3, f Filter, x, y int) ([4]float64, bool) {
	fx, fy := float64(x)+0.5, float64(y)+0.5
	c, r := m[0]*fx+m[1]*fy+m[2], m[3]*fx+m[4]*fy+m[5]
	if c < 0 || r < 0 || c >= float64(pic.X) || r >= float64(pic.Y) {
		return [4]float64{}, false
	}
	k := math.Ldexp(1, -level)
	pixel := func(u, v int) (p [4]float64) {
		u, v = min(max(u, 0), l.size().X-1), min(max(v, 0), l.size().Y-1)
		var b [4]uint8
		_ = l.cut(b[:], 4, image.Rect(u, v, u+1, v+1), false)
		return [4]float64{float64(b[0]), float64(b[1]), float64(b[2]), float64(b[3])}
	}
	if f == Nearest {
		return pixel(int(c*k), int(r*k)), true
	}
	u, v := math.Floor(c*k-0.5), math.Floor(r*k-0.5)
	a, b := c*k-0.5-u, r*k-0.5-v
	p, q := pixel(int(u), int(v)), pixel(int(u)+1, int(v))
	below, beyond := pixel(int(u), int(v)+1), pixel(int(u)+1, int(v)+1)
	var out [4]float64
	for i := range out {
		out[i] = (1-b)*((1-a)*p[i]+a*q[i]) + b*((1-a)*below[i]+a*beyond[i])
	}
	return out, true
}

// TestRegionAgainstReference: random similarities over a smooth picture, at
// all scales, whole and across its edges.
func TestRegionAgainstReference(t *testing.T) {
	t.Parallel()
	m := image.NewRGBA(image.Rect(0, 0, 517, 389))
	for y := range 389 {
		for x := range 517 {
			m.SetRGBA(x, y, color.RGBA{uint8(128 + 100*math.Sin(float64(x)/9)), uint8(128 + 100*math.Cos(float64(y)/7)), uint8((x + y) / 4), 255})
		}
	}
	t.Run("rgba", func(t *testing.T) { againstReference(t, m, 2) })
	t.Run("ycc", func(t *testing.T) { againstReference(t, smoothYCC(517, 389), 4) }) // chroma is rounded before conversion
}

// smoothYCC stays within the colours RGB can show, where mixing before and
// after the conversion is the same.
func smoothYCC(w, h int) *image.YCbCr {
	m := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio420)
	for y := range h {
		for x := range w {
			m.Y[m.YOffset(x, y)] = uint8(128 + 60*math.Sin(float64(x)/9))
			m.Cb[m.COffset(x, y)] = uint8(128 + 20*math.Cos(float64(y)/30))
			m.Cr[m.COffset(x, y)] = uint8(128 + 20*math.Sin(float64(x+y)/30))
		}
	}
	return m
}

// againstReference allows a channel to differ by tolerance of 255.
func againstReference(t *testing.T, m image.Image, tolerance float64) {
	p := settled(t, New(m, Options{}))
	r := rand.New(rand.NewPCG(5, 6))
	for range 60 {
		a := turned(r.Float64()*2*math.Pi, math.Exp(r.Float64()*5-2.5), r.Float64()*517, r.Float64()*389)
		level := p.RegionLevel(a)
		dst := image.NewRGBA(image.Rect(0, 0, 150, 90))
		if err := p.Region(dst, a, Bilinear); err != nil {
			t.Fatal(err)
		}
		edge := 0
		for y := 0; y < 90; y += 3 {
			for x := 0; x < 150; x += 3 {
				want, in := slowRegion(p.layer(level), level, p.Size(), a, Bilinear, x, y)
				got := dst.RGBAAt(x, y)
				if in != (got.A != 0) {
					edge++ // a middle on the very edge may fall either way
					continue
				}
				for i, v := range []uint8{got.R, got.G, got.B, got.A} {
					if math.Abs(float64(v)-want[i]) > tolerance {
						t.Fatalf("%v level %d at (%d, %d) channel %d: %d, want %.1f ± %g", a, level, x, y, i, v, want[i], tolerance)
					}
				}
			}
		}
		if edge > 2 {
			t.Errorf("%v: %d pixels on the wrong side of the edge", a, edge)
		}
	}
}

// TestRegionNearestPicks: strongly magnified and turned, each pixel shows the
// picture pixel its middle lies in.
func TestRegionNearestPicks(t *testing.T) {
	t.Parallel()
	p := settled(t, New(address(2500, 1900), Options{}))
	r := rand.New(rand.NewPCG(7, 8))
	for range 40 {
		a := turned(r.Float64()*2*math.Pi, 0.02+r.Float64(), 2+r.Float64()*2490, 2+r.Float64()*1890)
		dst := image.NewRGBA(image.Rect(0, 0, 130, 130))
		if err := p.Region(dst, a, Nearest); err != nil {
			t.Fatal(err)
		}
		for y := range 130 {
			for x := range 130 {
				fx, fy := float64(x)+0.5, float64(y)+0.5
				c, w := a[0]*fx+a[1]*fy+a[2], a[3]*fx+a[4]*fy+a[5]
				got := dst.RGBAAt(x, y)
				if got.A == 0 {
					continue
				}
				u, v := placeOf(got)
				if c < float64(u)-1e-3 || c > float64(u)+1+1e-3 || w < float64(v)-1e-3 || w > float64(v)+1+1e-3 {
					t.Fatalf("%v at (%d, %d): pixel (%d, %d), want the one at %.4f, %.4f", a, x, y, u, v, c, w)
				}
			}
		}
	}
}

// TestRegionAllForms: every form and size goes through without a panic, at
// any place, and a plain picture stays plain.
func TestRegionAllForms(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(9, 10))
	for _, s := range []image.Point{{1, 1}, {3, 200}, {129, 77}} {
		for name, img := range forms(s.X, s.Y) {
			p := New(img, Options{})
			if err := p.Wait(p.Levels() - 1); err != nil {
				t.Fatal(err)
			}
			for range 30 {
				a := turned(r.Float64()*7, math.Exp(r.Float64()*12-6), (r.Float64()*3-1)*float64(s.X), (r.Float64()*3-1)*float64(s.Y))
				if err := p.Region(image.NewRGBA(image.Rect(-3, 5, 70, 80)), a, Filter(r.IntN(2))); err != nil {
					t.Errorf("%s %v: %v", name, s, err)
				}
			}
			p.Close()
		}
	}
	white := image.NewGray(image.Rect(0, 0, 400, 400))
	for i := range white.Pix {
		white.Pix[i] = 255
	}
	p := settled(t, New(white, Options{}))
	dst := image.NewRGBA(image.Rect(0, 0, 100, 100))
	if err := p.Region(dst, turned(0.7, 1.3, 200, 50), Bilinear); err != nil {
		t.Fatal(err)
	}
	for i, v := range dst.Pix {
		if v != 255 {
			t.Fatalf("white became %d at byte %d", v, i)
		}
	}
}

func TestRegionRefuses(t *testing.T) {
	t.Parallel()
	p := settled(t, New(address(20, 20), Options{}))
	dst := image.NewRGBA(image.Rect(0, 0, 4, 4))
	for _, m := range []f64.Aff3{{}, {math.NaN(), 0, 0, 0, 1, 0}, {1, 0, math.Inf(1), 0, 1, 0}, {1e12, 0, 0, 0, 1e12, 0}} {
		if err := p.Region(dst, m, Bilinear); !errors.Is(err, ErrTransform) {
			t.Errorf("%v: %v, want ErrTransform", m, err)
		}
	}
	waiting := NewPending(image.Pt(512, 512), Options{})
	defer waiting.Close()
	if err := waiting.Region(dst, turned(1, 4, 0, 0), Bilinear); !errors.Is(err, ErrNotReady) {
		t.Errorf("before its level is ready: %v, want ErrNotReady", err)
	}
}

func TestCrop(t *testing.T) {
	t.Parallel()
	p := settled(t, New(address(300, 200), Options{}))
	for _, c := range []struct {
		r    image.Rectangle
		size image.Point
	}{
		{image.Rect(10, 20, 42, 52), image.Pt(32, 32)},
		{image.Rect(-5, -6, 11, 10), image.Pt(16, 16)},
		{image.Rect(290, 190, 322, 222), image.Pt(32, 32)},
		{image.Rect(0, 0, 300, 200), image.Pt(256, 200)},
		{image.Rect(1000, 0, 1010, 10), image.Pt(10, 10)},
		{image.Rect(5, 5, 5, 5), image.Pt(0, 0)},
	} {
		got := p.Crop(c.r)
		if got.Rect != (image.Rectangle{Max: c.size}) {
			t.Errorf("%v: bounds %v, want %v", c.r, got.Rect, c.size)
		}
		for y := range c.size.Y {
			for x := range c.size.X {
				at, px := image.Pt(c.r.Min.X+x, c.r.Min.Y+y), got.RGBAAt(x, y)
				if !at.In(image.Rect(0, 0, 300, 200)) {
					if px.A != 0 {
						t.Fatalf("%v: outside at %v: %v", c.r, at, px)
					}
				} else if u, v := placeOf(px); u != at.X || v != at.Y {
					t.Fatalf("%v: %v shows (%d, %d)", c.r, at, u, v)
				}
			}
		}
	}
}
