package calib

import (
	"fmt"
	"math"
	"slices"

	"legwright/app/geodesy"
)

// spareAfter is how many redundant equations must be left once the points that
// do not fit are set aside: with fewer, the wrong ones could outvote the right.
const spareAfter = 4

// findSeveral looks for several wrong points where no single slip explains the
// misfit: the point whose leave-one-out error is greatest is set aside, again
// and again, until the rest agree. At most a third of the points may go. Each
// is then held against the fit of the rest, and its slip named. The map is that
// of the calibration; an affine one is tried too where a similarity was fitted.
func findSeveral(c *Calibration) []Warning {
	for _, kind := range severalKinds(c.kind) {
		if kept, out := setAside(c.points, kind); len(out) > 0 {
			fit := &Calibration{kind: kind, points: c.points, sol: kept.sol}
			if kept.bend != nil {
				fit.bend = kept.bend
			}
			return nameStrays(fit, out)
		}
	}
	return nil
}

func severalKinds(k Kind) []Kind {
	if k == Similarity {
		return []Kind{Similarity, Affine}
	}
	return []Kind{k}
}

// setAside returns the fit of the points that agree and the others' indices;
// none where no third of them brings the rest to agree.
func setAside(points []ControlPoint, kind Kind) (attempt, []int) {
	left := make([]int, len(points))
	for i := range left {
		left[i] = i
	}
	var out []int
	var first float64 // misfit with all of them
	for {
		rest := make([]ControlPoint, 0, len(left))
		for _, i := range left {
			rest = append(rest, points[i])
		}
		a, err := try(rest, kind)
		if err != nil || a.dof() < spareAfter {
			return a, nil
		}
		if len(out) == 0 {
			first = a.chi2()
		}
		if len(out) > 0 && a.sol.fits(3) && first >= slipGain*math.Max(a.chi2(), float64(a.dof())) {
			slices.Sort(out)
			return a, out
		}
		if 3*(len(out)+1) > len(points) {
			return a, nil
		}
		worst := 0
		for k := range left {
			if a.loo[k] > a.loo[worst] {
				worst = k
			}
		}
		out = append(out, left[worst])
		left = slices.Delete(left, worst, worst+1)
	}
}

// nameStrays says of each point what would explain where it lies.
func nameStrays(fit *Calibration, out []int) []Warning {
	var found []Warning
	for n, i := range out {
		if j := exchangedWith(fit, i, out); j > i {
			found = append(found, Warning{CodeExchanged, fmt.Sprintf("control points %d and %d: their references look exchanged", i+1, j+1)})
		} else if j < 0 {
			found = append(found, nameStray(fit, i))
		}
		if n == 2*maxNamed {
			break
		}
	}
	return found
}

// agrees reports whether point i with another reference lies where the fit has
// it, within 5 σ.
func (c *Calibration) agrees(i int, ref geodesy.Grid) bool {
	p := c.points[i]
	p.Ref = ref
	de, dn := c.residual(p)
	cov := c.Covariance(p.At, p.sigmaPx()).add(Cov2{EE: p.SigmaRefM * p.SigmaRefM, NN: p.SigmaRefM * p.SigmaRefM})
	return cov.mahalanobis2(de, dn) <= digitSigmas*digitSigmas
}

// exchangedWith returns the stray whose reference belongs to point i and the
// other way round, or −1.
func exchangedWith(fit *Calibration, i int, out []int) int {
	for _, j := range out {
		if j != i && fit.agrees(i, fit.points[j].Ref) && fit.agrees(j, fit.points[i].Ref) {
			return j
		}
	}
	return -1
}

// nameStray names the slip behind one point that the others disown.
func nameStray(fit *Calibration, i int) Warning {
	p := fit.points[i]
	if fit.agrees(i, swapped(p.Ref)) {
		return Warning{CodeSwappedPoint, swapWords(i)}
	}
	de, dn := fit.residual(p)
	for _, axis := range []struct {
		name string
		off  float64
		unit geodesy.Grid
	}{{"easting", de, geodesy.Grid{E: 1}}, {"northing", dn, geodesy.Grid{N: 1}}} {
		if axis.off == 0 {
			continue
		}
		unit := math.Pow(10, math.Floor(math.Log10(math.Abs(axis.off))))
		off := unit * math.Round(axis.off/unit)
		if unit >= digitSigmas*fit.MetresPerPixelAt(p.At)*p.sigmaPx() && fit.agrees(i, geodesy.Grid{E: p.Ref.E - off*axis.unit.E, N: p.Ref.N - off*axis.unit.N}) {
			return Warning{CodeDigitOut, fmt.Sprintf("control point %d: %s looks %s m too %s", i+1, axis.name, figure(off), greatOrSmall(off))}
		}
	}
	for _, e := range transposed(p.Ref.E) {
		if fit.agrees(i, geodesy.Grid{E: e, N: p.Ref.N}) {
			return transposedWarning(i, "easting", e)
		}
	}
	for _, n := range transposed(p.Ref.N) {
		if fit.agrees(i, geodesy.Grid{E: p.Ref.E, N: n}) {
			return transposedWarning(i, "northing", n)
		}
	}
	near := fit.local(p.At)
	col, row := near.unstep(de, dn)
	return outlierWarning(i, math.Hypot(de, dn), math.Hypot(col, row))
}

func transposedWarning(i int, axis string, right float64) Warning {
	return Warning{CodeDigitOut, fmt.Sprintf("control point %d: two digits of the %s look exchanged: %.0f would fit", i+1, axis, right)}
}

func outlierWarning(i int, offM, offPx float64) Warning {
	return Warning{CodeOutlier, fmt.Sprintf(
		"control point %d does not fit the others: its reference lies %s m (%.0f px) from where they put it", i+1, figure(offM), offPx)}
}
