package mapview

import (
	"fmt"
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"legwright/canvas/pyramid"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// TestPickingIsPixelExact hovers over random screen pixels, sent as the
// window would send them, and reads from the painted frame which picture
// pixel is really there.
func TestPickingIsPixelExact(t *testing.T) {
	pic := addressed(1300, 1100)
	for i, scale := range []float32{1, 1.25, 1.5, 2} {
		if !chosen(2, i) {
			continue
		}
		t.Run(fmt.Sprint("display scale ", scale), func(t *testing.T) {
			var hovered view.PicPt
			r := newRig(t, pic, scale, 313, 257, 33.3, 21.7, Callbacks{OnHover: func(s tool.Spot, _ bool) { hovered = s.At }})
			rnd := rand.New(rand.NewPCG(7, 8))
			for j, zoom := range []float64{1, 2, 2.37, 3.93} {
				for k, at := range []view.PicPt{{X: 1, Y: 1}, {X: 1299, Y: 1099}, {X: 511.5, Y: 1024.5}} {
					if !chosen(4, i, j) || !chosen(3, i, k) {
						continue
					}
					r.show(r.View().ScaledTo(zoom, at, r.View().Middle()))
					r.checkPicks(rnd, func(s view.ScreenPt) view.PicPt { r.hover(s); return hovered })
				}
			}
		})
	}
}

// hover sends the event of a pointer on a physical pixel, as the window does:
// whole pixels divided by the scale, in float32.
func (r *rig) hover(s view.ScreenPt) {
	abs := r.absolute(s)
	r.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{AbsolutePosition: abs, Position: abs.Subtract(r.frame.origin)}})
}

func (r *rig) absolute(s view.ScreenPt) fyne.Position {
	scale := r.win.Canvas().Scale()
	return fyne.NewPos(
		float32(int(r.frame.snap(r.frame.origin.X)+math.Floor(s.X)))/scale,
		float32(int(r.frame.snap(r.frame.origin.Y)+math.Floor(s.Y)))/scale)
}

func (r *rig) checkPicks(rnd *rand.Rand, pick func(view.ScreenPt) view.PicPt) {
	r.t.Helper()
	// The painter of tests clips with a rounding of its own: leave row and
	// column 0 out.
	shot := r.shot()
	checked := 0
	for range 400 {
		x, y := 1+rnd.IntN(shot.Rect.Dx()-1), 1+rnd.IntN(shot.Rect.Dy()-1)
		got := pick(view.ScreenPt{X: float64(x) + 0.5, Y: float64(y) + 0.5})
		if !r.onPicture(got) || r.View().ToScreen(got).Dist(r.View().ToScreen(view.PicPt{X: min(max(got.X, 2), 1298), Y: min(max(got.Y, 2), 1098)})) > 0 {
			continue // the rim of the picture, where the ground may show
		}
		wantX, wantY := addressOf(shot.NRGBAAt(x, y))
		if int(math.Floor(got.X)) != wantX || int(math.Floor(got.Y)) != wantY {
			r.t.Errorf("view %v at %v, screen pixel %d,%d: picked %.3f,%.3f, painted %d,%d",
				r.View().Scale(), r.View().Offset(), x, y, got.X, got.Y, wantX, wantY)
			return
		}
		checked++
	}
	if checked < 40 {
		r.t.Errorf("only %d pixels checked", checked)
	}
}

// TestPickingInvertsTheDrawnTile compares with where the window's painter,
// which takes the texel at (x + ½ − x0)/(x1 − x0) of a tile drawn from x0 to
// x1, shows each pixel. It covers strong zooms, for which painting is slow in
// tests.
func TestPickingInvertsTheDrawnTile(t *testing.T) {
	r := newRig(t, addressed(1300, 1100), 1, 613, 457, 5, 5, Callbacks{})
	rnd := rand.New(rand.NewPCG(5, 6))
	for range 4000 {
		zoom := math.Exp2(6.2 * rnd.Float64())
		r.view = r.view.ScaledTo(zoom, view.PicPt{X: 1300 * rnd.Float64(), Y: 1100 * rnd.Float64()}, r.view.Middle())
		s := view.ScreenPt{X: float64(rnd.IntN(613)) + 0.5, Y: float64(rnd.IntN(457)) + 0.5}
		got := r.drawnAt(s)
		if !r.onPicture(got) {
			continue
		}
		k := pyramid.Key{X: int(got.X) / pyramid.TileSize, Y: int(got.Y) / pyramid.TileSize}
		size := image.Pt(min(512, 1300-512*k.X), min(512, 1100-512*k.Y))
		_, side := levelOf(r.view, 0, 1)
		b := tileRect(r.view, k, side, size)
		x := 512*k.X + int(math.Floor((s.X-b.x0)/(b.x1-b.x0)*float64(size.X)))
		y := 512*k.Y + int(math.Floor((s.Y-b.y0)/(b.y1-b.y0)*float64(size.Y)))
		if int(got.X) != x || int(got.Y) != y {
			t.Fatalf("zoom %v at %v: picked %.3f,%.3f, drawn %d,%d", r.view.Scale(), s, got.X, got.Y, x, y)
		}
	}
}

// TestPickingInATurnedView allows half a screen pixel: a turned pixel's edge
// may fall inside the screen pixel.
func TestPickingInATurnedView(t *testing.T) {
	r := newRig(t, addressed(1300, 1100), 1.5, 313, 257, 33.3, 21.7, Callbacks{})
	r.RotateTo(0.61)
	rnd := rand.New(rand.NewPCG(3, 4))
	for _, zoom := range []float64{2, 4, 8} /* cut tiles are drawn 1:1, so that no addresses blend */ {
		r.show(r.View().ScaledTo(zoom, view.PicPt{X: 650, Y: 550}, r.View().Middle()))
		shot := r.shot()
		for range 400 {
			x, y := rnd.IntN(shot.Rect.Dx()), rnd.IntN(shot.Rect.Dy())
			got := r.drawnAt(view.ScreenPt{X: float64(x) + 0.5, Y: float64(y) + 0.5})
			ax, ay := addressOf(shot.NRGBAAt(x, y))
			// Half a screen pixel, and the rounding of the cut tile's pixels.
			slack := 0.5 + 1.3/zoom
			if math.Abs(got.X-float64(ax)-0.5) > slack || math.Abs(got.Y-float64(ay)-0.5) > slack {
				t.Fatalf("zoom %v, screen pixel %d,%d: picked %.3f,%.3f, painted %d,%d", zoom, x, y, got.X, got.Y, ax, ay)
			}
		}
	}
}

// onPicture says whether a place lies on the picture.
func (r *rig) onPicture(p view.PicPt) bool {
	size := r.pic.Size()
	return p.X >= 0 && p.Y >= 0 && p.X < float64(size.X) && p.Y < float64(size.Y)
}
