package widgets

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// Crisp sets, while r draws itself, how its picture comes to the screen. A
// picture of as many pixels as it has on the screen is the same whether it is
// smoothed or not, and then it goes the way of all texts: a way of its own
// costs a drawer without a graphics card some 50 ms at its first use. At odd
// display scales a side may be rounded to a pixel more or less than was drawn;
// smoothing would blur the figures, and the nearest pixel is taken.
func Crisp(r *canvas.Raster) {
	c := fyne.CurrentApp().Driver().CanvasForObject(r)
	if c == nil {
		return
	}
	mode := canvas.ImageScalePixels
	if s := r.Size(); whole(s.Width*c.Scale()) && whole(s.Height*c.Scale()) {
		mode = canvas.ImageScaleSmooth
	}
	if r.ScaleMode != mode {
		r.ScaleMode = mode
		r.Refresh()
	}
}

// whole says whether a side has no part of a pixel, as far as single precision
// tells.
func whole(px float32) bool { return math.Abs(float64(px)-math.Round(float64(px))) < 1e-3 }

// wholePixels is a size without the part of a pixel that its sides may end with: a picture of
// such a size comes to the screen pixel for pixel wherever it stands.
func wholePixels(s fyne.Size, scale float32) fyne.Size {
	cut := func(v float32) float32 { return float32(math.Floor(float64(v*scale)+1e-3)) / scale }
	return fyne.NewSize(cut(s.Width), cut(s.Height))
}
