package mapview

import (
	"image"
	"math"
	"slices"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"pgregory.net/rapid"

	"legwright/canvas/overlay"
	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

// hand is a pacer that the test moves on by itself.
type hand struct {
	tick    func(float32)
	stopped bool
}

func (h *hand) pace(_ time.Duration, tick func(float32)) func() {
	h.tick, h.stopped = tick, false
	return func() { h.stopped = true }
}

func handRig(t *testing.T) (*rig, *hand) {
	r := newRig(t, addressed(1300, 1100), 1, 700, 500, 10, 10, Callbacks{})
	h := &hand{}
	r.pace = h.pace
	return r, h
}

func TestMovesLandExactly(t *testing.T) {
	for _, c := range []struct {
		name string
		move func(*rig)
		want func(view.View) view.View
	}{
		{"fit", func(r *rig) { r.Fit() }, view.View.Fit},
		{"one to one", func(r *rig) { r.OneToOne() }, func(v view.View) view.View { return v.OneToOne(v.Middle()) }},
		{"turn", func(r *rig) { r.RotateTo(0.7) }, func(v view.View) view.View { return v.RotateTo(0.7, v.Middle()) }},
	} {
		r, h := handRig(t)
		r.show(r.View().ScaledTo(0.8, view.PicPt{X: 900, Y: 300}, r.View().Middle()))
		from := r.View()
		want := c.want(from)
		c.move(r)
		if r.View() != from || r.Settled() {
			t.Errorf("%s: moved before the first frame, or says it is settled", c.name)
		}
		for _, share := range []float32{0.2, 0.4, 0.6} {
			h.tick(share)
			if v := r.View(); v == from || v == want {
				t.Errorf("%s at %v: the view is at an end of the way", c.name, share)
			}
		}
		h.tick(1)
		if r.View() != want {
			t.Errorf("%s: got %+v, want %+v", c.name, r.View(), want)
		}
		if r.motion.on {
			t.Errorf("%s: still moving", c.name)
		}
	}
}

// TestInputBreaksOffMoves: what points at the screen stops a move where it is
// seen, a key brings it to its end first.
func TestInputBreaksOffMoves(t *testing.T) {
	for _, c := range []struct {
		name  string
		do    func(*rig)
		atEnd bool
	}{
		{"press", func(r *rig) { r.press(100, 100, right); r.let(100, 100, right) }, false},
		{"wheel", func(r *rig) { r.Scrolled(&fyne.ScrollEvent{PointEvent: r.mouse(100, 100, 0).PointEvent}) }, false},
		{"key", func(r *rig) { r.key(fyne.KeyRight) }, true},
	} {
		for _, angle := range []float64{0, 0.5} {
			r, h := handRig(t)
			r.show(r.View().ScaledTo(0.8, view.PicPt{X: 900, Y: 300}, r.View().Middle()))
			if angle == 0 {
				r.Fit()
			} else {
				r.RotateTo(angle)
			}
			goal := r.goal()
			h.tick(0.4)
			seen := r.View()
			c.do(r)
			want := seen
			if c.atEnd {
				want = goal
			}
			if r.View() != want || r.motion.on || !h.stopped {
				t.Errorf("%s, turn %v: view %+v, want %+v; moving %v, stopped %v", c.name, angle, r.View(), want, r.motion.on, h.stopped)
			}
			h.tick(0.7) // a frame already on its way
			if r.View() != want {
				t.Errorf("%s, turn %v: a late frame moved the view", c.name, angle)
			}
		}
	}
}

// TestTurningShowsTheSheet: on the way the overlay holds the sheet, and it goes
// when the tiles are there.
func TestTurningShowsTheSheet(t *testing.T) {
	r, h := handRig(t)
	r.RotateTo(1)
	h.tick(0.3)
	r.until("the sheet on the overlay", func() bool { return r.overlayLayer.shown.turn })
	v := r.overlayLayer.shown.view
	px := r.overlayLayer.have.RGBAAt(350, 250)
	p := v.ToPicture(view.ScreenPt{X: 350.5, Y: 250.5})
	if px.A != 255 || math.Abs(float64(px.R)-math.Mod(p.X, 256)) > 3 && px.R != 0 {
		t.Errorf("overlay at the middle is %v, the sheet there is at column %.1f", px, p.X)
	}
	if len(r.tiles) != 0 {
		t.Errorf("%d tiles of another turn under the overlay", len(r.tiles))
	}
	h.tick(1)
	r.until("tiles in place of the overlay", func() bool { return r.Settled() && !r.overlayLayer.shown.turn })
}

// until runs what workers bring until ok.
func (r *rig) until(what string, ok func() bool) {
	r.t.Helper()
	for end := time.After(patience); !ok(); {
		select {
		case f := <-r.jobs:
			f()
		case <-end:
			r.t.Fatalf("waited in vain for %s", what)
		}
	}
}

func TestBetween(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := view.New(rapid.IntRange(50, 20000).Draw(t, "w"), rapid.IntRange(50, 20000).Draw(t, "h"), 1000, 700)
		f := rapid.Float64Range(0, 1)
		at := func() view.PicPt {
			w, h := v.Picture()
			return view.PicPt{X: float64(w) * f.Draw(t, "x"), Y: float64(h) * f.Draw(t, "y")}
		}
		a := v.ScaledTo(math.Exp2(8*f.Draw(t, "zoom")-6), at(), v.Middle())
		b := v.ScaledTo(math.Exp2(8*f.Draw(t, "zoom")-6), at(), v.Middle())
		share := f.Draw(t, "share")
		w := a.Between(b, share)
		if a.Between(b, 0) != a || a.Between(b, 1) != b {
			t.Fatal("the ends are not met")
		}
		if o := w.Offset(); o.X != math.Round(o.X) || o.Y != math.Round(o.Y) {
			t.Fatalf("offset %v is not whole", o)
		}
		if lo, hi := min(a.Scale(), b.Scale()), max(a.Scale(), b.Scale()); w.Scale() < lo*0.998 || w.Scale() > hi*1.002 {
			t.Fatalf("scale %v outside %v … %v", w.Scale(), lo, hi)
		}
		// What stands still at both ends stands still on the way.
		if a.Scale() == b.Scale() {
			return
		}
		k := b.Scale() / a.Scale()
		fx := (b.Offset().X - k*a.Offset().X) / (1 - k)
		fy := (b.Offset().Y - k*a.Offset().Y) / (1 - k)
		p := a.ToPicture(view.ScreenPt{X: fx, Y: fy})
		if d := w.ToScreen(p).Dist(view.ScreenPt{X: fx, Y: fy}); d > 1+1e-6*math.Hypot(fx, fy) {
			t.Fatalf("the fixed point moves by %v px", d)
		}
	})
}

