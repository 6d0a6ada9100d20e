package teach

import (
	"math"
	"slices"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/units"
)

// Trained returns a reading with a GMA that was declared for a lesson instead of the
// ground's. It is for the screen alone: it carries a stop, for nobody may walk on it.
// What the magnetic model says of the date falls away, what it says of the position stays.
// The figure to set is that of a housing that is not set for declination.
func Trained(r leg.Reading, g units.GMA, c units.Circle) leg.Reading {
	compass := math.Max(r.SetSigma.Rad()*r.SetSigma.Rad()-r.MagneticSigma.Rad()*r.MagneticSigma.Rad(), 0)
	r.HasMagnetic = true
	r.GMA = g
	r.Declination = units.Declination((g.Angle() + r.Convergence.Angle()).Signed())
	r.DeclinationSigma = 0
	r.Magnetic, r.BackMagnetic = r.Grid.Magnetic(g), r.Back.Magnetic(g)
	r.MagneticSigma, r.BackMagneticSigma = r.TrueSigma, r.TrueSigma
	r.Model = ""
	r.Set, r.SetSigma, r.SetKind = r.Magnetic.Angle(), units.Angle(math.Sqrt(compass+r.TrueSigma.Rad()*r.TrueSigma.Rad())), leg.SetMagnetic
	r.SetNote = "set the magnetic bearing of the lesson"
	r.Cautions = slices.DeleteFunc(slices.Clone(r.Cautions), func(c caution.Caution) bool {
		return c.Code == caution.NoDate || c.Code == caution.OutsideModel || c.Code == caution.HousingOff
	})
	r.Cautions = append(r.Cautions, trainingCaution(g, c))
	return r
}

func trainingCaution(g units.GMA, c units.Circle) caution.Caution {
	return caution.Of(caution.TrainingGMA, c.GMAFigure(g))
}
