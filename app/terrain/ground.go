package terrain

import (
	"math"

	"legwright/app/geodesy"
	"legwright/app/units"
)

// Ground is a model as seen from one grid: positions, directions and lengths are those of
// that grid. The zero Ground knows nothing.
type Ground struct {
	m     *Model
	sys   *geodesy.System
	quick *quick // nil: every position is converted by itself
}

// IsZero reports whether there is no model.
func (g Ground) IsZero() bool { return g.m == nil }

// Height returns the height in metres at a position; ok is false outside the posts
// and in a void.
func (g Ground) Height(at geodesy.Grid) (m float64, ok bool) {
	_, h, ok := g.find(at)
	return h, ok
}

// found is a position on a lattice that has ground there.
type found struct {
	l  *lattice
	at geodesy.Grid // on the lattice's grid
}

// find returns the height at a position and the lattice that it comes from.
func (g Ground) find(at geodesy.Grid) (f found, h float64, ok bool) {
	if g.m == nil || !at.IsFinite() {
		return found{}, 0, false
	}
	for _, l := range g.m.lattices {
		own, good := g.onto(l.system, at)
		if !good {
			continue
		}
		if h := l.height(own); !math.IsNaN(h) {
			return found{l, own}, h, true
		}
	}
	return found{}, 0, false
}

// onto converts a position to another grid.
func (g Ground) onto(s *geodesy.System, at geodesy.Grid) (geodesy.Grid, bool) {
	if s.Code() == g.sys.Code() {
		return at, true
	}
	if g.quick != nil {
		if own, ok := g.quick.onto(s, at); ok {
			return own, true
		}
	}
	ll, _, err := g.sys.ToWGS84(at)
	if err != nil {
		return geodesy.Grid{}, false
	}
	own, _, _, err := s.FromWGS84(ll)
	return own, err == nil
}

// Slope is how steep the ground is and which way it falls.
type Slope struct {
	Steep    units.Angle       // above the level, 0 to 90°
	Downhill units.GridBearing // where Level is false
	Level    bool              // it falls nowhere
}

// Slope returns the slope at a position by Horn's kernel of 3 × 3 posts, at a post
// exactly and bilinear between posts; ok is false where one of those posts is
// missing. Rise is taken over lengths on the model's grid, and over lengths on the
// ground where that grid stretches them by more than 0.5 %, as one of degrees does.
func (g Ground) Slope(at geodesy.Grid) (s Slope, ok bool) {
	f, _, ok := g.find(at)
	if !ok {
		return Slope{}, false
	}
	east, north := f.l.gradient(f.at)
	if math.IsNaN(east + north) {
		return Slope{}, false
	}
	same := f.l.system.Code() == g.sys.Code()
	if !f.l.stretched && same {
		return slopeOf(east, north, 0), true
	}
	own, err := f.l.system.FactorsAt(f.at)
	here, err2 := g.sys.FactorsAt(at)
	if err != nil || err2 != nil {
		return Slope{}, false
	}
	turn := own.Convergence.Angle() // from the axes of the gradient to true north
	if f.l.stretched {
		east, north, turn = unstretched(own, east, north)
	}
	return slopeOf(east, north, turn-here.Convergence.Angle()), true
}

// steep is how steep the ground is where it was found, as Slope has it; NaN where a post of its kernel
// is missing.
func (f found) steep() units.Angle {
	east, north := f.l.gradient(f.at)
	if f.l.stretched {
		own, err := f.l.system.FactorsAt(f.at)
		if err != nil {
			return units.Angle(math.NaN())
		}
		east, north, _ = unstretched(own, east, north)
	}
	return units.Angle(math.Atan(math.Hypot(east, north)))
}

// unstretched turns a gradient over lengths on a grid into one over lengths on the
// ground, toward true east and north: a step on the ground is a linear map of one on the
// grid, and gradients go the other way by its transpose.
func unstretched(f geodesy.Factors, east, north float64) (gEast, gNorth float64, turn units.Angle) {
	a, c := f.Ground(1, 0)
	b, d := f.Ground(0, 1)
	det := a*d - b*c
	return (east*d - north*c) / det, (north*a - east*b) / det, 0
}

// slopeOf is the slope of a gradient whose north lies turn clockwise of grid north.
func slopeOf(east, north float64, turn units.Angle) Slope {
	b, ok := units.GridBearingOf(-east, -north)
	if !ok {
		return Slope{Level: true}
	}
	return Slope{Steep: units.Angle(math.Atan(math.Hypot(east, north))), Downhill: units.NewGridBearing(b.Angle() + turn)}
}
