package mapview

import (
	"image"
	"image/color"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

// rig is a map area in a window of the test driver. Reports of workers wait
// in jobs until the test runs them.
type rig struct {
	*MapView
	t    *testing.T
	win  fyne.Window
	jobs chan func()
}

// newRig opens a window of w × h device-independent pixels at a display scale
// with the map area beside a strip of left and below one of top, which may be
// fractions.
func newRig(t *testing.T, img image.Image, scale, w, h, left, top float32, cb Callbacks) *rig {
	t.Helper()
	test.NewTempApp(t)
	win := test.NewTempWindow(t, nil)
	r := &rig{MapView: New(cb), t: t, win: win, jobs: make(chan func(), 64)}
	r.later = func(f func()) { r.jobs <- f }
	win.SetPadded(false)
	win.Canvas().(interface{ SetScale(float32) }).SetScale(scale)
	win.SetContent(container.NewBorder(gap(1, top), nil, gap(left, 1), nil, r.MapView))
	win.Resize(fyne.NewSize(w, h))
	if img != nil {
		p := pyramid.New(img, pyramid.Options{})
		t.Cleanup(p.Close)
		for n := range p.Levels() {
			if err := p.Wait(n); err != nil {
				t.Fatal(err)
			}
		}
		r.SetPicture(p)
		r.settle()
	}
	return r
}

func gap(w, h float32) fyne.CanvasObject {
	r := canvas.NewRectangle(color.Black)
	r.SetMinSize(fyne.NewSize(w, h))
	return r
}

// patience is how long a test waits for what must come. It only bounds a test that fails.
const patience = time.Minute

// settle waits until every tile in view is there.
func (r *rig) settle() {
	r.t.Helper()
	for r.Missing() > 0 {
		select {
		case f := <-r.jobs:
			f()
		case <-time.After(patience):
			r.t.Fatalf("%d tiles do not come", r.Missing())
		}
	}
}

// show sets the view and waits for its tiles.
func (r *rig) show(v view.View) {
	r.t.Helper()
	r.SetView(v)
	r.settle()
}

// shot is the map area as painted, its corner at (0, 0).
func (r *rig) shot() *image.NRGBA {
	whole := r.win.Canvas().Capture().(*image.NRGBA)
	x, y := int(r.frame.snap(r.frame.origin.X)), int(r.frame.snap(r.frame.origin.Y))
	w, h := r.frame.pixels()
	out := image.NewNRGBA(image.Rect(0, 0, w, h))
	for row := range h {
		copy(out.Pix[row*out.Stride:][:4*w], whole.Pix[whole.PixOffset(x, y+row):])
	}
	return out
}

// chosen reports whether a test looks at the case that stands at these positions of the
// lists it goes through. A short run, as under the race detector, looks at one of so many
// cases of the last list, and at other ones for each entry of the lists before; any other
// run looks at all.
func chosen(oneOf int, at ...int) bool {
	sum := 0
	for _, i := range at {
		sum += i
	}
	return !testing.Short() || sum%oneOf == 0
}

// addressed is a picture whose pixels carry their own address. Nobody may change it: all
// tests share that of a size.
func addressed(w, h int) *image.RGBA {
	if img, ok := made.Load(image.Pt(w, h)); ok {
		return img.(*image.RGBA)
	}
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	row := make([]uint8, 0, img.Stride)
	for y := range h {
		row = row[:0]
		for x := range w {
			row = append(row, uint8(x), uint8(y), uint8(x>>8|y>>8<<4), 0xff)
		}
		copy(img.Pix[y*img.Stride:], row)
	}
	made.Store(image.Pt(w, h), img)
	return img
}

// made are the pictures of addressed, by their size.
var made sync.Map

// addressOf reads it back.
func addressOf(c color.NRGBA) (x, y int) {
	return int(c.R) | int(c.B&15)<<8, int(c.G) | int(c.B>>4)<<8
}
