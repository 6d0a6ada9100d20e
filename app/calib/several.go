package calib

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"legwright/app/geodesy"
)

// Limits of the search for several wrong points.
const (
	// spareAfter is how many redundant equations must be left once the points
	// that do not fit are set aside: with fewer, the wrong ones could outvote
	// the right. One point by itself may leave spareAlone, if without any other
	// the rest does not agree, and if a usual slip explains where it lies.
	spareAfter, spareAlone = 4, 2
	// plentyToSpare is with how many clicks may be worse than stated.
	plentyToSpare = 8
	// mostAsked is how many points are tried for the next to be set aside, those
	// with the greatest leave-one-out errors: one that lies far out pulls the fit
	// to itself, and others look wrong in its place. Of more than mostPoints, and
	// of a smooth fit, only the first is.
	mostAsked, mostPoints = 12, 40
	// mostBent is of how many points a linear fit's strays are looked for by a
	// perspective too: the window waits, and so many are crossings of a printed
	// grid, which tells of a perspective by itself.
	mostBent = 120
)

// findSeveral looks for wrong points where no single slip of a flat sheet
// explains the misfit: the point without which the rest agrees best is set
// aside, again and again, until the rest agrees. At most a third of the points
// may go. Each is then held against the fit of the rest, and its slip named. The
// maps are tried in order.
func findSeveral(c *Calibration, kinds []Kind) []Warning {
	for _, kind := range kinds {
		if kind != c.kind && kind == Perspective && len(c.points) > mostBent {
			continue
		}
		if kept, out := setAside(c.points, kind); len(out) > 0 {
			fit := &Calibration{kind: kind, points: c.points, sol: kept.sol}
			if kept.bend != nil {
				fit.bend = kept.bend
			}
			found := nameStrays(fit, out)
			if kept.dof() < spareAfter && found[0].Code == CodeOutlier {
				continue // chance could do that
			}
			return found
		}
	}
	return nil
}

// kindsFrom are the maps by which wrong points are looked for: that of the
// calibration and freer ones, for a wrong point may have hidden that the sheet
// needs them.
func kindsFrom(k Kind) []Kind {
	switch k {
	case Similarity:
		return []Kind{Similarity, Affine, Perspective}
	case Affine:
		return []Kind{Affine, Perspective}
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
	clear := false
	for {
		a, fitted, err := attempted(chosen(points, left, -1), kind)
		if err != nil || a.dof() < spareAlone {
			return a, nil
		}
		if len(out) == 0 {
			first = a.chi2()
		}
		spare := a.dof() >= spareAfter || len(out) == 1 && clear
		if fitted && len(out) > 0 && spare && explains(&a, first) {
			slices.Sort(out)
			return a, out
		}
		if 3*(len(out)+1) > len(points) {
			return a, nil
		}
		var worst int
		worst, clear = nextAside(points, left, &a, first)
		out = append(out, left[worst])
		left = slices.Delete(left, worst, worst+1)
	}
}

// attempted fits points of which some may be so wrong that they allow no
// perspective: then an affine fit stands in, which says how far out each is.
func attempted(points []ControlPoint, kind Kind) (a attempt, fitted bool, err error) {
	if a, err = bare(points, kind); err == nil || kind != Perspective {
		return a, true, err
	}
	a, err = bare(points, Affine)
	a.kind = kind
	return a, false, err
}

// explains reports whether the points of an attempt agree, and so much better
// than all did that the others must be wrong. Clicks may be three times worse
// than stated; not so where few equations are to spare, for among noisy points
// there are always some that happen to agree.
func explains(a *attempt, first float64) bool {
	allow := 3.0
	switch {
	case a.dof() < spareAfter:
		allow = 1
	case a.dof() < plentyToSpare:
		allow = 1.5
	}
	return a.sol.fits(allow) && first >= slipGain*math.Max(a.chi2(), float64(a.dof()))
}

// chosen returns the points of the indices but the k-th of them, or all.
func chosen(points []ControlPoint, left []int, k int) []ControlPoint {
	out := make([]ControlPoint, 0, len(left))
	for n, i := range left {
		if n != k {
			out = append(out, points[i])
		}
	}
	return out
}

// nextAside returns which of the points that are left goes next, and whether it
// is clear that it is this one: without any other the rest does not agree.
func nextAside(points []ControlPoint, left []int, a *attempt, first float64) (worst int, clear bool) {
	order := make([]int, len(left))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(a.loo[j], a.loo[i]) })
	if len(left) > mostPoints || a.kind == Smooth {
		return order[0], false
	}
	worst, clear = order[0], len(order) <= mostAsked
	best := math.Inf(1)
	agree := 0
	for _, k := range order[:min(len(order), mostAsked)] {
		b, err := bare(chosen(points, left, k), a.kind)
		if err != nil {
			continue
		}
		if explains(&b, first) {
			agree++
		}
		if b.chi2() < best {
			best, worst = b.chi2(), k
		}
	}
	return worst, clear && agree == 1
}

// nameStrays says of each point what would explain where it lies.
func nameStrays(fit *Calibration, out []int) []Warning {
	var found []Warning
	for n, i := range out {
		if j := exchangedWith(fit, i, out); j > i {
			found = append(found, Warning{Code: CodeExchanged, Text: fmt.Sprintf("control points %d and %d: their references look exchanged", i+1, j+1), Points: [2]int{i + 1, j + 1}})
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
		return Warning{Code: CodeSwappedPoint, Text: swapWords(i), Points: [2]int{i + 1}}
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
			return Warning{Code: CodeDigitOut, Text: fmt.Sprintf("control point %d: %s looks %s m too %s", i+1, axis.name, figure(off), greatOrSmall(off)), Points: [2]int{i + 1}}
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
	return Warning{Code: CodeDigitOut, Text: fmt.Sprintf("control point %d: two digits of the %s look exchanged: %.0f would fit", i+1, axis, right), Points: [2]int{i + 1}}
}

func outlierWarning(i int, offM, offPx float64) Warning {
	return Warning{Code: CodeOutlier, Text: fmt.Sprintf(
		"control point %d does not fit the others: its reference lies %s m (%.0f px) from where they put it", i+1, figure(offM), offPx), Points: [2]int{i + 1}}
}
