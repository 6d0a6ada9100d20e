package mapview

import (
	"fmt"
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/canvas/pyramid"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// levelRig shows a sheet whose level n carries its own addresses, by means of
// a preview: the picture itself is never there.
func levelRig(t *testing.T, n int, scale float32, cb Callbacks) (*rig, image.Point) {
	r := newRig(t, nil, scale, 313, 257, 33.3, 21.7, cb)
	level := addressed(1300, 1100)
	p := pyramid.NewPending(level.Rect.Size().Mul(1<<n), pyramid.Options{})
	t.Cleanup(p.Close)
	p.Preview(n, level)
	r.SetPicture(p)
	return r, level.Rect.Size()
}

// TestPickingAtEveryLevel shows each level pixel for pixel. What a pointer
// event means is the level's pixel painted under it, and a position of the
// sheet is painted where the view says it stands.
func TestPickingAtEveryLevel(t *testing.T) {
	for i, scale := range []float32{1, 1.25, 1.5, 2} {
		for n := range 5 {
			if !chosen(4, i, n) {
				continue
			}
			t.Run(fmt.Sprintf("display scale %v, level %d", scale, n), func(t *testing.T) {
				var hovered view.PicPt
				r, size := levelRig(t, n, scale, Callbacks{OnHover: func(s tool.Spot, _ bool) { hovered = s.At }})
				rnd := rand.New(rand.NewPCG(uint64(n), 11))
				f := math.Ldexp(1, n)
				for k, at := range []view.PicPt{{X: 10, Y: 10}, {X: 1290, Y: 1090}, {X: 511.5, Y: 600}} {
					if !chosen(3, i, n, k) {
						continue
					}
					r.show(r.View().ScaledTo(1/f, view.PicPt{X: at.X * f, Y: at.Y * f}, r.View().Middle()))
					r.checkLevel(rnd, f, size, func(s view.ScreenPt) view.PicPt { r.hover(s); return hovered })
				}
			})
		}
	}
}

func (r *rig) checkLevel(rnd *rand.Rand, f float64, size image.Point, pick func(view.ScreenPt) view.PicPt) {
	r.t.Helper()
	shot := r.shot()
	checked := 0
	for range 300 {
		x, y := 1+rnd.IntN(shot.Rect.Dx()-1), 1+rnd.IntN(shot.Rect.Dy()-1)
		got := pick(view.ScreenPt{X: float64(x) + 0.5, Y: float64(y) + 0.5})
		if !r.onPicture(got) {
			continue
		}
		ax, ay := addressOf(shot.NRGBAAt(x, y))
		if int(got.X/f) != ax || int(got.Y/f) != ay {
			r.t.Fatalf("screen pixel %d,%d: picked %v of the level, painted %d,%d", x, y, view.PicPt{X: got.X / f, Y: got.Y / f}, ax, ay)
		}
		s := r.View().ToScreen(view.PicPt{X: (float64(ax) + 0.5) * f, Y: (float64(ay) + 0.5) * f})
		if int(math.Floor(s.X)) != x || int(math.Floor(s.Y)) != y {
			r.t.Fatalf("the level's pixel %d,%d should stand at %v, is painted at %d,%d", ax, ay, s, x, y)
		}
		checked++
	}
	if checked < 60 {
		r.t.Errorf("only %d pixels checked at %v", checked, size)
	}
}

// TestPickingBetweenLevels compares with where a tile is drawn when its pixels
// are reduced on their way to the screen, by less than two: the pixel picked
// is one that the screen pixel covers, at any scale, place and display scale.
func TestPickingBetweenLevels(t *testing.T) {
	r, _ := levelRig(t, 0, 1, Callbacks{})
	rnd := rand.New(rand.NewPCG(1, 2))
	checked := 0
	for range 5000 {
		zoom := math.Exp2(-4 * rnd.Float64())
		r.view = r.view.ScaledTo(zoom, view.PicPt{X: 1300 * rnd.Float64(), Y: 1100 * rnd.Float64()}, r.view.Middle())
		w, h := r.view.Viewport()
		s := view.ScreenPt{X: float64(rnd.IntN(w)) + 0.5, Y: float64(rnd.IntN(h)) + 0.5}
		got := r.drawnAt(s)
		if !r.onPicture(got) {
			continue
		}
		level, side := levelOf(r.view, 0, r.pic.Levels())
		f := math.Ldexp(1, level)
		k := pyramid.Key{Level: level, X: int(got.X/f) / pyramid.TileSize, Y: int(got.Y/f) / pyramid.TileSize}
		sz := r.pic.LevelSize(level)
		size := image.Pt(min(512, sz.X-512*k.X), min(512, sz.Y-512*k.Y))
		if size.X <= 0 || size.Y <= 0 {
			continue // past a level whose sides were rounded up
		}
		b := tileRect(r.view, k, side, size)
		x := 512*float64(k.X) + (s.X-b.x0)/(b.x1-b.x0)*float64(size.X)
		y := 512*float64(k.Y) + (s.Y-b.y0)/(b.y1-b.y0)*float64(size.Y)
		if math.Abs(got.X/f-x) > 1e-6 || math.Abs(got.Y/f-y) > 1e-6 {
			t.Fatalf("zoom %v, level %d, tile %v at %v: picked %.4f,%.4f of the level, drawn %.4f,%.4f", r.view.Scale(), level, k, s, got.X/f, got.Y/f, x, y)
		}
		checked++
	}
	if checked < 1000 {
		t.Errorf("only %d places checked", checked)
	}
}

// TestPickingInATurnedViewAtEveryLevel hovers over a turned sheet shown pixel
// for pixel at each level, within what a turned pixel's edge may differ and
// the blend of four neighbours hides.
func TestPickingInATurnedViewAtEveryLevel(t *testing.T) {
	for i, scale := range []float32{1, 1.25, 1.5, 2} {
		if !chosen(2, i) {
			continue
		}
		r := newRig(t, addressed(1300, 1100), scale, 313, 257, 33.3, 21.7, Callbacks{})
		r.RotateTo(-0.83)
		rnd := rand.New(rand.NewPCG(3, 9))
		for j, zoom := range []float64{4, 16, 64} {
			if !chosen(2, i/2, j) {
				continue
			}
			r.show(r.View().ScaledTo(zoom, view.PicPt{X: 640, Y: 550}, r.View().Middle()))
			shot := r.shot()
			for range 200 {
				x, y := 1+rnd.IntN(shot.Rect.Dx()-1), 1+rnd.IntN(shot.Rect.Dy()-1) // see checkPicks
				abs := r.absolute(view.ScreenPt{X: float64(x), Y: float64(y)})
				got := r.drawnAt(r.frame.point(abs, abs.Subtract(fyne.Position(r.frame.origin))))
				ax, ay := addressOf(shot.NRGBAAt(x, y))
				slack := 0.5 + 1.3/zoom
				if math.Abs(got.X-float64(ax)-0.5) > slack || math.Abs(got.Y-float64(ay)-0.5) > slack {
					t.Fatalf("display scale %v, zoom %v, screen pixel %d,%d: picked %.3f,%.3f, painted %d,%d", scale, zoom, x, y, got.X, got.Y, ax, ay)
				}
			}
		}
	}
}
