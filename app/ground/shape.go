package ground

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"github.com/peterstace/simplefeatures/geom"

	"legwright/app/geodesy"
)

// Shape is an area, a line or a point on one grid. The zero Shape is nowhere.
type Shape struct {
	points []orb.Point // without the first one again at the end of an outline
	line   orb.LineString
	ring   orb.Ring // of an area, else nil
	bound  orb.Bound
	geom   geom.Geometry
}

// Area is the shape within an outline of at least three points, its border with it.
func Area(outline []geodesy.Grid) Shape {
	if len(outline) < 3 {
		return Line(outline)
	}
	s := Shape{points: orbPoints(outline)}
	s.ring = closed(s.points)
	s.line, s.bound = orb.LineString(s.ring), s.ring.Bound()
	s.geom = geom.NewPolygon([]geom.LineString{lineString(s.line)}).AsGeometry()
	return s
}

// Line is the shape of a line through points; of one point it is that point.
func Line(points []geodesy.Grid) Shape {
	s := Shape{points: orbPoints(points)}
	s.line, s.bound = orb.LineString(s.points), orb.MultiPoint(s.points).Bound()
	switch {
	case len(points) == 0:
	case s.LengthM() == 0:
		s.line = orb.LineString{s.points[0], s.points[0]} // orb measures from segments
		s.geom = geom.NewPointXY(s.points[0][0], s.points[0][1]).AsGeometry()
	default:
		s.geom = lineString(s.line).AsGeometry()
	}
	return s
}

// Empty reports whether the shape is nowhere.
func (s Shape) Empty() bool { return len(s.points) == 0 }

// LengthM is the length of the line, or around the area, in metres.
func (s Shape) LengthM() float64 { return planar.Length(s.line) }

// Contains reports whether a position lies in an area or on its border; never for a line.
func (s Shape) Contains(at geodesy.Grid) bool {
	p := orbPoint(at)
	return s.ring != nil && s.bound.Contains(p) && planar.RingContains(s.ring, p)
}

// DistanceM is how far a position lies from the shape, 0 within an area, in metres;
// infinite from an empty shape.
func (s Shape) DistanceM(at geodesy.Grid) float64 {
	switch {
	case s.Empty():
		return math.Inf(1)
	case s.Contains(at):
		return 0
	}
	return planar.DistanceFrom(s.line, orbPoint(at))
}

func orbPoint(g geodesy.Grid) orb.Point { return orb.Point{g.E, g.N} }

func gridOf(p orb.Point) geodesy.Grid { return geodesy.Grid{E: p[0], N: p[1]} }

func orbPoints(list []geodesy.Grid) []orb.Point {
	out := make([]orb.Point, len(list))
	for i, g := range list {
		out[i] = orbPoint(g)
	}
	return out
}

// closed is the outline that comes back to its first point.
func closed(points []orb.Point) orb.Ring {
	return append(append(orb.Ring{}, points...), points[0])
}

func lineString(l orb.LineString) geom.LineString {
	flat := make([]float64, 0, 2*len(l))
	for _, p := range l {
		flat = append(flat, p[0], p[1])
	}
	return geom.NewLineStringXY(flat...)
}
