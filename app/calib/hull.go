package calib

import (
	"cmp"
	"math"
	"slices"
)

// hull is the convex hull of control points in the picture, in order around it.
type hull []PicturePt

// Hull returns the convex hull of the control points in the picture, in order,
// with the inside where (b − a) × (p − a) is positive, column to the right and
// row downwards; two points where they lie on one line, none for a given matrix.
func (c *Calibration) Hull() []PicturePt {
	if len(c.points) == 0 {
		return nil
	}
	return hullOf(c.points)
}

// hullOf builds the hull by Andrew's monotone chain (Information Processing
// Letters 9, 1979).
func hullOf(points []ControlPoint) hull {
	at := make([]PicturePt, len(points))
	for i, p := range points {
		at[i] = p.At
	}
	slices.SortFunc(at, func(a, b PicturePt) int {
		return cmp.Or(cmp.Compare(a.Col, b.Col), cmp.Compare(a.Row, b.Row))
	})
	lower := chain(at)
	slices.Reverse(at)
	upper := chain(at)
	return append(lower[:len(lower)-1], upper[:len(upper)-1]...)
}

func chain(at []PicturePt) hull {
	var out hull
	for _, p := range at {
		for len(out) > 1 && cross(out[len(out)-2], out[len(out)-1], p) <= 0 {
			out = out[:len(out)-1]
		}
		out = append(out, p)
	}
	return out
}

func cross(a, b, p PicturePt) float64 {
	return (b.Col-a.Col)*(p.Row-a.Row) - (b.Row-a.Row)*(p.Col-a.Col)
}

// outside returns how far p lies outside the hull in pixels, 0 inside.
func (h hull) outside(p PicturePt) float64 {
	inside, best := len(h) > 2, math.Inf(1) // two points, or a line of them, have no inside
	for i, a := range h {
		b := h[(i+1)%len(h)]
		inside = inside && cross(a, b, p) >= 0
		best = math.Min(best, toSegment(a, b, p))
	}
	if inside {
		return 0
	}
	return best
}

// span is the greatest distance between two corners of the hull, in pixels.
func (h hull) span() float64 {
	var most float64
	for i, a := range h {
		for _, b := range h[:i] {
			most = math.Max(most, pictureDistance(a, b))
		}
	}
	return most
}

// toSegment is the distance of p from the segment a to b.
func toSegment(a, b, p PicturePt) float64 {
	dc, dr := b.Col-a.Col, b.Row-a.Row
	l2 := dc*dc + dr*dr
	if l2 == 0 {
		return pictureDistance(a, p)
	}
	t := math.Max(0, math.Min(1, ((p.Col-a.Col)*dc+(p.Row-a.Row)*dr)/l2))
	return pictureDistance(PicturePt{a.Col + t*dc, a.Row + t*dr}, p)
}
