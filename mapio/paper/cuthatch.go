package paper

import "slices"

// along is the point at t along a line that lies off to the side of the page's corner; sin
// and cos are those of its direction.
func along(off, t, sin, cos float64) Point {
	return Point{t*cos - off*sin, t*sin + off*cos}
}

// crossings are where a line comes into an area and leaves it, in order along it. The
// outline is closed.
func crossings(outline []Point, off, sin, cos float64) (out []float64) {
	for i := 1; i < len(outline); i++ {
		a, b := outline[i-1], outline[i]
		was, is := a.Y*cos-a.X*sin, b.Y*cos-b.X*sin
		if (was < off) == (is < off) {
			continue
		}
		from, to := a.X*cos+a.Y*sin, b.X*cos+b.Y*sin
		out = append(out, from+(to-from)*(off-was)/(is-was))
	}
	slices.Sort(out)
	return out
}
