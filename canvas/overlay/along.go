package overlay

import (
	"math"

	"legwright/canvas/view"
)

const (
	// lift is how far the middle of a text lies beside its line, liveLift the
	// same for the larger figures of a line being dragged, and shy how far the
	// near end stays from the target, in device-independent pixels.
	lift     = 13
	liveLift = 16
	shy      = 22
)

// along is where a text of the given width, in pixels, is written along the
// line from a to b: its middle and its angle, read from left to right. It lies
// over the middle of the part that is seen, beside the line, and its end never
// comes nearer to the target b than shy; lift is the distance from the line to
// the middle of the text. On a line shorter than the text it
// runs back beyond a.
func along(a, b view.ScreenPt, width, lift, px float64, w, h int) (mid view.ScreenPt, angle float64) {
	dx, dy := b.X-a.X, b.Y-a.Y
	length := math.Hypot(dx, dy)
	if length < 1e-6 {
		return a.Add(0, -2*lift*px), 0
	}
	ux, uy := dx/length, dy/length
	whole := paper{img: blank(w, h), y1: h}
	t0, t1, ok := whole.span(a, b, 0)
	if !ok {
		t0, t1 = 0, 1
	}
	s := min((t0+t1)/2*length, length-shy*px-width/2)
	mid = view.ScreenPt{X: a.X + s*ux, Y: a.Y + s*uy}
	angle = math.Atan2(dy, dx)
	if ux < 0 || (ux == 0 && uy > 0) {
		angle = math.Atan2(-dy, -dx)
		ux, uy = -ux, -uy
	}
	return mid.Add(uy*lift*px, -ux*lift*px), angle
}
