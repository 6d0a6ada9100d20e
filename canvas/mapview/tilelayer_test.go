package mapview

import (
	"maps"
	"slices"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

// TestTilesComeTogetherAtRest holds that tiles in memory all become textures
// at once on a sheet at rest, and a few a frame on one that moves.
func TestTilesComeTogetherAtRest(t *testing.T) {
	r := newRig(t, addressed(2300, 1600), 1, 2400, 1700, 10, 10, Callbacks{})
	now := time.Now()
	r.now = func() time.Time { return now }
	all := len(r.tileLayer.shown)
	if all < 2*freshTiles {
		t.Fatalf("the view has %d tiles, too few for this test", all)
	}
	for _, c := range []struct {
		name     string
		velocity velocity
		ago      time.Duration
		missing  int
	}{
		{"at rest", velocity{}, 0, 0},
		{"moving", velocity{dx: 300}, 0, all - freshTiles},
		{"moved some time ago", velocity{dx: 300}, velocityMemory + time.Millisecond, 0},
	} {
		r.closeTiles()
		r.velocity, r.movedAt = c.velocity, now.Add(-c.ago)
		r.placed()
		if r.Missing() != c.missing {
			t.Errorf("%s: %d of %d tiles are missing after the first frame, want %d", c.name, r.Missing(), all, c.missing)
		}
	}
}

// TestResizeIsNoMovement holds that a window of another size does not count as
// a move of the sheet.
func TestResizeIsNoMovement(t *testing.T) {
	r := newRig(t, addressed(1300, 1100), 1, 700, 500, 10, 10, Callbacks{})
	r.SetView(r.View().PanBy(5, 0))
	r.win.Resize(fyne.NewSize(600, 400))
	if d := r.velocityNow(); d != (velocity{}) {
		t.Errorf("after a resize the sheet drifts by %+v, want not at all", d)
	}
}

// TestTilesMadeAheadPaintNothing holds that tiles out of sight, when they
// come, do not have the window painted again, and that a change of the picture
// does.
func TestTilesMadeAheadPaintNothing(t *testing.T) {
	r := newRig(t, addressed(2300, 1600), 1, 700, 500, 10, 10, Callbacks{})
	run := func() {
		for len(r.jobs) > 0 {
			(<-r.jobs)()
		}
	}
	run()
	was := r.tileLayer.round
	r.tilesCame()
	run()
	if r.tileLayer.round != was {
		t.Errorf("tiles made ahead: %d placements, want none", r.tileLayer.round-was)
	}
	level, _ := r.View().Level()
	r.PictureChanged(level)
	run()
	if r.tileLayer.round == was {
		t.Error("a changed picture: no placement, want one")
	}
}

// TestDroppedTilesHoldNothing holds that a tile that has left the window keeps
// no pixels, upright and turned: the toolkit remembers its object for longer.
func TestDroppedTilesHoldNothing(t *testing.T) {
	r := newRig(t, addressed(2300, 1600), 1, 700, 500, 10, 10, Callbacks{})
	for _, c := range []struct {
		name string
		turn float64
	}{{"upright", 0}, {"turned", 0.4}} {
		r.show(r.View().RotateTo(c.turn, view.ScreenPt{}))
		shown := slices.Collect(maps.Values(r.tileLayer.placed))
		if len(shown) == 0 {
			t.Fatalf("%s: no tile was shown", c.name)
		}
		r.closeTiles()
		for _, p := range shown {
			if got := p.img.Generator(8, 8); !got.Bounds().Empty() {
				t.Errorf("%s: a dropped tile still holds %v", c.name, got.Bounds())
			}
		}
	}
}

// TestChangedTilesAreRefreshedOnTheirCanvas holds that tiles with other pixels are refreshed on the
// canvas that they are shown on. The toolkit no longer knows where one lies that was out of sight, and
// its old pixels would stay between new ones.
func TestChangedTilesAreRefreshedOnTheirCanvas(t *testing.T) {
	r := newRig(t, addressed(1300, 1100), 1, 700, 500, 10, 10, Callbacks{})
	r.pic.SetLook(pyramid.Look{Invert: true})
	for n := range r.pic.Levels() {
		r.tileLayer.change(n)
	}
	on := &refreshes{Canvas: r.win.Canvas(), of: map[fyne.CanvasObject]bool{}}
	came := make(chan struct{}, 64)
	for missing := 1; missing > 0; {
		if _, missing = r.tileLayer.show(nil, on, r.frame, r.View(), velocity{}, func() { came <- struct{}{} }); missing > 0 {
			<-came
		}
	}
	if len(r.tileLayer.shown) == 0 {
		t.Fatal("no tile is shown")
	}
	for _, k := range r.tileLayer.shown {
		if !on.of[r.tileLayer.placed[k].img] {
			t.Errorf("tile %v has other pixels and was not refreshed on the canvas", k)
		}
	}
}

// refreshes is a canvas that remembers what was refreshed on it.
type refreshes struct {
	fyne.Canvas
	of map[fyne.CanvasObject]bool
}

func (c *refreshes) Refresh(o fyne.CanvasObject) {
	c.of[o] = true
	c.Canvas.Refresh(o)
}
