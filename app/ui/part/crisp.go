package part

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// Crisp sets how a picture that is drawn for its own size in pixels comes to
// the screen. At a whole display scale every pixel falls on one of the
// screen's, and the way all texts are drawn gives the same picture; a way of
// its own would cost a drawer without a graphics card about 50 ms at the first
// use. At other scales a side can be rounded to one pixel more or less, and
// smoothing would blur the figures: the nearest pixel is taken then.
func Crisp(r *canvas.Raster) {
	c := fyne.CurrentApp().Driver().CanvasForObject(r)
	if c == nil {
		return
	}
	mode := canvas.ImageScalePixels
	if s := float64(c.Scale()); s == math.Round(s) {
		mode = canvas.ImageScaleSmooth
	}
	if r.ScaleMode != mode {
		r.ScaleMode = mode
		r.Refresh()
	}
}
