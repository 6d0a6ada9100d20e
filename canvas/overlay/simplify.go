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
