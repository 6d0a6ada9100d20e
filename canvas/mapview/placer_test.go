package mapview

import (
	"image"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"legwright/canvas/view"
)

// countingApp stands between the toolkit and the test driver and counts what
// would be uploaded: a texture is thrown away, and made again with the next
// frame, exactly when its object is refreshed.
type countingApp struct {
	fyne.App
	d *countingDriver
}

func (a countingApp) Driver() fyne.Driver { return a.d }

type countingDriver struct {
	fyne.Driver
	canvas *countingCanvas
}

// CanvasForObject answers for the objects that are on the canvas only.
func (d *countingDriver) CanvasForObject(o fyne.CanvasObject) fyne.Canvas {
	if !d.canvas.holds[o] {
		return nil
	}
	return d.canvas
}

type countingCanvas struct {
	fyne.Canvas
	holds   map[fyne.CanvasObject]bool
	uploads int
	dirty   int
}

func (c *countingCanvas) Refresh(fyne.CanvasObject) { c.uploads++ }

// movable is a canvas that can also be marked as dirty.
type movable struct{ *countingCanvas }

func (m movable) SetDirty() { m.dirty++ }

func newCountingCanvas(t *testing.T, img *canvas.Raster) *countingCanvas {
	t.Helper()
	a := test.NewTempApp(t)
	c := &countingCanvas{Canvas: test.NewCanvas(), holds: map[fyne.CanvasObject]bool{img: true}}
	fyne.SetCurrentApp(countingApp{a, &countingDriver{a.Driver(), c}})
	return c
}

func TestPlaceUploadsNothing(t *testing.T) {
	img := rasterOf(canvas.ImageScaleFastest, func() *image.RGBA { return image.NewRGBA(image.Rect(0, 0, 8, 8)) })
	c := newCountingCanvas(t, img)
	for i := range 100 {
		pos, size := fyne.NewPos(float32(i), 2), fyne.NewSize(float32(50+i), 60)
		if !place(movable{c}, img, pos, size) {
			t.Fatal("the copied value was not used")
		}
		if img.Position() != pos || img.Size() != size {
			t.Fatalf("step %d: got %v %v, want %v %v", i, img.Position(), img.Size(), pos, size)
		}
	}
	if c.uploads != 0 {
		t.Errorf("%d uploads in 100 steps, want none: has the toolkit's Raster changed?", c.uploads)
	}
	if c.dirty != 100 {
		t.Errorf("told the canvas %d times that it is dirty, want 100", c.dirty)
	}
	place(movable{c}, img, img.Position(), img.Size())
	if c.dirty != 100 {
		t.Error("placing an image where it is made the canvas dirty")
	}
}

// TestPlaceFallsBack: without SetDirty the public way serves, with uploads.
func TestPlaceFallsBack(t *testing.T) {
	img := rasterOf(canvas.ImageScaleFastest, func() *image.RGBA { return image.NewRGBA(image.Rect(0, 0, 8, 8)) })
	c := newCountingCanvas(t, img)
	for i := range 10 {
		pos, size := fyne.NewPos(float32(i), 2), fyne.NewSize(float32(50+i), 60)
		if place(c, img, pos, size) {
			t.Fatal("claims to have used the copied value")
		}
		if img.Position() != pos || img.Size() != size {
			t.Fatalf("step %d: got %v %v, want %v %v", i, img.Position(), img.Size(), pos, size)
		}
	}
	if c.uploads != 10 {
		t.Errorf("%d uploads in 10 changes of size, want 10", c.uploads)
	}
}

// TestPublicResizeUploads is the reason for all this.
func TestPublicResizeUploads(t *testing.T) {
	img := rasterOf(canvas.ImageScaleFastest, func() *image.RGBA { return image.NewRGBA(image.Rect(0, 0, 8, 8)) })
	c := newCountingCanvas(t, img)
	img.Resize(fyne.NewSize(20, 20))
	if c.uploads != 1 {
		t.Errorf("Resize uploaded %d times, want 1; if it is 0, placer.go is no longer needed", c.uploads)
	}
}

// TestPanAndZoomUploadFewTiles counts over a whole map area: a pan uploads
// tiles that come into sight, once each, and a zoom within a level none.
func TestPanAndZoomUploadFewTiles(t *testing.T) {
	r := newRig(t, addressed(2000, 1600), 1, 700, 500, 10, 10, Callbacks{})
	r.show(r.View().ScaledTo(0.9, view.PicPt{X: 900, Y: 800}, r.View().Middle()))
	before := len(r.tileLayer.placed)
	r.show(r.View().ScaledTo(0.97, view.PicPt{X: 900, Y: 800}, r.View().Middle()))
	r.show(r.View().ScaledTo(0.93, view.PicPt{X: 900, Y: 800}, r.View().Middle()))
	if got := len(r.tileLayer.placed); got != before {
		t.Errorf("zooming within a level: %d tiles, was %d", got, before)
	}
	r.PanBy(-3, 2)
	r.settle()
	if got := len(r.tileLayer.placed); got > before+3 {
		t.Errorf("a pan of 3 px made %d tiles, was %d", got, before)
	}
}
