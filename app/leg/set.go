package leg

import (
	"fmt"
	"math"
	"strings"

	"legwright/app/caution"
	"legwright/app/plan"
	"legwright/app/units"
)

// housingSlackDeg is how far the angle a housing is set to may differ from
// today's before the difference is taken into account: half a degree is as
// fine as such a scale can be set (common practice, no source).
const housingSlackDeg = 0.5

// HousingFits reports whether a compass has an adjustable housing that is set to a
// grid-magnetic angle, to within the half degree that such a scale can be set to: the
// figure to set is the grid bearing then, and nothing is corrected.
func HousingFits(c plan.Compass, g units.GMA) bool {
	return c.Set && math.Abs((g.Angle()-c.SetTo).Signed().Deg()) <= housingSlackDeg
}

// CompassWords say what a compass adds to the ± that stands beside bearings, "" for
// one of which no error is known.
func CompassWords(c plan.Compass) string {
	if half := c.Circle.FineHalf(c.Sigma); half != "" {
		return "The ± of a bearing covers the map and the magnetic model; your compass adds " + half
	}
	return ""
}

// toSet fills in what to set on the compass.
//
// A housing that is set to an angle A turns what it shows by A: with b set on
// the ring the walker goes on magnetic b − A. To go on magnetic M = grid − GMA
// the figure is
//
//	b = M + A = grid − (GMA − A).
//
// Where A is today's GMA that is the grid bearing itself, and taking off the
// GMA a second time would put the party wrong by the whole angle. Where A is
// another angle, perhaps left from another country or another decade, only the
// difference is taken off.
func (r *Reading) toSet(c plan.Compass) {
	if !r.HasMagnetic {
		r.SetKind, r.SetNote = SetNone, "no figure to set: no magnetic bearing here can be trusted"
		return
	}
	r.SetSigma = hypot(r.MagneticSigma, c.Sigma)
	r.SetKind, r.setOff = setting(c, r.GMA)
	r.Set = r.Grid.Magnetic(r.setOff).Angle()
	switch r.SetKind {
	case SetMagnetic:
		r.Set, r.SetNote = r.Magnetic.Angle(), "set the magnetic bearing"
		return
	case SetGrid:
		r.SetNote = "the housing already allows for the GMA: set the grid bearing and do not correct again"
		return
	}
	r.SetNote = fmt.Sprintf("the housing is set to %s, but the GMA here is %s: this figure allows for the difference; do not correct again",
		c.Circle.GMAFigure(units.GMA(c.SetTo)), c.Circle.GMAFigure(r.GMA))
	r.caution(caution.Of(caution.HousingOff, c.Circle.GMAFigure(units.GMA(c.SetTo)), c.Circle.GMAFigure(r.GMA)), true)
}

// setting says what kind of figure goes on a compass where the grid-magnetic angle is g, and
// what is taken off the grid bearing to get it.
func setting(c plan.Compass, g units.GMA) (kind SetKind, off units.GMA) {
	switch {
	case !c.Set:
		return SetMagnetic, g
	case HousingFits(c, g):
		return SetGrid, 0
	}
	return SetAdjusted, units.GMA((g.Angle() - c.SetTo).Signed())
}

// North names what a figure to set on a compass is measured from: "mag", "grid", "" where there
// is none, or the angle of a housing whose setting it makes up for, "(2° E)".
func (k SetKind) North(c plan.Compass) string {
	switch k {
	case SetMagnetic:
		return "mag"
	case SetGrid:
		return "grid"
	case SetAdjusted:
		return "(" + SetToWords(c) + ")"
	}
	return ""
}

// SetToWords write the angle that the housing of a compass is set to: "2° E".
func SetToWords(c plan.Compass) string {
	return strings.NewReplacer(" east", " E", " west", " W").Replace(c.Circle.GMAFigure(units.GMA(c.SetTo)))
}

// BackSetFigure writes the back bearing as it is set on the same compass at the far end, with
// its north: "236° mag". Where nothing can be set it is the one on the grid.
func (r Reading) BackSetFigure(c plan.Compass) string {
	if !r.HasMagnetic {
		return r.ClosedBack(c.Circle).Grid + " grid"
	}
	kind, off := setting(c, r.BackGMA())
	return c.Circle.Close(r.Back, off).Magnetic + " " + kind.North(c)
}
