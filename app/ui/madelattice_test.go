package ui

import "legwright/app/calib/lattice"

// madeLattice is a lattice over the ground of calibrated: lines each kilometre,
// 100 pixels apart, line (0, 0) at NL 21 42.
func madeLattice() *lattice.Lattice {
	l := &lattice.Lattice{SquarePx: 100, WidthPx: 100, HeightPx: 100}
	for i := range 3 {
		for j := range 2 {
			l.Intersections = append(l.Intersections, lattice.Intersection{Col: 100 + 100*float64(i), Row: 200 - 100*float64(j), I: i, J: j, Quality: 0.9, SigmaPx: 0.2})
		}
	}
	return l
}
