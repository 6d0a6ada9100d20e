package view

import (
	"image"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// drawView makes an arbitrary view by a few moves from a fitted one.
func drawView(t *rapid.T) View {
	v := New(
		rapid.IntRange(1, 30000).Draw(t, "picW"), rapid.IntRange(1, 30000).Draw(t, "picH"),
		rapid.IntRange(50, 4000).Draw(t, "viewW"), rapid.IntRange(50, 3000).Draw(t, "viewH"))
	if rapid.Bool().Draw(t, "turned") {
		v = v.RotateTo(rapid.Float64Range(-7, 7).Draw(t, "angle"), drawScreen(t, v))
	}
	v = v.ZoomAt(drawScreen(t, v), math.Exp(rapid.Float64Range(-4, 6).Draw(t, "zoom")))
	return v.PanBy(rapid.Float64Range(-600, 600).Draw(t, "dx"), rapid.Float64Range(-600, 600).Draw(t, "dy"))
}

func drawScreen(t *rapid.T, v View) ScreenPt {
	return ScreenPt{rapid.Float64Range(0, v.vw).Draw(t, "sx"), rapid.Float64Range(0, v.vh).Draw(t, "sy")}
}

func TestRoundTrip(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		s := drawScreen(t, v)
		if got := v.ToScreen(v.ToPicture(s)); got.Dist(s) > 1e-6 {
			t.Fatalf("screen→picture→screen: got %v, want %v within 1e-6 px", got, s)
		}
		p := PicPt{rapid.Float64Range(0, v.pw).Draw(t, "px"), rapid.Float64Range(0, v.ph).Draw(t, "py")}
		if got := v.ToPicture(v.ToScreen(p)); got.Dist(p) > 1e-6 {
			t.Fatalf("picture→screen→picture: got %v, want %v within 1e-6 px", got, p)
		}
	})
}

func TestZoomKeepsThePointUnderThePointer(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		s := drawScreen(t, v)
		p := v.ToPicture(s)
		w := v.ZoomAt(s, math.Exp(rapid.Float64Range(-1, 1).Draw(t, "by")))
		if edgeDistance(w) < 2 {
			return // the clamp rules: TestSomethingOfTheSheetStays
		}
		if got := w.ToScreen(p); got.Dist(s) > math.Sqrt2/2+1e-6 {
			t.Fatalf("point under the pointer went from %v to %v", s, got)
		}
	})
}

// edgeDistance is how far the middle lies inside the sheet, screen pixels.
func edgeDistance(v View) float64 {
	c := v.ToPicture(v.Middle())
	return v.scale * min(c.X, c.Y, v.pw-c.X, v.ph-c.Y)
}

func TestSeriesOfZoomsDoesNotDrift(t *testing.T) {
	t.Parallel()
	v := New(9000, 7000, 1400, 900)
	s := ScreenPt{411.5, 502.5}
	p := v.ToPicture(s)
	for i := range 400 {
		f := 1.2
		if i%2 == 1 {
			f = 1 / 1.2
		}
		v = v.ZoomAbout(p, s, f)
	}
	if got := v.ToScreen(p); got.Dist(s) > math.Sqrt2/2 {
		t.Errorf("after 400 steps: got %v, want %v within 0.71 px", got, s)
	}
}

func TestTurnKeepsThePoint(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		s := drawScreen(t, v)
		p := v.ToPicture(s)
		w := v.RotateTo(rapid.Float64Range(-20, 20).Draw(t, "to"), s)
		if edgeDistance(w) < 2 {
			return // the clamp rules
		}
		if got := w.ToScreen(p); got.Dist(s) > math.Sqrt2/2+1e-6 {
			t.Fatalf("turning about %v moved it to %v", s, got)
		}
		if w.Rotation() <= -math.Pi || w.Rotation() > math.Pi {
			t.Fatalf("rotation %v outside (−π, π]", w.Rotation())
		}
	})
}

func TestViewsStandOnTheLattice(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		if v.off.X != math.Round(v.off.X) || v.off.Y != math.Round(v.off.Y) {
			t.Fatalf("offset %v not whole", v.off)
		}
		level, m := v.Level()
		if got := math.Ldexp(float64(m)/TileSize, -level); got != v.scale {
			t.Fatalf("scale %v is not %d/512 on level %d", v.scale, m, level)
		}
		if m < 256 || m > 512 {
			t.Fatalf("level %d drawn on %d px a tile, want 256…512", level, m)
		}
	})
}

