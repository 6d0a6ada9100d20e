package mapview

import (
	"math"

	"fyne.io/fyne/v2"

	"legwright/canvas/view"
)

// paintOffset is how the canvas appears in the window. The toolkit rounds the
// canvas up to whole device-independent pixels and paints it from the lower
// left corner, so at display scales other than 1 it may be some pixels larger
// than the window: what is painted then stands up to scale pixels too high and
// is stretched by less than one. The zero value is plain, as in tests.
type paintOffset struct {
	kx, ky float64 // canvas pixels a window pixel, less 1
	rise   float64 // by how many pixels the canvas stands too high
}

// toCanvas takes a point of the window to the point of the canvas seen there.
func (g paintOffset) toCanvas(p view.ScreenPt) view.ScreenPt {
	return view.ScreenPt{X: p.X * (1 + g.kx), Y: (p.Y + g.rise) * (1 + g.ky)}
}

// paintOffsetOf compares the canvas with the window's real size in pixels.
func paintOffsetOf(c fyne.Canvas, scale float64, winW, winH int) paintOffset {
	size := c.Size()
	tex := scale / float64(c.Scale())
	extent := func(dip float32) (painted, meant float64) {
		return math.Trunc(math.Ceil(float64(dip*c.Scale())) * tex), float64(dip) * scale
	}
	w, wm := extent(size.Width)
	h, hm := extent(size.Height)
	if w < 1 || h < 1 || math.Abs(w-float64(winW)) > 2*scale || math.Abs(h-float64(winH)) > 2*scale {
		return paintOffset{} // not this window, or in the middle of a resize
	}
	return paintOffset{kx: wm/w - 1, ky: hm/h - 1, rise: h - float64(winH)}
}