// legScene is a scene with one leg.
func legScene() overlay.Scene {
	return overlay.Scene{Legs: []overlay.Leg{{ID: "a", From: view.PicPt{X: 400, Y: 400}, To: view.PicPt{X: 700, Y: 500}}}}
}

// A sheet that is darkened has its overlay drawn anew with the texts of the night, and
// is drawn for the day again when it is not.
func TestDarkenedSheetHasAnotherOverlay(t *testing.T) {
	r, _ := handRig(t)
	r.show(r.View().ScaledTo(1, view.PicPt{X: 600, Y: 500}, r.View().Middle()))
	s := legScene()
	s.Legs[0].Label = "056° mag"
	r.SetScene(s)
	r.until("overlay", r.Settled)
	day := slices.Clone(r.overlayLayer.have.Pix)
	look := func(night bool) []uint8 {
		r.pic.SetLook(pyramid.Look{Invert: night})
		for n := range r.pic.Levels() {
			r.PictureChanged(n)
		}
		r.until("overlay", func() bool { return r.Settled() && r.overlayLayer.shown.night == night })
		return slices.Clone(r.overlayLayer.have.Pix)
	}
	if night := look(true); slices.Equal(day, night) {
		t.Error("the overlay of the darkened sheet is that of the day")
	}
	if again := look(false); !slices.Equal(day, again) {
		t.Error("the overlay of the day does not come back")
	}
}

