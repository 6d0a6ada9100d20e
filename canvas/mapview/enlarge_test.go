package mapview

import (
	"image"
	"image/color"
	"image/draw"
	"testing"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"legwright/canvas/overlay"
	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

// settleOverlay waits until the overlay is as it will stay.
func (r *rig) settleOverlay() {
	r.t.Helper()
	for !r.Settled() {
		(<-r.jobs)()
	}
}

// inked counts the pixels across a level line over white that are not white, where it is
// widest: between its dashes it is not seen.
func (r *rig) inked() (most int) {
	img := r.shot()
	for x := 100; x < img.Rect.Dx()-100; x++ {
		n := 0
		for y := 100; y < img.Rect.Dy()-100; y++ {
			if c := img.NRGBAAt(x, y); c != (color.NRGBA{0xff, 0xff, 0xff, 0xff}) {
				n++
			}
		}
		most = max(most, n)
	}
	return most
}

// TestEnlarge: a line is drawn as many times wider, and the sheet stays as it was.
func TestEnlarge(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 400, 400))
	draw.Draw(img, img.Rect, image.White, image.Point{}, draw.Src)
	r := newRig(t, img, 1, 400, 400, 0, 0, Callbacks{})
	r.SetScene(overlay.Scene{Sights: []overlay.Sight{{From: view.PicPt{X: 10, Y: 200}, To: view.PicPt{X: 390, Y: 200}, Selected: true}}})
	r.settleOverlay()
	before, was := r.inked(), r.View()
	r.Enlarge(3)
	r.settleOverlay()
	if got := r.inked(); before < 3 || got < 3*before-4 || got > 3*before+4 {
		t.Errorf("the line is %d pixels wide, and %d enlarged three times", before, got)
	}
	if r.View() != was {
		t.Error("the sheet moved")
	}
}

// TestTwoViewsOfOnePicture: each gets its tiles, in whatever order they ask, and closing
// one leaves the other its own.
func TestTwoViewsOfOnePicture(t *testing.T) {
	img := addressed(2600, 2100)
	r := newRig(t, nil, 1, 700, 500, 0, 0, Callbacks{})
	second := &rig{MapView: New(Callbacks{}), t: t, win: test.NewTempWindow(t, nil), jobs: r.jobs}
	second.later = r.later
	second.win.SetPadded(false)
	second.win.SetContent(container.NewStack(second.MapView))
	p := pyramid.New(img, pyramid.Options{})
	t.Cleanup(p.Close)
	if err := p.WaitWhole(); err != nil {
		t.Fatal(err)
	}
	for _, v := range []*rig{r, second} {
		v.SetPicture(p)
	}
	for _, v := range []*rig{r, second} {
		v.SetView(v.View().OneToOne(v.View().Middle())) // other tiles in each, for the windows differ
		v.SetView(v.View().PanBy(-60, 40))
	}
	r.settle()
	second.settle()
	second.SetPicture(nil)
	r.SetView(r.View().PanBy(900, 900))
	r.settle()
	if v := second.View(); !v.IsZero() || second.Missing() != 0 {
		t.Errorf("the view without a picture misses %d tiles", second.Missing())
	}
}
