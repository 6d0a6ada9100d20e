package leg

import (
	"errors"
	"math"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/units"
)

// ErrNoBearing is returned for ends that coincide to a millimetre: there is no
// bearing from a position to itself.
var ErrNoBearing = errors.New("both ends are at the same position: there is no bearing between them")

// SetKind says what figure goes on the compass housing.
type SetKind int

// What to set. SetNone stands where no figure may be set: there is no
// trustworthy declination.
const (
	SetNone     SetKind = iota
	SetMagnetic         // the housing is not set: the magnetic bearing
	SetGrid             // the housing is set to this position's angle: the grid bearing
	SetAdjusted         // the housing is set to another angle: grid less the difference
)

// Reading is everything that is known of the straight line between two
// positions. Lengths are metres, angles radians as in app/units.
type Reading struct {
	Grid         units.GridBearing
	True         units.TrueBearing
	Magnetic     units.MagneticBearing // only where HasMagnetic
	Back         units.GridBearing
	BackMagnetic units.MagneticBearing // from the far end's own γ and D; only where HasMagnetic

	Convergence units.Convergence // at FROM; on a grid that bends bearings, for this bearing
	Declination units.Declination // at FROM; only where HasMagnetic
	GMA         units.GMA         // at FROM; only where HasMagnetic
	PointScale  float64           // at FROM: grid length ÷ ellipsoid length

	GridM   float64 // length on the grid
	GroundM float64 // length on the ellipsoid

	// One standard deviation each. Bearing σ are at most that of a direction
	// of which nothing is known, 180°/√3.
	BearingSigma, MagneticSigma, BackMagneticSigma, DeclinationSigma units.Angle
	TrueSigma                                                        units.Angle // BearingSigma but on a grid that bends bearings
	DistanceSigmaM                                                   float64     // on a grid that bends bearings, of GroundM
	ConvergenceSigma                                                 units.Angle // how γ changes within FROM's own σ
	PointScaleSigma                                                  float64     // and the scale

	Point string // sixteen-point name of the grid bearing

	Set      units.Angle // what to set on this party's compass; see SetKind
	SetSigma units.Angle // of the direction walked by it: map, magnetic model and the compass's own error
	SetKind  SetKind
	SetNote  string // what to do with it, in words

	// HasMagnetic is false outside the model's dates and where either end lies
	// in the blackout zone: magnetic figures are then zero and must not be
	// shown.
	HasMagnetic bool
	Cautions    []caution.Caution // what speaks against this reading; do not write into it

	Model, Shift         string // "WMM2025"; the datum shift used
	FromRef, ToRef       string // grid references
	FromLatLon, ToLatLon geodesy.LatLon
	FromSigmaM, ToSigmaM float64 // σ per axis of the ends, calibration included
	setOff               units.GMA
}

// Closed writes the grid bearing, the GMA and the magnetic bearing so that
// they close in the head. Without a magnetic figure only Grid is filled.
func (r Reading) Closed(c units.Circle) units.Closed {
	if !r.HasMagnetic {
		return units.Closed{Grid: c.Figure(r.Grid.Angle())}
	}
	return c.Close(r.Grid, r.GMA)
}

// BackGMA is the grid-magnetic angle at the far end; only where HasMagnetic.
func (r Reading) BackGMA() units.GMA {
	return units.GMA((r.Back.Angle() - r.BackMagnetic.Angle()).Signed())
}

// Figures writes the closed bearings with their north and, where it exceeds the
// printed step, their ± (95 %): "057° grid", "055° mag ± 2°". The magnetic one is
// "" where there is none. The ± is of the map and the magnetic model.
func (r Reading) Figures(c units.Circle) (grid, magnetic string) {
	closed := r.Closed(c)
	grid = withHalf(closed.Grid+" grid", c, r.BearingSigma)
	if r.HasMagnetic {
		magnetic = withHalf(closed.Magnetic+" mag", c, r.MagneticSigma)
	}
	return grid, magnetic
}

// SetFigures writes the figure to set on a compass with what SetKind.North says of it, and with
// the ± of map and magnetic model where it exceeds the printed step: "055° mag ± 2°". Without a
// figure to set it is the grid bearing.
func (r Reading) SetFigures(c plan.Compass) string {
	if r.SetKind == SetNone {
		return withHalf(r.Closed(c.Circle).Grid+" grid", c.Circle, r.BearingSigma)
	}
	return withHalf(r.SetFigure(c.Circle)+" "+r.SetKind.North(c), c.Circle, r.MagneticSigma)
}

// withHalf adds a bearing's ± where it exceeds the printed step.
func withHalf(text string, c units.Circle, sigma units.Angle) string {
	if half := c.Half(sigma); half != "" {
		return text + " " + half
	}
	return text
}

// ClosedBack is Closed for the way back, with the far end's own GMA.
func (r Reading) ClosedBack(c units.Circle) units.Closed {
	if !r.HasMagnetic {
		return units.Closed{Grid: c.Figure(r.Back.Angle())}
	}
	return c.Close(r.Back, r.BackGMA())
}

// SetFigure writes the figure to set on the housing, such as "057°", so that
// it agrees with the figures of Closed; "" where there is none.
func (r Reading) SetFigure(c units.Circle) string {
	switch r.SetKind {
	case SetMagnetic: // a lesson may have put its own GMA in place
		return c.Close(r.Grid, r.GMA).Magnetic
	case SetGrid:
		return c.Figure(r.Grid.Angle())
	case SetAdjusted:
		return c.Close(r.Grid, r.setOff).Magnetic
	}
	return ""
}

// Paces returns how many double paces the ground distance takes a party that takes so many
// to 100 m, and their standard deviation: that of pacing and of the distance. Both are
// zero where the party does not count.
func (r Reading) Paces(p plan.Party, per100m float64) (n, sigma float64) {
	if r.GroundM <= 0 {
		return 0, 0
	}
	n = r.GroundM / 100 * per100m
	return n, n * math.Hypot(p.PaceSigma, r.DistanceSigmaM/r.GroundM)
}

// Has reports whether the reading carries the caution of that code.
func (r Reading) Has(code caution.Code) bool { return caution.Has(r.Cautions, code) }

// Stopped reports whether nobody may walk on the reading. What speaks against
// latitude and longitude alone does not stop it.
func (r Reading) Stopped() bool { return caution.Stops(r.Cautions, caution.OnLeg) }
