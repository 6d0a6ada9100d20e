package slips

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"legwright/app/calib"
)

// line is the points of one typed easting or northing.
type line struct {
	v      float64
	points []int
}

// lines adds the slips of printed lines of one of the figures: of each line by
// itself, of all points beyond it, and of what lies on the other side of either.
func (l *list) lines(axis int) {
	groups := l.grouped(axis)
	n := 0
	for _, g := range groups {
		n += len(g.points)
	}
	seen := map[string]int{}
	if n < len(l.Points) {
		l.besideFile(axis, groups, seen)
		return
	}
	if len(groups) < 2 {
		return
	}
	var beyond []int
	for i := len(groups) - 1; i >= 0; i-- {
		l.sides(axis, groups[i].points, seen)
		beyond = append(slices.Clone(groups[i].points), beyond...)
		if i > 0 {
			l.sides(axis, beyond, seen)
		}
	}
}

// besideFile adds the slips of lines where other points are a file's, which no line
// moves: so what lies on the other side of a line is not a slip that explains as much.
func (l *list) besideFile(axis int, groups []line, seen map[string]int) {
	var beyond, before []int
	for i := range groups {
		before = append(before, groups[i].points...)
		beyond = append(beyond, groups[len(groups)-1-i].points...)
		for _, points := range [][]int{groups[i].points, before, beyond} {
			points = slices.Sorted(slices.Values(points))
			l.side(axis, points, l.others(points), seen)
		}
	}
}

// others are the points that are not among those given.
func (l *list) others(points []int) []int {
	var rest []int
	for i, among := range l.among(points) {
		if among == 0 {
			rest = append(rest, i)
		}
	}
	return rest
}

// among says of every point whether it is one of those given: 1, else 0.
func (l *list) among(points []int) []byte {
	out := make([]byte, len(l.Points))
	for _, i := range points {
		out[i] = 1
	}
	return out
}

// grouped returns the lines in the order of their figures. Points of a file were not
// read off lines.
func (l *list) grouped(axis int) []line {
	var out []line
	for i, p := range l.Points {
		if p.Source == calib.FilePoint {
			continue
		}
		v, _ := l.c[i].figure(axis)
		near := onLine
		if l.c[i].LatLon {
			near = onLine / 1000
		}
		at := slices.IndexFunc(out, func(g line) bool { return math.Abs(g.v-v) <= near })
		if at < 0 {
			out, at = append(out, line{v: v}), len(out)
		}
		out[at].points = append(out[at].points, i)
	}
	slices.SortFunc(out, func(a, b line) int { return cmp.Compare(a.v, b.v) })
	return out
}

// sides adds the slips of some points and of all others, once each.
func (l *list) sides(axis int, points []int, seen map[string]int) {
	points = slices.Sorted(slices.Values(points))
	rest := l.others(points)
	a, b := l.side(axis, points, rest, seen), l.side(axis, rest, points, seen)
	if a > 0 && b > 0 {
		l.out[a-1].other, l.out[b-1].other = b, a
	}
}

// side adds the slip of some points, unless a single point has it already, and
// returns its family, counted from 1. The slip of all points but one is the likelier
// slip of that one seen from the other side; it is rare where more than four points
// say so.
func (l *list) side(axis int, points, rest []int, seen map[string]int) int {
	key := string(l.among(points))
	if at := seen[key]; at > 0 || len(points) < 2 {
		return at
	}
	step := l.step(l.c[points[0]])
	latLon := l.c[points[0]].LatLon
	l.add(Family{
		Kind: OfLine, Points: points, Unit: l.unit(axis, points), Sizes: []float64{step, -step, 10 * step, -10 * step},
		rare: len(rest) == 1 && len(l.Points) > 4,
		Words: func(size float64) string {
			subject, many := l.where(points, rest)
			return fmt.Sprintf("%s %s %s too far %s", subject, looks(many), l.length(size, latLon), compass(axis, size))
		},
	})
	seen[key] = len(l.out)
	return len(l.out)
}