// A leg that was deleted is not seen again, not even for the moment in which the overlay
// of the next leg is drawn.
func TestADeletedLegIsNotShownAgain(t *testing.T) {
	r, _ := handRig(t)
	r.SetScene(legScene())
	r.until("overlay", r.Settled)
	r.SetScene(overlay.Scene{})
	r.until("no overlay", r.Settled)
	next := legScene()
	next.Legs[0].To = view.PicPt{X: 200, Y: 700}
	r.SetScene(next)
	if have := r.overlayLayer.have; have != nil {
		t.Error("the overlay of the deleted leg stands until the next one is drawn")
	}
}

// TestOverlayIsMovedByAPan: within its margin a pan uploads nothing, and the leg
// stands where the view says.
func TestOverlayIsMovedByAPan(t *testing.T) {
	r, _ := handRig(t)
	r.show(r.View().ScaledTo(1, view.PicPt{X: 600, Y: 500}, r.View().Middle()))
	r.SetScene(legScene())
	r.until("overlay", r.Settled)
	was := r.overlayLayer.have
	clock := r.movedAt
	r.now = func() time.Time { return clock } // no rest: the sheet keeps moving
	for range 9 {
		r.PanBy(-9, 7)
	}
	if r.overlayLayer.have != was || r.overlayLayer.busy {
		t.Error("a pan within the margin drew another overlay")
	}
	at := r.overlayLayer.img.Position()
	if want := r.frame.pos(-float64(r.overlayLayer.shown.margin)-81, -float64(r.overlayLayer.shown.margin)+63); at != want {
		t.Errorf("the overlay stands at %v, want %v", at, want)
	}
	r.PanBy(-40, 0)
	if !r.overlayLayer.busy {
		t.Error("beyond half the margin no other overlay is under way")
	}
}

// While scenes follow each other, as under a key that is held, overlays are small; the last
// scene has a whole one once it has stood for a while.
func TestOverlaysOfManyScenesAreSmall(t *testing.T) {
	r, _ := handRig(t)
	r.SetScene(legScene())
	r.until("overlay", r.Settled)
	whole := r.overlayLayer.have.Rect.Size()
	next := func(after time.Duration, want image.Point) {
		t.Helper()
		clock := r.sceneAt.Add(after)
		r.now = func() time.Time { return clock }
		r.SetScene(legScene())
		r.until("the next overlay", func() bool { return !r.overlayLayer.busy && r.overlayLayer.shown.scene == r.serial })
		if got := r.overlayLayer.have.Rect.Size(); got != want {
			t.Errorf("%v after the scene before, the overlay measures %v, want %v", after, got, want)
		}
	}
	small := whole.Sub(image.Pt(2*(layerMargin-zoomMargin), 2*(layerMargin-zoomMargin)))
	next(time.Second, whole)
	next(restGap/2, small)
	next(restGap/2, small)
	r.now = time.Now
	r.until("the whole overlay", func() bool { return r.overlayLayer.have.Rect.Size() == whole })
	next(time.Second, whole)
}

// TestMovedOverlayMatchesAFreshDrawing: an overlay moved by a pan shows, over the map
// area, what an overlay drawn there would show.
func TestMovedOverlayMatchesAFreshDrawing(t *testing.T) {
	r, _ := handRig(t)
	r.show(r.View().ScaledTo(1, view.PicPt{X: 600, Y: 500}, r.View().Middle()))
	r.SetScene(legScene())
	r.until("overlay", r.Settled)
	r.PanBy(-31, 17)
	w, h := r.View().Viewport()
	want := overlay.NewPainter().Paint(w, h, r.View(), r.frame.scale, r.scene)
	m := r.overlayLayer.shown.margin
	inked := 0
	for y := range h {
		for x := range w {
			got, wanted := r.overlayLayer.have.RGBAAt(x+m+31, y+m-17), want.RGBAAt(x, y)
			if got != wanted {
				t.Fatalf("at %d,%d the moved overlay shows %v, a fresh one %v", x, y, got, wanted)
			}
			if got.A > 0 {
				inked++
			}
		}
	}
	if inked < 500 {
		t.Errorf("only %d inked pixels compared", inked)
	}
}
