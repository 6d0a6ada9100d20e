package overlay

import (
	"image"
	"image/color"
	"math"
	"testing"

	"pgregory.net/rapid"

	"legwright/canvas/view"
)

// slow draws a segment by looking at every pixel, as a check on the fast way.
func slow(w, h int, pr *profile, a, b view.ScreenPt) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	dx, dy := b.X-a.X, b.Y-a.Y
	n := dx*dx + dy*dy
	for y := range h {
		for x := range w {
			px, py := float64(x)+0.5-a.X, float64(y)+0.5-a.Y
			t := 0.0
			if n > 0 {
				t = min(max((px*dx+py*dy)/n, 0), 1)
			}
			i := int(math.Hypot(px-t*dx, py-t*dy)*fine + 0.5)
			if i < len(pr.tab) {
				put(img.Pix[img.PixOffset(x, y):], pr.tab[i])
			}
		}
	}
	return img
}

func TestSegmentAgainstEveryPixel(t *testing.T) {
	t.Parallel()
	pr := newProfile([]band{{0, 4.2, faded(white, 0xd8)}, {1.5, 2.8, blue}}, 1)
	rapid.Check(t, func(t *rapid.T) {
		const w, h = 61, 47
		pt := func(name string) view.ScreenPt {
			return view.ScreenPt{
				X: rapid.Float64Range(-90, 150).Draw(t, name+"x"), Y: rapid.Float64Range(-90, 140).Draw(t, name+"y"),
			}
		}
		a, b := pt("a"), pt("b")
		got := image.NewRGBA(image.Rect(0, 0, w, h))
		for _, s := range []strip{{got, 0, 20}, {got, 20, h}} {
			s.segment(&pr, a, b, true)
		}
		want := slow(w, h, &pr, a, b)
		for i := range got.Pix {
			// A step of the distance table changes a channel by at most
			// 255/fine; the two may round to neighbouring steps.
			if d := apart(got.Pix[i], want.Pix[i]); d > 255/fine+2 {
				t.Fatalf("%v–%v: pixel %d,%d channel %d: got %d, want %d", a, b, i/4%w, i/4/w, i%4, got.Pix[i], want.Pix[i])
			}
		}
	})
}

func TestWildCoordinatesAreHarmless(t *testing.T) {
	t.Parallel()
	img := image.NewRGBA(image.Rect(0, 0, 50, 40))
	s := strip{img, 0, 40}
	pr := newProfile([]band{{0, 2, blue}}, 1)
	for _, v := range []float64{0, 25, 1e3, 1e12, -1e12, 1e300, math.Inf(1), math.NaN()} {
		for _, w := range []float64{0, 20, -1e9, 1e15, math.Inf(-1)} {
			s.segment(&pr, view.ScreenPt{X: v, Y: w}, view.ScreenPt{X: w, Y: v}, true)
			s.dashed(&pr, view.ScreenPt{X: v, Y: w}, view.ScreenPt{X: 20, Y: 20}, []float64{6, 3}, false)
			s.dots(&pr, []view.ScreenPt{{X: v, Y: w}, {X: 20, Y: 20}, {X: w, Y: v}}, 6)
		}
	}
	s.segment(&profile{}, view.ScreenPt{}, view.ScreenPt{X: 9, Y: 9}, true)
}

func TestLongDashesKeepTheirPlace(t *testing.T) {
	t.Parallel()
	pr := newProfile([]band{{0, 1, black}}, 1)
	at := func(from float64) []uint8 {
		img := image.NewRGBA(image.Rect(0, 0, 100, 9))
		s := strip{img, 0, 9}
		s.dashed(&pr, view.ScreenPt{X: from, Y: 4.5}, view.ScreenPt{X: 500, Y: 4.5}, []float64{10, 5}, false)
		return img.Pix
	}
	near, far := at(-15), at(-15*1e6)
	for i := range near {
		if near[i] != far[i] {
			t.Fatalf("byte %d: %d from nearby, %d from a million dashes away", i, near[i], far[i])
		}
	}
}

func TestOver(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Uint32Range(0, 255).Draw(t, "alpha")
		src := a<<24 | rapid.Uint32Range(0, a).Draw(t, "r") | rapid.Uint32Range(0, a).Draw(t, "g")<<8 | rapid.Uint32Range(0, a).Draw(t, "b")<<16
		dst := rapid.Uint32().Draw(t, "dst") | 0xff000000
		got := over(dst, src)
		for sh := 0; sh < 32; sh += 8 {
			s, d := float64(src>>sh&255), float64(dst>>sh&255)
			want := s + d*(255-float64(a))/255
			if g := float64(got >> sh & 255); math.Abs(g-want) > 1.6 {
				t.Fatalf("%08x over %08x, channel %d: got %v, want %.2f within 1.6", src, dst, sh/8, g, want)
			}
		}
	})
}

func TestProfileOfAHairLine(t *testing.T) {
	t.Parallel()
	pr := newProfile([]band{{0, 0.25, color.NRGBA{0, 0, 0, 0xff}}}, 1)
	if got := pr.tab[0] >> 24; got < 120 || got > 136 {
		t.Errorf("half a pixel wide: alpha on the axis %d, want about 128", got)
	}
}
