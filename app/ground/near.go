package ground

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"github.com/peterstace/simplefeatures/geom"

	"legwright/app/geodesy"
)

// Near is where a leg comes nearest to a shape.
type Near struct {
	DistM  float64      // 0 where the leg meets it, infinite from an empty shape
	AlongM float64      // from the leg's start to there
	At     geodesy.Grid // on the leg
}

// Nearest returns where the straight leg from a to b comes nearest to the shape, the
// first such position.
func (s Shape) Nearest(a, b geodesy.Grid) Near { return s.nearest(a, b, s.Meets(a, b)) }

// nearest is Nearest where the parts of the leg that meet the shape are known.
func (s Shape) nearest(a, b geodesy.Grid, spans []Span) Near {
	from, to := orbPoint(a), orbPoint(b)
	if len(spans) > 0 {
		return nearAt(0, spans[0].FromM, from, to)
	}
	best := Near{DistM: s.DistanceM(a), At: a}
	take := func(distM float64, at orb.Point) {
		if distM < best.DistM {
			best = nearAt(distM, planar.Distance(from, at), from, to)
		}
	}
	take(s.DistanceM(b), to)
	for _, p := range s.points {
		take(planar.DistanceFromSegment(from, to, p), foot(from, to, p))
	}
	return best
}

// LegM is how near the straight leg from a to b comes to the shape, 0 where it meets it,
// infinite from an empty shape, and how near its start lies, both in metres. Where they meet
// most of the time of Nearest goes into where.
func (s Shape) LegM(a, b geodesy.Grid) (distM, startM float64) {
	from, to := orbPoint(a), orbPoint(b)
	startM = s.DistanceM(a)
	if s.meet(from, to) {
		return 0, startM
	}
	distM = min(startM, s.DistanceM(b))
	for _, p := range s.points {
		distM = min(distM, planar.DistanceFromSegment(from, to, p))
	}
	return distM, startM
}

// meet reports whether a leg meets the shape.
func (s Shape) meet(from, to orb.Point) bool {
	switch {
	case s.Empty() || !s.bound.Intersects(orb.MultiPoint{from, to}.Bound()):
		return false
	case from == to:
		return s.DistanceM(gridOf(from)) == 0
	}
	return geom.Intersects(legOf(from, to), s.geom)
}

func legOf(from, to orb.Point) geom.Geometry {
	return lineString(orb.LineString{from, to}).AsGeometry()
}

func nearAt(distM, alongM float64, from, to orb.Point) Near {
	n := Near{DistM: distM, AlongM: alongM, At: gridOf(from)}
	if whole := planar.Distance(from, to); whole > 0 {
		t := alongM / whole
		n.At = geodesy.Grid{E: from[0] + t*(to[0]-from[0]), N: from[1] + t*(to[1]-from[1])}
	}
	return n
}

// foot is the point of the segment from a to b that is nearest to p.
func foot(a, b, p orb.Point) orb.Point {
	dx, dy := b[0]-a[0], b[1]-a[1]
	square := dx*dx + dy*dy
	if square == 0 {
		return a
	}
	t := min(max(((p[0]-a[0])*dx+(p[1]-a[1])*dy)/square, 0), 1)
	return orb.Point{a[0] + t*dx, a[1] + t*dy}
}

// Span is a part of a leg, in metres from its start; a crossing of a line has no length.
type Span struct{ FromM, ToM float64 }

// LengthM is how long the part is, in metres.
func (s Span) LengthM() float64 { return s.ToM - s.FromM }

// Meets returns the parts of the straight leg from a to b that lie in an area or on its
// border, or on a line, in order.
func (s Shape) Meets(a, b geodesy.Grid) []Span {
	from, to := orbPoint(a), orbPoint(b)
	if !s.meet(from, to) {
		return nil
	}
	if from == to {
		return []Span{{}}
	}
	parts, err := geom.Intersection(legOf(from, to), s.geom)
	spans := spansOf(from, parts)
	if err != nil || len(spans) == 0 {
		return []Span{{0, planar.Distance(from, to)}} // they meet, and nobody knows where
	}
	slices.SortFunc(spans, func(x, y Span) int { return cmp.Compare(x.FromM, y.FromM) })
	return spans
}

// spansOf are the parts of an intersection with a leg that starts at from.
func spansOf(from orb.Point, parts geom.Geometry) (out []Span) {
	for _, part := range parts.Dump() {
		at := part.DumpCoordinates()
		if at.Length() == 0 {
			continue
		}
		var span Span
		for i := range at.Length() {
			xy := at.GetXY(i)
			m := planar.Distance(from, orb.Point{xy.X, xy.Y})
			if i == 0 {
				span = Span{m, m}
			}
			span.FromM, span.ToM = min(span.FromM, m), max(span.ToM, m)
		}
		out = append(out, span)
	}
	return out
}
