package lattice

import (
	"math"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// verdict is how a found lattice compares with the truth.
type verdict struct {
	solved bool
	why    string
	errs   []float64 // of each intersection, pixels
}

// hold compares a lattice with the recipe.
func (r *recipe) hold(l *Lattice, why string) verdict {
	if l == nil {
		return verdict{why: "none: " + why}
	}
	// the nearest true intersection gives the numbering
	var v verdict
	type key [2]int
	offs := map[key]int{}
	node := func(c Intersection) (float64, float64, float64) {
		u, w := r.sheet(c.Col, c.Row)
		i, j := math.Round((u-r.gx)/r.square), math.Round((w-r.gy)/r.square)
		x, y := r.place(r.gx+i*r.square, r.gy+j*r.square)
		return i, j, math.Hypot(x-c.Col, y-c.Row)
	}
	for _, c := range l.Intersections {
		i, j, d := node(c)
		v.errs = append(v.errs, d)
		offs[key{int(i) - c.I, int(j) + c.J}]++
	}
	most := 0
	for _, n := range offs {
		most = max(most, n)
	}
	bad := 0
	for _, e := range v.errs {
		if e > 3 {
			bad++
		}
	}
	switch {
	case most != len(l.Intersections):
		v.why = "numbering"
	case bad > len(v.errs)/10:
		v.why = "places"
	default:
		v.solved = true
	}
	return v
}

// held is the share of 7 × 7 points, spread evenly from the first found line to the
// last, at which the ellipse of 95 % that a fit of the lattice states holds the
// truth; −1 where the squares are refused.
func (r *recipe) held(t *testing.T, l *Lattice) float64 {
	t.Helper()
	points, err := r.named(l)
	if err != nil {
		t.Logf("seed %d: %v", r.seed, err)
		return -1
	}
	o := calib.Options{Width: r.w, Height: r.h}
	if r.hard {
		o.Medium = calib.Photograph
	}
	fit, err := calib.Fit(points, o)
	if err != nil {
		t.Fatal(err)
	}
	x0, y0, x1, y1 := l.box()
	n := 0.0
	for i := range 7 {
		for j := range 7 {
			at := calib.PicturePt{Col: x0 + (x1-x0)*float64(i)/6, Row: y0 + (y1-y0)*float64(j)/6}
			u, v := r.sheet(at.Col, at.Row)
			if holds(fit, at, geodesy.Grid{E: 1000 * (u - r.gx) / r.square, N: -1000 * (v - r.gy) / r.square}) {
				n++
			}
		}
	}
	return n / 49
}

func quantile(v []float64, q float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	return v[min(len(v)-1, int(q*float64(len(v))))]
}
