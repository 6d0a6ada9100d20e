package overlay

import (
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/simplify"

	"legwright/canvas/view"
)

// trackSlackPx is how far a thinned track may stray from the recorded one, in
// picture pixels: less than can be seen at the scale of the picture.
const trackSlackPx = 0.25

// thinned returns a line with as few of its points as keep it within
// trackSlackPx of where it was (Douglas and Peucker 1973, by orb). The ends
// stay. Receivers record a point a second, most of them on a straight line.
func thinned(points []view.PicPt) []view.PicPt {
	line := make(orb.LineString, len(points))
	for i, p := range points {
		line[i] = orb.Point{p.X, p.Y}
	}
	line = simplify.DouglasPeucker(trackSlackPx).LineString(line) // line is our own copy: it is written into
	out := make([]view.PicPt, len(line))
	for i, p := range line {
		out[i] = view.PicPt{X: p[0], Y: p[1]}
	}
	return out
}

// waySlackPx is how far a way on the screen may be drawn from where it lies, device-independent
// pixels: less than anybody sees of lines several pixels wide.
const waySlackPx = 0.5

// seenWay is a way with only those of its points that are seen on the screen, px of whose pixels
// go to a device-independent one. Each piece costs two round ends, however short it is.
func seenWay(way []view.ScreenPt, px float64) []view.ScreenPt {
	if len(way) <= 4 {
		return way
	}
	line := make(orb.LineString, len(way))
	for i, p := range way {
		line[i] = orb.Point{p.X, p.Y}
	}
	line = simplify.DouglasPeucker(waySlackPx * px).LineString(line) // line is our own copy: it is written into
	out := make([]view.ScreenPt, len(line))
	for i, p := range line {
		out[i] = view.ScreenPt{X: p[0], Y: p[1]}
	}
	return out
}
