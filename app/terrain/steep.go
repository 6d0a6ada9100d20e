package terrain

import (
	"math"

	"legwright/app/geodesy"
	"legwright/app/units"
)

// Over-steep ground [common practice, no source]: a coarse model smooths slopes away, so
// a gentler one counts.
const (
	overSteepDeg       = 25.0
	overSteepCoarseDeg = 20.0
	coarseM            = 15.0 // spacing of posts
)

// OverSteep returns the slope from which ground counts as over-steep where posts stand so many
// metres apart: the one that somebody set, 0 for none.
func OverSteep(spacingM float64, set units.Angle) units.Angle {
	switch {
	case set != 0:
		return set
	case spacingM > coarseM:
		return units.Degrees(overSteepCoarseDeg)
	}
	return units.Degrees(overSteepDeg)
}

// BlindHeight returns the height in metres below which a crag does not show in a model
// whose posts stand spacingM apart: between two pairs of posts the ground may rise by so much
// without looking steeper than steep. It is rounded up to 5 m.
func BlindHeight(spacingM float64, steep units.Angle) float64 {
	const round = 5
	return round * math.Ceil(2*spacingM*math.Tan(steep.Rad())/round-1e-9)
}

// Blind returns BlindHeight of a model, with the slope that counts as over-steep in it, set as for
// OverSteep; 0 of nil.
func Blind(m *Model, set units.Angle) float64 {
	if m == nil {
		return 0
	}
	return BlindHeight(m.SpacingM(), OverSteep(m.SpacingM(), set))
}

// Convex ground hides its drop from whoever stands above it: it steepens by
// convexBy or more within convexM downhill [common practice, no source].
const (
	convexM  = 150.0
	convexBy = 10.0 // degrees
)

// alongM is how far apart positions on a leg are from which the ground below is looked at: a
// third of how far it is.
const alongM = convexM / 3

// ConvexBelow returns how far from its start, in metres on the grid, the ground below a straight
// line is first convex, asked every alongM metres; negative where it is convex nowhere that is known.
func (g Ground) ConvexBelow(from, to geodesy.Grid) float64 {
	if g.m == nil {
		return -1
	}
	lengthM := math.Hypot(to.E-from.E, to.N-from.N)
	n := int(math.Ceil(lengthM / alongM))
	for i := range n + 1 {
		share := float64(i) / float64(max(n, 1))
		if convex, _ := g.Convex(between(from, to, share)); convex {
			return share * lengthM
		}
	}
	return -1
}

// Convex reports whether the ground below a position steepens by 10° or more within 150 m
// downhill, so that somebody there does not see the drop. On level ground every direction may
// lead to the edge, and convexWays of them are tried. ok is false where the ground on the way
// down is not known and what is known of it is not convex.
func (g Ground) Convex(at geodesy.Grid) (convex, ok bool) {
	start, ok := g.Slope(at)
	heightM, okHeight := g.Height(at)
	if !ok || !okHeight {
		return false, false
	}
	ways := []units.Angle{start.Downhill.Angle()}
	if start.Level {
		ways = ways[:0]
		for i := range convexWays {
			ways = append(ways, units.Angle(2*math.Pi*float64(i)/convexWays))
		}
	}
	for _, way := range ways {
		steepens, known := g.steepens(at, heightM, start.Steep, way)
		if steepens {
			return true, true
		}
		ok = ok && known
	}
	return false, ok
}

// convexWays is how many directions are tried from level ground.
const convexWays = 16

// steepens follows the ground from a position downhill, at first in a direction, and
// reports whether it steepens below its height.
func (g Ground) steepens(at geodesy.Grid, heightM float64, from, way units.Angle) (steepens, ok bool) {
	stepM := min(max(g.m.lattices[0].spacingM/2, leastStepM), mostStepM)
	for here, goneM := at, stepM; goneM < convexM+stepM; goneM += stepM {
		sin, cos := math.Sincos(way.Rad())
		here = geodesy.Grid{E: here.E + stepM*sin, N: here.N + stepM*cos}
		s, ok := g.Slope(here)
		if !ok {
			return false, false
		}
		if h, _ := g.Height(here); h < heightM && (s.Steep-from).Deg() >= convexBy {
			return true, true
		}
		if !s.Level {
			way = s.Downhill.Angle()
		}
	}
	return false, true
}

// SteepestRound returns the steepest of the slopes at the four posts around a position, in
// degrees: between posts Slope blends them, and a narrow steep band could hide. It is NaN where none is
// known; whole is false where one of them is not.
func (g Ground) SteepestRound(at geodesy.Grid) (deg float64, whole bool) {
	f, _, ok := g.find(at)
	if !ok {
		return math.NaN(), false
	}
	factors := geodesy.Factors{}
	if f.l.stretched {
		var err error
		if factors, err = f.l.system.FactorsAt(f.at); err != nil {
			return math.NaN(), false
		}
	}
	x, y := f.l.at(f.at)
	col, row := math.Floor(x), math.Floor(y)
	deg, whole = math.NaN(), true
	for _, p := range [...][2]float64{{col, row}, {col + 1, row}, {col, row + 1}, {col + 1, row + 1}} {
		if x == col && p[0] > col || y == row && p[1] > row { // on a line of posts those beyond do not count
			continue
		}
		east, north := f.l.gradient(geodesy.Grid{E: f.l.origin.E + p[0]*f.l.stepE, N: f.l.origin.N - p[1]*f.l.stepN})
		if f.l.stretched {
			east, north, _ = unstretched(factors, east, north)
		}
		s := math.Atan(math.Hypot(east, north)) * 180 / math.Pi
		if s != s {
			whole = false
		} else if !(deg >= s) {
			deg = s
		}
	}
	return deg, whole
}
