package calib

import (
	"math"
	"slices"
)

// A photograph's model is linear only near its plane, and a reference that is
// squares out takes the plane with it. So where the points do not agree, the
// plane is also fitted without one point, without two, and with a line of points
// or all beyond it put back by squares. Slips are judged at the plane that leaves
// least, each freedom taken counting against it.
const (
	mostSteadied = 25   // points at most: with more, one wrong reference moves the plane little
	mostPaired   = 12   // points at most of which each two are left out
	freedomCosts = 10.0 // what a freedom must lower the misfit by, 3 σ and more
)

// steadied returns the plane at which slips are judged, that of the estimate
// where nothing is better. It reports false where no plane was found either.
func (e estimate) steadied(points []ControlPoint, found bool) (plane, bool) {
	best, least := e.plane, math.Inf(1)
	if found {
		least = e.strict
	}
	if len(points) > mostSteadied {
		return best, found
	}
	try := func(kept []ControlPoint, freedoms int) {
		if p, left, ok := e.without(kept); ok && p.facing(points) && left+freedomCosts*float64(freedoms) < least {
			best, least, found = p, left+freedomCosts*float64(freedoms), true
		}
	}
	for i := range points {
		rest := without(points, i)
		try(rest, 2)
		for j := range i {
			if len(points) <= mostPaired {
				try(without(rest, j), 4)
			}
		}
	}
	for _, b := range slipsFree(points) {
		for _, step := range stepsOf(points) {
			for _, squares := range []float64{1, -1, 10, -10} {
				if len(b) > 1 {
					try(shifted(points, b, squares*step), 1)
				}
			}
		}
	}
	return best, found
}

// without fits the plane to other points than those of the estimate and returns
// it in the estimate's frame, with the misfit.
func (e estimate) without(kept []ControlPoint) (plane, float64, bool) {
	if len(kept) < leastPhoto || checkFour(kept) != nil {
		return plane{}, 0, false
	}
	start, ok := startPlane(kept)
	if !ok {
		return plane{}, 0, false
	}
	trial := e
	trial.plane, trial.design.frame, trial.scale = start, start.frame, 1
	if trial, ok = trial.refine(kept); !ok {
		return plane{}, 0, false
	}
	return trial.plane.reframed(e.design.frame, e.plane.unitM), trial.gls.misfit, true
}

// shifted returns the points with references moved back by a pattern of so many
// metres.
func shifted(points []ControlPoint, b []Shift, metres float64) []ControlPoint {
	out := append([]ControlPoint(nil), points...)
	for _, s := range b {
		out[s.I].Ref.E -= metres * s.East
		out[s.I].Ref.N -= metres * s.North
	}
	return out
}

// stepsOf are the steps of printed lines, in metres, that references at their
// intersections allow: the largest power of ten of which all coordinates are
// multiples, and the largest of 2, 2.5 or 5 times one, from 10 m on.
func stepsOf(points []ControlPoint) (out []float64) {
	divides := func(step float64) bool {
		return !slices.ContainsFunc(points, func(p ControlPoint) bool {
			return math.Abs(math.Remainder(p.Ref.E, step)) > 0.5 || math.Abs(math.Remainder(p.Ref.N, step)) > 0.5
		})
	}
	for power := 1e5; power >= 10; power /= 10 {
		for _, k := range []float64{5, 2.5, 2, 1} {
			if len(out) == 0 && divides(k*power) || len(out) == 1 && k == 1 && divides(power) && out[0] != power {
				out = append(out, k*power)
			}
		}
	}
	return out
}

// heldAt is the linear estimate at a plane that stands still.
func (e estimate) heldAt(points []ControlPoint, p plane) (estimate, bool) {
	e.plane, e.judged, e.scale = p, p, 1
	var ok bool
	if e.gls, ok = newGLS(e.design, placesOf(points), p.clicksOf(points, 1), len(points)); !ok {
		return e, false
	}
	var seen *pseudo
	if e.camera != nil {
		seen = e.camera.observed(p)
	}
	if !e.gls.observe(seen) {
		return e, false
	}
	e.gls.solve(p.offsets(points))
	e.strict = e.gls.misfit
	return e, true
}

// reframed is the same plane in another frame and unit.
func (p *plane) reframed(f frame, unitM float64) plane {
	k := f.radiusPx / p.frame.radiusPx
	in := mat3{
		{k, 0, (f.col - p.frame.col) / p.frame.radiusPx},
		{0, k, (f.row - p.frame.row) / p.frame.radiusPx},
		{0, 0, 1},
	}
	g := p.unitM / unitM
	to := mat3{{g, 0, (p.frame.e - f.e) / unitM}, {0, g, (p.frame.n - f.n) / unitM}, {0, 0, 1}}
	out := plane{frame: f, unitM: unitM}
	out.set(to.times(p.h).times(in))
	return out
}
