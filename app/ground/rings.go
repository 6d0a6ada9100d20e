package ground

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// RingsOf are the border of an area and its holes as Rings finds them, without the slits; the
// outline alone without holes. at is where a point lies.
func RingsOf[P any](outline []P, at func(P) orb.Point) [][]P {
	list := make([]orb.Point, len(outline))
	for i, p := range outline {
		list[i] = at(p)
	}
	return OnRings(outline, Rings(list))
}

// OnRings are the points of each ring, by the numbers that Rings gave.
func OnRings[P any](outline []P, rings []int) [][]P {
	if rings == nil {
		return [][]P{outline}
	}
	out := make([][]P, slices.Max(rings)+1)
	for i, n := range rings {
		out[n] = append(out[n], outline[i])
	}
	return out
}

// SlitEnd reports whether point i of an outline is the end of a slit, by the numbers that Rings
// gave: it only leads to a hole, or back.
func SlitEnd(rings []int, i int) bool {
	n := len(rings)
	return n > 0 && (rings[i] != rings[(i+n-1)%n] || rings[i] != rings[(i+1)%n])
}

// leastWithHole is how many points an area with a hole has at least: two triangles, and the
// second ends of the slit.
const leastWithHole = 8

// slitPart is how wide a slit is at most, of its length.
const slitPart = 1.0 / 40

// Rings says of an outline, whose first point does not come again at its end, on which ring each
// of its points lies: 0 is the border of the area, the others are holes that a narrow slit joins
// to it or to one another. The sides between two rings are those of the slits. Nil without holes.
func Rings(outline []orb.Point) []int {
	if len(outline) < leastWithHole {
		return nil
	}
	facing := slitSides(outline)
	if facing == nil {
		return nil
	}
	on, open, ends, holes := make([]int, len(outline)), []int{0}, []int{-1}, 0
	for i, other := range facing {
		last := len(open) - 1
		on[i] = open[last]
		switch {
		case other > i:
			holes++
			open, ends = append(open, holes), append(ends, other)
		case other >= 0 && ends[last] == i:
			open, ends = open[:last], ends[:last]
		case other >= 0:
			return nil
		}
	}
	border := planar.Area(ringOf(outline, on, 0))
	for n := 1; n <= holes; n++ {
		if !(planar.Area(ringOf(outline, on, n))*border < 0) { // a narrow part of the area, not a slit
			return nil
		}
	}
	return on
}

// ringOf are the points on one ring, back to the first one.
func ringOf(outline []orb.Point, on []int, n int) orb.Ring {
	var ring []orb.Point
	for i, p := range outline {
		if on[i] == n {
			ring = append(ring, p)
		}
	}
	return closed(ring)
}

// slitSides pairs the sides of an outline that run back beside one another: for the side that
// begins at each point the number of the other, or -1. Nil where there are none.
func slitSides(outline []orb.Point) []int {
	n := len(outline)
	facing, order, along := make([]int, n), make([]int, n), make([]float64, n)
	next := func(i int) orb.Point { return outline[(i+1)%n] }
	for i, p := range outline { // slanting, as many middles lie on one row or column of cells
		facing[i], order[i] = -1, i
		along[i] = (p[0] + next(i)[0] + 0.618*(p[1]+next(i)[1])) / 2
	}
	slices.SortFunc(order, func(i, j int) int { return cmp.Compare(along[i], along[j]) })
	found := false
	for at, i := range order {
		near := slitPart * planar.Distance(outline[i], next(i))
		for _, j := range order[at+1:] {
			if along[j]-along[i] > 1.2*near {
				break
			}
			if facing[i] < 0 && facing[j] < 0 && near > 0 && math.Max(planar.Distance(outline[i], next(j)), planar.Distance(next(i), outline[j])) <= near {
				facing[i], facing[j], found = j, i, true
			}
		}
	}
	if !found {
		return nil
	}
	return facing
}
