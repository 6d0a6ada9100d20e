package overlay

import (
	"image"
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

// seenWhole is along for the live line: where a part of the text would not be
// seen it lies on the line's other side, or else level.
func seenWhole(a, b view.ScreenPt, width, lift, px float64, area image.Point) (mid view.ScreenPt, angle float64) {
	for _, side := range [...]float64{lift, -lift} {
		if mid, angle = along(a, b, width, side, px, area.X, area.Y); within(mid, angle, width, px, area) {
			return mid, angle
		}
	}
	if mid, ok := level(a, b, width, px, area); ok {
		return mid, 0
	}
	return along(a, b, width, lift, px, area.X, area.Y)
}

// within reports whether a text of the live line with its middle at mid is seen
// whole in the area.
func within(mid view.ScreenPt, angle, width, px float64, area image.Point) bool {
	sin, cos := math.Sincos(angle)
	reach := setSize * px / 2
	x, y := math.Abs(cos)*width/2+math.Abs(sin)*reach, math.Abs(sin)*width/2+math.Abs(cos)*reach
	return mid.X >= x && mid.Y >= y && mid.X+x <= float64(area.X) && mid.Y+y <= float64(area.Y)
}

// level is the middle of a text of the live line that is written level, above
// both ends of the line or, where there is no room, below them: for short lines
// near an edge, along which a part of it would not be seen. It is not ok where
// the area is too small.
func level(a, b view.ScreenPt, width, px float64, area image.Point) (mid view.ScreenPt, ok bool) {
	half := width/2 + gap*px
	x := math.Min(math.Max(a.X, half), float64(area.X)-half)
	for _, y := range [...]float64{math.Min(a.Y, b.Y) - 2*liveLift*px, math.Max(a.Y, b.Y) + 2*liveLift*px} {
		mid = view.ScreenPt{X: x, Y: y}
		if within(mid, 0, width+2*gap*px, px, area) {
			return mid, true
		}
	}
	return mid, false
}
