package overlay

import (
	"image"
	"math"
	"slices"

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
	return shifted(a, b, width, 0, lift, px, w, h)
}

// shifted is along with the text moved toward a by so many pixels, or toward b
// where they are negative, though never beyond what is seen of the line or nearer to
// b than shy.
func shifted(a, b view.ScreenPt, width, back, lift, px float64, w, h int) (mid view.ScreenPt, angle float64) {
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
	least, most := t0*length+width/2, min(t1*length, length-shy*px)-width/2
	s := min((t0+t1)/2*length, length-shy*px-width/2)
	if most > least {
		s = min(max(s-back, least), most)
	}
	mid = view.ScreenPt{X: a.X + s*ux, Y: a.Y + s*uy}
	angle = math.Atan2(dy, dx)
	if ux < 0 || (ux == 0 && uy > 0) {
		angle = math.Atan2(-dy, -dx)
		ux, uy = -ux, -uy
	}
	return mid.Add(uy*lift*px, -ux*lift*px), angle
}

// place is where the text of the live line is written: its middle and its angle.
type place struct {
	mid   view.ScreenPt
	angle float64
}

// liveSpot is where a text of the given width, in pixels, is seen whole and clears
// the names and what is covered: close beside its line on either side, also nearer to
// one of the ends, else twice as far off, else level above or below the line. It clears
// both places of the names if it can, else the right ones, else names and not what is
// covered; where nothing clears those it is the first place at which it is seen whole.
func liveSpot(a, b view.ScreenPt, width, px float64, area image.Point, covered image.Rectangle, right, left []image.Rectangle) place {
	spots := liveSpots(a, b, width, px, area)
	under := []image.Rectangle{covered}
	for _, boxes := range [][]image.Rectangle{slices.Concat(under, right, left), slices.Concat(under, right), slices.Concat(right, left), right} {
		for _, s := range spots {
			if !covers(s.mid, s.angle, width, setSize*px, boxes) {
				return s
			}
		}
	}
	if len(spots) > 0 {
		return spots[0]
	}
	mid, angle := along(a, b, width, liveLift, px, area.X, area.Y)
	return place{mid, angle}
}

// liveSpots lists where a text is seen whole, the best first.
func liveSpots(a, b view.ScreenPt, width, px float64, area image.Point) []place {
	var out []place
	for _, lift := range [...]float64{liveLift, 2 * liveLift} {
		for _, back := range [...]float64{0, 0.5, -0.5, 1, -1} {
			for _, side := range [...]float64{lift, -lift} {
				mid, angle := shifted(a, b, width, back*width, side, px, area.X, area.Y)
				if within(mid, angle, width, px, area) {
					out = append(out, place{mid, angle})
				}
			}
		}
	}
	return append(out, level(a, b, width, px, area)...)
}

// within reports whether a text of the live line with its middle at mid is seen
// whole in the area.
func within(mid view.ScreenPt, angle, width, px float64, area image.Point) bool {
	sin, cos := math.Sincos(angle)
	reach := setSize * px / 2
	x, y := math.Abs(cos)*width/2+math.Abs(sin)*reach, math.Abs(sin)*width/2+math.Abs(cos)*reach
	return mid.X >= x && mid.Y >= y && mid.X+x <= float64(area.X) && mid.Y+y <= float64(area.Y)
}

// level lists where a text of the live line is written level, above both ends of the
// line or below them, and seen whole: for short lines near an edge, along which a
// part of it would not be seen.
func level(a, b view.ScreenPt, width, px float64, area image.Point) []place {
	var out []place
	half := width/2 + gap*px
	x := math.Min(math.Max(a.X, half), float64(area.X)-half)
	for _, y := range [...]float64{math.Min(a.Y, b.Y) - 2*liveLift*px, math.Max(a.Y, b.Y) + 2*liveLift*px} {
		if mid := (view.ScreenPt{X: x, Y: y}); within(mid, 0, width+2*gap*px, px, area) {
			out = append(out, place{mid, 0})
		}
	}
	return out
}
