package overlay

import (
	"context"
	"image"
	"math"
	"testing"

	"legwright/canvas/view"
)

func quiet(int, int) {}

// reliefOf reads a made ground over a picture of w × h pixels.
func reliefOf(t *testing.T, w, h int, stepPx float64, at func(view.PicPt) GroundSpot) *Relief {
	t.Helper()
	r, ok := ReliefOf(t.Context(), w, h, stepPx, at, quiet)
	if !ok {
		t.Fatal("the ground was not read")
	}
	return r
}

// reliefDrawn is a relief as a view of its whole picture shows it, a pixel to a pixel.
func reliefDrawn(r *Relief, w, h int, scale float64) reliefAt {
	p := NewPainter()
	img := image.NewRGBA(image.Rect(0, 0, int(float64(w)*scale), int(float64(h)*scale)))
	v := view.New(w, h, img.Rect.Dx(), img.Rect.Dy()).ScaledTo(scale, view.PicPt{}, view.ScreenPt{})
	p.Onto(img, v, 1, Scene{}, img.Rect) // makes its lines
	p.img = img
	return newDrawing(p, v, Scene{Relief: r}, img.Rect).relief
}

// slopeOnly is ground of one slope without contours.
func slopeOnly(deg float64) func(view.PicPt) GroundSpot {
	return func(view.PicPt) GroundSpot { return GroundSpot{HeightM: 1, SlopeDeg: deg} }
}

// The hatching is denser from each of the slopes on, and there is none on gentler ground.
func TestHatchingGrowsWithTheSlope(t *testing.T) {
	t.Parallel()
	long := func(deg float64) (sum float64) {
		for _, s := range reliefDrawn(reliefOf(t, 400, 400, 10, slopeOnly(deg)).Showing(89, 0), 400, 400, 1).slopes {
			sum += s.a.Dist(s.b)
		}
		return sum
	}
	if got := long(14.9); got != 0 {
		t.Errorf("14.9° has %.0f px of hatching", got)
	}
	last := 0.0
	for i, deg := range SlopeLevels(89) {
		below, at := long(deg-0.1), long(deg)
		if below > last*1.001 || !(at > 1.8*below) {
			t.Errorf("level %d: %.0f px just below %v°, %.0f px from it, %.0f px at the level before", i, below, deg, at, last)
		}
		last = at
	}
}

// Thick lines show over-steep ground alone, from whichever slope that is: between two densities,
// below the first and above the last.
func TestOverSteepIsThick(t *testing.T) {
	t.Parallel()
	for _, over := range []float64{12, 15, 22, 30, 45} {
		for _, deg := range []float64{over - 0.1, over, 50} {
			got := reliefDrawn(reliefOf(t, 400, 400, 10, slopeOnly(deg)).Showing(over, 0), 400, 400, 1)
			all := reliefDrawn(reliefOf(t, 400, 400, 10, slopeOnly(max(deg, 15))).Showing(89, 0), 400, 400, 1).slopes
			if thick := len(got.over) > 0; thick != (deg >= over) || thick && len(got.over) != len(all) {
				t.Errorf("over-steep from %g°: ground of %g° has %d thick lines of %d", over, deg, len(got.over), len(all))
			}
		}
	}
}

// A steep band narrower than the knots stand apart, and than the coarser nets', is still
// hatched: it may not be lost at any scale.
func TestANarrowSteepBandIsNeverLost(t *testing.T) {
	t.Parallel()
	const side = 6000
	band := func(p view.PicPt) GroundSpot {
		if math.Abs(p.X-3001) <= 2.5 {
			return GroundSpot{HeightM: 1, SlopeDeg: 40}
		}
		return GroundSpot{HeightM: 1}
	}
	r := reliefOf(t, side, side, 4, band).Showing(25, 0)
	if step := r.nets[0].slope.stepX; step < 6 {
		t.Fatalf("knots are %.1f px apart, want them wider than the band", step)
	}
	for k, n := range r.nets {
		for j := range n.slope.rows {
			steepest := 0.0
			for i := range n.slope.cols {
				steepest = max(steepest, n.slope.at[j*n.slope.cols+i])
			}
			if steepest != 40 {
				t.Fatalf("net %d has lost the band in row %d", k, j)
			}
		}
	}
	for _, scale := range []float64{0.1, 0.5} {
		if len(reliefDrawn(r, side, side, scale).slopes) == 0 {
			t.Errorf("at scale %v the band is not hatched", scale)
		}
	}
}

// Contours of a cone are circles of the right radius about its top.
func TestContoursOfACone(t *testing.T) {
	t.Parallel()
	top := view.PicPt{X: 203, Y: 197}
	cone := func(p view.PicPt) GroundSpot { return GroundSpot{HeightM: 300 - p.Dist(top)} }
	got := reliefDrawn(reliefOf(t, 400, 400, 5, cone).Showing(0, 20), 400, 400, 1)
	if len(got.lines) < 100 || len(got.index) < 50 || len(got.slopes) > 0 {
		t.Fatalf("%d pieces, %d of index contours, %d of hatching", len(got.lines), len(got.index), len(got.slopes))
	}
	for _, x := range []struct {
		list   []strokeAt
		eachM  float64
		wanted string
	}{{got.lines, 20, "every 20 m"}, {got.index, 100, "every 100 m"}} {
		for _, s := range x.list {
			m := 300 - math.Hypot(s.a.X-top.X, s.a.Y-top.Y)
			if off := math.Abs(math.Remainder(m, x.eachM)); off > 0.5 && m < 280 { // a chord of the cone near its top is lower
				t.Fatalf("a contour lies at %.2f m, want %s", m, x.wanted)
			}
		}
	}
}

// Where something of the ground is not known there are crosses and no contour, in every net.
func TestVoidsAreMarked(t *testing.T) {
	t.Parallel()
	half := func(p view.PicPt) GroundSpot {
		if p.X > 200 {
			return GroundSpot{HeightM: math.NaN(), SlopeDeg: math.NaN(), Void: true}
		}
		return GroundSpot{HeightM: p.Y, SlopeDeg: 40}
	}
	r := reliefOf(t, 400, 400, 2, half)
	for _, scale := range []float64{0.5, 1, 3} {
		got := reliefDrawn(r.Showing(25, 10), 400, 400, scale)
		if len(got.crosses) < 15 {
			t.Errorf("at %v: %d crosses", scale, len(got.crosses))
		}
		for _, p := range got.crosses {
			if p.X < (200-8)*scale {
				t.Errorf("at %v: a cross at %v, where heights are known", scale, p)
			}
		}
		for _, s := range append(append(got.lines, got.index...), got.slopes...) {
			if s.a.X > (200+8)*scale || s.b.X > (200+8)*scale {
				t.Fatalf("at %v: a line at %v, where no height is known", scale, s)
			}
		}
	}
	if some, all := r.Voids(); !some || all {
		t.Errorf("voids: some %v, all %v", some, all)
	}
}

// A reading that is cancelled ends without a relief.
func TestReliefCanBeCancelled(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(t.Context())
	if r, ok := ReliefOf(ctx, 400, 400, 1, slopeOnly(20), func(done, _ int) {
		if done == 3 {
			cancel()
		}
	}); ok || r != nil {
		t.Error("a cancelled reading gives a relief")
	}
}
