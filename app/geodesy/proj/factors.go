package proj

import (
	"math"

	"legwright/app/units"
)

// Factors are what a grid does to directions and lengths at one point. On a
// conformal grid Convergence and Scale are the same for every direction. On
// others they are those of the meridian, and Toward gives them for a line.
type Factors struct {
	Convergence units.Convergence // grid north clockwise from true north
	Scale       float64           // grid length ÷ ellipsoid length
	Parallel    float64           // the scale along the parallel; Scale on a conformal grid
	Skew        units.Angle       // the parallel's image clockwise of the square to the meridian's
}

func factors(convRad, scale float64, st stretch) Factors {
	f := Factors{Convergence: units.Convergence(convRad), Scale: scale, Parallel: scale}
	if st.parallel != 0 {
		f.Parallel, f.Skew = st.parallel, units.Angle(st.skewRad)
	}
	return f
}

// Conformal reports whether convergence and scale do not depend on the
// direction here.
func (f Factors) Conformal() bool { return f.Parallel == f.Scale && f.Skew == 0 }

// Ground turns a short step on the grid into one on the ground, both in
// metres: east along the parallel and north along the meridian.
func (f Factors) Ground(dE, dN float64) (eastM, northM float64) {
	sinG, cosG := math.Sincos(-float64(f.Convergence)) // the meridian's image
	sinP, cosP := math.Sincos(-float64(f.Convergence) + float64(f.Skew) + math.Pi/2)
	eE, nE := f.Parallel*sinP, f.Parallel*cosP
	eN, nN := f.Scale*sinG, f.Scale*cosG
	det := eE*nN - eN*nE
	return (dE*nN - dN*eN) / det, (dN*eE - dE*nE) / det
}

// Toward returns convergence and scale for a line that leaves the point on a
// grid bearing: true = grid + convergence holds for it.
func (f Factors) Toward(b units.GridBearing) (units.Convergence, float64) {
	if f.Conformal() {
		return f.Convergence, f.Scale
	}
	sin, cos := math.Sincos(float64(b))
	east, north := f.Ground(sin, cos)
	turn := units.Angle(math.Atan2(east, north) - float64(b)).Signed()
	return units.Convergence(turn), 1 / math.Hypot(east, north)
}
