package leg

import (
	"math"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/units"
)

// unknownDirection is σ of a direction of which nothing is known: uniform over
// the circle, π/√3.
var unknownDirection = units.Angle(math.Pi / math.Sqrt(3))

// sigmas returns the σ of bearing and grid distance from a to b, by linear
// propagation of their joint covariance through
//
//	β = atan2(ΔE, ΔN):  ∂β = (−ΔN, ΔE, ΔN, −ΔE)/d²
//	d = √(ΔE² + ΔN²):   ∂d = (−ΔE, −ΔN, ΔE, ΔN)/d
//
// in the order E₁, N₁, E₂, N₂. The bearing's is cut at that of a direction of
// which nothing is known. a and b must differ.
func sigmas(a, b geodesy.Grid, cov *calib.Cov4) (bearing units.Angle, distM float64) {
	de, dn := b.E-a.E, b.N-a.N
	d2 := de*de + dn*dn
	d := math.Sqrt(d2)
	jb := [4]float64{-dn / d2, de / d2, dn / d2, -de / d2}
	jd := [4]float64{-de / d, -dn / d, de / d, dn / d}
	bearing = units.Angle(math.Sqrt(quadratic(&jb, cov)))
	return min(bearing, unknownDirection), math.Sqrt(quadratic(&jd, cov))
}

// groundSigmas is sigmas for a grid that does not keep angles: the step from a
// to b is taken to the ground by the factors at a, and the same formulas hold
// there.
func groundSigmas(a, b geodesy.Grid, cov *calib.Cov4, f geodesy.Factors) (bearing units.Angle, distM float64) {
	x, y := f.Ground(b.E-a.E, b.N-a.N)
	xE, yE := f.Ground(1, 0)
	xN, yN := f.Ground(0, 1)
	d2 := x*x + y*y
	d := math.Sqrt(d2)
	turnE, turnN := (y*xE-x*yE)/d2, (y*xN-x*yN)/d2
	growE, growN := (x*xE+y*yE)/d, (x*xN+y*yN)/d
	bearing = units.Angle(math.Sqrt(quadratic(&[4]float64{-turnE, -turnN, turnE, turnN}, cov)))
	return min(bearing, unknownDirection), math.Sqrt(quadratic(&[4]float64{-growE, -growN, growE, growN}, cov))
}

// quadratic returns jᵀ·C·j, not below zero.
func quadratic(j *[4]float64, c *calib.Cov4) float64 {
	sum := 0.0
	for i := range j {
		for k := range j {
			sum += j[i] * c[i][k] * j[k]
		}
	}
	return math.Max(sum, 0)
}

// blocks returns the joint covariance of two independent positions.
func blocks(p, q calib.Cov2) calib.Cov4 {
	return calib.Cov4{
		{p.EE, p.EN, 0, 0},
		{p.EN, p.NN, 0, 0},
		{0, 0, q.EE, q.EN},
		{0, 0, q.EN, q.NN},
	}
}

// round returns the covariance of a position with the same σ on both axes.
func round(sigmaM float64) calib.Cov2 {
	return calib.Cov2{EE: sigmaM * sigmaM, NN: sigmaM * sigmaM}
}

// perAxis returns the mean σ per axis of the position at index i of the joint
// covariance (0 or 2).
func perAxis(c *calib.Cov4, i int) float64 {
	return math.Sqrt(math.Max((c[i][i]+c[i+1][i+1])/2, 0))
}

func hypot(a, b units.Angle) units.Angle { return units.Angle(math.Hypot(float64(a), float64(b))) }
