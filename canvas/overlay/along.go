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
	whole := strip{img: blank(w, h), y1: h}
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

// place is where the text of the live line is written: its middle, its angle, and whether
// other words stand there.
type place struct {
	mid   view.ScreenPt
	angle float64
	over  bool
}

// liveSpot is where a text of the given width, in pixels, is seen whole, clears what is
// covered and the norths, and lies over the least of the names: close beside its line on
// either side, also nearer to one of the ends, else twice as far off, else level beyond one
// of its ends. Where nothing clears what is covered and the norths, it is the first place at
// which the text is seen whole; but with something covered, under which half a figure would
// be misread, there is none.
func liveSpot(a, b view.ScreenPt, width, px float64, area image.Point, by Beside) (place, bool) {
	spots := liveSpots(a, b, width, px, area)
	best, fewest := -1, 0
	for i, s := range spots {
		over := func(boxes ...image.Rectangle) int { return covers(s.mid, s.angle, width, setSize*px, boxes) }
		if over(by.Covered)+over(by.Norths...) > 0 {
			continue
		}
		if n := over(by.Named...); best < 0 || n < fewest {
			best, fewest = i, n
			spots[i].over = n > 0
		}
		if fewest == 0 {
			break
		}
	}
	switch {
	case best >= 0:
		return spots[best], true
	case len(spots) > 0:
		return spots[0].overWords(width, px, by), by.Covered.Empty()
	}
	mid, angle := along(a, b, width, liveLift, px, area.X, area.Y)
	return place{mid: mid, angle: angle}.overWords(width, px, by), by.Covered.Empty()
}

// overWords says whether other words stand where a text is written.
func (p place) overWords(width, px float64, by Beside) place {
	p.over = covers(p.mid, p.angle, width, setSize*px, by.Named)+covers(p.mid, p.angle, width, setSize*px, by.Norths) > 0
	return p
}

// liveSpots lists where a text is seen whole, the best first.
func liveSpots(a, b view.ScreenPt, width, px float64, area image.Point) []place {
	var out []place
	for _, lift := range [...]float64{liveLift, 2 * liveLift} {
		for _, back := range [...]float64{0, 0.5, -0.5, 1, -1} {
			for _, side := range [...]float64{lift, -lift} {
				mid, angle := shifted(a, b, width, back*width, side, px, area.X, area.Y)
				if within(mid, angle, width, px, area) {
					out = append(out, place{mid: mid, angle: angle})
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

// level lists where a text of the live line is written level and seen whole, above
// the upper end of the line, below the lower one, or outside the left or the right
// one: for short lines near an edge, along which a part of it would not be seen, and
// where names leave no room along the line.
func level(a, b view.ScreenPt, width, px float64, area image.Point) []place {
	var out []place
	half := width/2 + gap*px
	add := func(x, y float64) {
		x = math.Min(math.Max(x, half), float64(area.X)-half)
		mid := view.ScreenPt{X: x, Y: y}
		if within(mid, 0, width+2*gap*px, px, area) && covers(mid, 0, width, setSize*px, around(b, shy*px/2)) == 0 {
			out = append(out, place{mid: mid})
		}
	}
	upper, lower, left, right := a, b, a, b
	if a.Y > b.Y {
		upper, lower = b, a
	}
	if a.X > b.X {
		left, right = b, a
	}
	for _, off := range [...]float64{1.4 * liveLift * px, 2 * liveLift * px, 3 * liveLift * px, 4 * liveLift * px} {
		for _, side := range [...]float64{0, 1, -1} {
			add(upper.X+side*half, upper.Y-off)
			add(lower.X+side*half, lower.Y+off)
		}
	}
	add(right.X+half+shy*px, right.Y)
	add(left.X-half-shy*px, left.Y)
	return out
}

// around is the square that reaches half pixels from a point to each side.
func around(p view.ScreenPt, half float64) []image.Rectangle {
	return []image.Rectangle{image.Rect(int(p.X-half), int(p.Y-half), int(p.X+half)+1, int(p.Y+half)+1)}
}