func TestSomethingOfTheSheetStays(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		if edgeDistance(v) < -1.5 {
			t.Fatalf("the middle is %v px off the sheet", -edgeDistance(v))
		}
		if v.scale > MaxScale || v.scale < v.minScale()*0.99 {
			t.Fatalf("scale %v outside [%v, %v]", v.scale, v.minScale(), MaxScale)
		}
	})
}

func TestFitShowsTheWholeSheet(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		v = v.RotateTo(rapid.Float64Range(-4, 4).Draw(t, "angle"), v.Middle()).Fit()
		for _, p := range []PicPt{{0, 0}, {v.pw, 0}, {0, v.ph}, {v.pw, v.ph}} {
			s := v.ToScreen(p)
			if s.X < -1 || s.Y < -1 || s.X > v.vw+1 || s.Y > v.vh+1 {
				t.Fatalf("corner %v stands at %v, outside %v×%v", p, s, v.vw, v.vh)
			}
		}
	})
}

func TestTurnIsClockwise(t *testing.T) {
	t.Parallel()
	v := New(1000, 1000, 1000, 1000).OneToOne(ScreenPt{500, 500}).RotateTo(math.Pi/2, ScreenPt{500, 500})
	// What stood above the middle now stands to its right.
	if got, want := v.ToScreen(PicPt{500, 400}), (ScreenPt{600, 500}); got.Dist(want) > 1.5 {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestOneToOneIsExact(t *testing.T) {
	t.Parallel()
	v := New(6000, 4000, 1400, 900).OneToOne(ScreenPt{700, 450})
	if v.Scale() != 1 {
		t.Errorf("scale: got %v, want 1", v.Scale())
	}
	p := v.ToPicture(ScreenPt{0.5, 0.5})
	if p.X-math.Floor(p.X) != 0.5 || p.Y-math.Floor(p.Y) != 0.5 {
		t.Errorf("the centre of a screen pixel shows %v, want the centre of a picture pixel", p)
	}
}

func TestNothingFiniteNothingChanged(t *testing.T) {
	t.Parallel()
	v := New(600, 400, 300, 200)
	nan, inf := math.NaN(), math.Inf(1)
	for name, got := range map[string]View{
		"zoom NaN":    v.ZoomAt(ScreenPt{1, 1}, nan),
		"zoom 0":      v.ZoomAt(ScreenPt{1, 1}, 0),
		"zoom −1":     v.ZoomAt(ScreenPt{1, 1}, -1),
		"zoom at Inf": v.ZoomAt(ScreenPt{inf, 1}, 2),
		"pan NaN":     v.PanBy(nan, 0),
		"turn Inf":    v.RotateTo(inf, ScreenPt{}),
		"centre NaN":  v.CenterOn(PicPt{nan, 1}),
		"fit NaN":     v.FitRect(Rect{Max: PicPt{nan, 1}}, 1),
	} {
		if got != v {
			t.Errorf("%s: the view changed", name)
		}
	}
	if z := (View{}); z.ToPicture(ScreenPt{5, 5}) != (PicPt{}) || !z.IsZero() {
		t.Error("the zero view is not harmless")
	}
}

func TestViewportKeepsTheMiddle(t *testing.T) {
	t.Parallel()
	v := New(6000, 4000, 1400, 900).OneToOne(ScreenPt{300, 300})
	want := v.ToPicture(v.Middle())
	w := v.WithViewport(811, 603)
	if got := w.ToPicture(w.Middle()); got.Dist(want) > 1 {
		t.Errorf("got %v, want %v within 1 px", got, want)
	}
}

// In a part of the map area the picture stands where it stood, also in one beyond its edges.
func TestPart(t *testing.T) {
	t.Parallel()
	v := New(600, 400, 300, 200).RotateTo(0.3, ScreenPt{X: 150, Y: 100})
	for _, r := range []image.Rectangle{image.Rect(20, 30, 70, 90), image.Rect(-50, -10, 400, 20)} {
		part, p := v.Part(r), PicPt{X: 123, Y: 45}
		got, want := part.ToScreen(p).Add(float64(r.Min.X), float64(r.Min.Y)), v.ToScreen(p)
		if got.Dist(want) > 1e-9 {
			t.Errorf("%v: a position is drawn at %v of the map area, want %v", r, got, want)
		}
		if w, h := part.Viewport(); w != r.Dx() || h != r.Dy() {
			t.Errorf("%v: the part has %d × %d pixels", r, w, h)
		}
	}
	if v.Part(image.Rectangle{}) != v {
		t.Error("an empty part is not the view itself")
	}
}
