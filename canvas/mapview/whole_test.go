package mapview

import (
	"image"
	"image/color"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"

	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

// wholeRig is a map area with its panel in one window.
func wholeRig(t *testing.T) (*rig, *Whole) {
	r := newRig(t, nil, 1, 900, 500, 10, 10, Callbacks{})
	w := NewWhole(r.MapView)
	r.win.SetContent(container.NewBorder(nil, nil, container.NewGridWrap(fyne.NewSize(200, 160), w), nil, r.MapView))
	r.win.Resize(fyne.NewSize(900, 500))
	p := pyramid.New(addressed(1300, 1100), pyramid.Options{OnChange: func(int) {}})
	t.Cleanup(p.Close)
	for n := range p.Levels() {
		if err := p.Wait(n); err != nil {
			t.Fatal(err)
		}
	}
	r.SetPicture(p)
	r.settle()
	r.until("picture of the whole sheet", func() bool { return w.drawn == p })
	return r, w
}

func TestWholeFollowsAndMovesTheView(t *testing.T) {
	r, w := wholeRig(t)
	pic := w.have
	r.show(r.View().ScaledTo(2, view.PicPt{X: 650, Y: 550}, r.View().Middle()))
	at, size := w.place()
	// The frame is the map area: its corner is the picture position at (0, 0).
	p := r.View().ToPicture(view.ScreenPt{})
	want := fyne.NewPos(at.X+float32(p.X)*size.Width/1300, at.Y+float32(p.Y)*size.Height/1100)
	if got := w.frame[4].Position1; abs(got.X-want.X) > 0.01 || abs(got.Y-want.Y) > 0.01 {
		t.Errorf("the frame begins at %v, want %v", got, want)
	}
	press := fyne.NewPos(at.X+size.Width*0.75, at.Y+size.Height*0.25)
	w.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: press}, Button: left})
	if got := r.View().ToPicture(r.View().Middle()); got.Dist(view.PicPt{X: 975, Y: 275}) > 1 {
		t.Errorf("a press shows %v in the middle, want 975, 275", got)
	}
	w.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(-50, 9999)}})
	if got := r.View().ToPicture(r.View().Middle()); got.Dist(view.PicPt{X: 0, Y: 1100}) > 1 {
		t.Errorf("a drag beyond the panel shows %v in the middle, want the corner 0, 1100", got)
	}
	before := r.View().Offset()
	w.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	vw, _ := r.View().Viewport()
	if got := before.X - r.View().Offset().X; got < float64(vw)/4-1 || got > float64(vw)/4+1 {
		t.Errorf("the arrow moved the view by %v px, want a quarter of %d", got, vw)
	}
	if w.have != pic {
		t.Error("moving the view drew the sheet anew")
	}
}

func abs(v float32) float32 { return max(v, -v) }

func TestWholeShowsTheLook(t *testing.T) {
	r, w := wholeRig(t)
	mid := func() color.RGBA {
		img := w.have
		return img.RGBAAt(img.Rect.Dx()/3, img.Rect.Dy()/3)
	}
	was := mid()
	r.pic.SetLook(pyramid.Look{Invert: true})
	for n := range r.pic.Levels() {
		r.PictureChanged(n)
	}
	r.until("inverted panel", func() bool { return !w.drawing && !w.stale })
	got := mid()
	lightness := func(c color.RGBA) int { return int(max(c.R, c.G, c.B)) + int(min(c.R, c.G, c.B)) } // twice HSL's
	if d := lightness(got) + lightness(was) - 2*255; d < -4 || d > 4 {
		t.Errorf("inverted %v, was %v: their lightness does not add up to all", got, was)
	}
	r.SetPicture(nil)
	if w.have != nil || w.edge.Visible() && w.frame[0].Visible() {
		t.Error("the panel still shows a sheet that is gone")
	}
}

// TestOldTilesStayUntilTheNewOnesAreThere changes the look of a sheet that is
// shown: no frame has a hole, and in the end every tile shows the new look.
func TestOldTilesStayUntilTheNewOnesAreThere(t *testing.T) {
	for _, turn := range []float64{0, 0.4} {
		r := newRig(t, addressed(1300, 1100), 1, 700, 500, 10, 10, Callbacks{})
		r.show(r.View().RotateTo(turn, r.View().Middle()))
		shown := len(r.tiles)
		r.pic.SetLook(pyramid.Look{Invert: true})
		for n := range r.pic.Levels() {
			r.PictureChanged(n)
		}
		r.placed()
		if got := len(r.tiles); got < shown || r.Missing() == 0 {
			t.Errorf("turn %v: %d tiles after the change, were %d; %d missing", turn, got, shown, r.Missing())
		}
		r.settle()
		x, y := 350, 250
		v := r.View()
		p := v.ToPicture(view.ScreenPt{X: float64(x) + 0.5, Y: float64(y) + 0.5})
		shot := r.shot().NRGBAAt(x, y)
		if want := 255 - uint8(int(p.X)); turn == 0 && v.Scale() == 1 && shot.R != want {
			t.Errorf("turn %v: column %v shows red %d, want %d", turn, p.X, shot.R, want)
		}
		for k, p := range r.tileLayer.placed {
			if p.used == r.tileLayer.round && p.stale {
				t.Errorf("turn %v: tile %v still shows the old look", turn, k)
			}
		}
	}
}

// TestPendingPicture: a sheet of which only a preview is known is shown by
// it, and by itself as soon as it is there.
func TestPendingPicture(t *testing.T) {
	r := newRig(t, nil, 1, 700, 500, 10, 10, Callbacks{})
	img := addressed(1300, 1100)
	grey := image.NewGray(image.Rect(0, 0, 650, 550))
	for i := range grey.Pix {
		grey.Pix[i] = 77
	}
	p := pyramid.NewPending(img.Rect.Size(), pyramid.Options{OnChange: func(n int) {
		r.later(func() { r.PictureChanged(n) })
	}})
	t.Cleanup(p.Close)
	r.SetPicture(p)
	r.OneToOne()
	if r.Missing() == 0 {
		t.Error("nothing is missing from a sheet without pixels")
	}
	p.Preview(1, grey)
	r.PictureChanged(1)
	r.until("preview", func() bool { return len(r.tiles) > 0 && r.shot().NRGBAAt(350, 250).R == 77 })
	if r.Missing() == 0 {
		t.Error("a preview at half size passes for the sheet at full size")
	}
	go p.Fill(img)
	r.until("sheet", func() bool { return r.Missing() == 0 && p.Ready(0) })
	v := r.View()
	c := v.ToPicture(view.ScreenPt{X: 350.5, Y: 250.5})
	x, y := addressOf(r.shot().NRGBAAt(350, 250))
	if x != int(c.X) || y != int(c.Y) {
		t.Errorf("the pixel %v shows %d,%d", c, x, y)
	}
}
