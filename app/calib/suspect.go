package calib

import (
	"fmt"
	"math"

	"legwright/app/geodesy"
)

// Limits of the search for what may have been misread in a photograph.
const (
	mostSuspected  = 9         // points: with more the search for strays tells
	leastSuspected = 1000.0    // metres: the least unit of a digit; closer ones agree by chance
	mostUnit       = 100_000.0 // and the greatest
	hopelessPx     = 50.0      // so far off before it is refined no perspective comes to agree
)

// suspect tries what is usually misread where the points of a photograph do not
// fit each other and nothing explains why. A perspective has eight parameters:
// five points leave two equations over, which show that one is wrong and not
// which. But few slips are of a usual kind, and where just one of those would
// bring all points to agree it is told as what may be, never as what is.
func suspect(c *Calibration, o Options) []Warning {
	n := len(c.points)
	if !(o.Photo || c.kind == Perspective) || c.kind == Smooth || n <= atLeast(Perspective) || n > mostSuspected {
		return nil
	}
	if a, err := bare(c.points, Perspective); err == nil && a.sol.fits(1) {
		return nil
	}
	found := c.suspectedPairs()
	for i := range c.points {
		found = append(found, c.suspected(i)...)
	}
	if len(found) != 1 {
		return nil
	}
	return found
}

// suspectedPairs are the pairs of points that all agree with if their references
// are exchanged.
func (c *Calibration) suspectedPairs() (found []Warning) {
	for i := range c.points {
		for j := range i {
			if c.agreesPut(map[int]geodesy.Grid{i: c.points[j].Ref, j: c.points[i].Ref}) {
				found = append(found, Warning{Code: CodeSuspected, Points: [2]int{j + 1, i + 1}, Text: fmt.Sprintf(
					"the references of control points %d and %d may be exchanged: then all points would agree. That is no proof of it; check both", j+1, i+1)})
			}
		}
	}
	return found
}

// agreesPut reports whether all points would agree in a perspective with other
// references put to some.
func (c *Calibration) agreesPut(refs map[int]geodesy.Grid) bool {
	points := c.Points()
	for i, ref := range refs {
		points[i].Ref = ref
	}
	if c.hopeless(points) {
		return false
	}
	a, err := bare(points, Perspective)
	return err == nil && a.sol.det() < 0 && a.sol.fits(1)
}

// hopeless reports whether points are far from a perspective already by the
// linear start of its fit, which is quick.
func (c *Calibration) hopeless(points []ControlPoint) bool {
	p := &homography{frame: newFrame(points), unitM: c.MetresPerPixel()}
	p.unitM *= p.frame.radiusPx
	if !p.start(points) {
		return true
	}
	for _, q := range points {
		e, n := p.offset(q.At)
		if !(math.Hypot(q.Ref.E-p.frame.e-e, q.Ref.N-p.frame.n-n) <= hopelessPx*c.MetresPerPixel()) {
			return true
		}
	}
	return false
}

// suspected lists what is usually misread and would bring point i to agree with
// all others. The point is offered for leaving out only where the others
// determine a perspective without it.
func (c *Calibration) suspected(i int) (found []Warning) {
	list, spare := c.misreadings(i)
	var named [2]int
	if spare {
		named[0] = i + 1
	}
	for _, m := range list {
		if c.agreesPut(map[int]geodesy.Grid{i: m.ref}) {
			found = append(found, Warning{Code: CodeSuspected, Points: named, Text: fmt.Sprintf(
				"control point %d may be the wrong one: %s, then all points would agree. That is no proof of it; check this one first", i+1, m.words)})
		}
	}
	return found
}

// misreading is a reference that was meant, and what was done to it.
type misreading struct {
	ref   geodesy.Grid
	words string
}

// misreadings are the usual ones of point i: easting and northing exchanged, and
// one digit of them. Where the others say where the point belongs, which spare
// reports, only those near that place count.
func (c *Calibration) misreadings(i int) (list []misreading, spare bool) {
	p := c.points[i]
	near := func(geodesy.Grid) bool { return true }
	if a, err := bare(without(c.points, i), Perspective); err == nil {
		if a.sol.det() >= 0 || a.dof() > 0 && !a.sol.fits(1) {
			return nil, true
		}
		spare = true
		fit := &Calibration{kind: Perspective, points: c.points, sol: a.sol, bend: a.bend}
		near = func(ref geodesy.Grid) bool { return fit.within(i, ref, digitSigmas) }
	}
	add := func(ref geodesy.Grid, format string, args ...any) {
		if near(ref) {
			list = append(list, misreading{ref, fmt.Sprintf(format, args...)})
		}
	}
	add(swapped(p.Ref), "were easting and northing exchanged")
	for unit := leastSuspected; unit <= mostUnit; unit *= 10 {
		for d := -9.0; d <= 9; d++ {
			if d != 0 {
				add(geodesy.Grid{E: p.Ref.E - d*unit, N: p.Ref.N}, "were its easting %s m %s", figure(d*unit), smallerOrGreater(d))
				add(geodesy.Grid{E: p.Ref.E, N: p.Ref.N - d*unit}, "were its northing %s m %s", figure(d*unit), smallerOrGreater(d))
			}
		}
	}
	return list, spare
}

func smallerOrGreater(off float64) string {
	if off > 0 {
		return "smaller"
	}
	return "greater"
}
