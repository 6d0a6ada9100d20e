package dial

import (
	"strings"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/ui/dial/housing"
	"legwright/app/units"
)

// FiguresOf writes a reading for the dial of a party that takes so long to walk it, ""
// where that is not known, and so many double paces to 100 m of it.
func FiguresOf(r leg.Reading, p plan.Party, walking string, per100m float64) Figures {
	c := p.Compass
	closed := r.Closed(c.Circle)
	f := Figures{
		Set: withSigma(r.SetFigure(c.Circle), r.SetSigma, c.Circle), SetLabel: setLabel(r, c),
		Point: r.Point, Distance: units.Metres(r.GroundM, r.DistanceSigmaM),
		Texts: Texts{
			Grid: withSigma(closed.Grid, r.BearingSigma, c.Circle),
			Back: withSigma(c.Circle.Figure(r.Back.Angle()), r.BearingSigma, c.Circle),
			True: c.Circle.Figure(r.True.Angle()),
			Time: walking,
		},
		Face:  housing.State{At: r.Set, Circle: c.Circle, Needle: r.HasMagnetic, Gate: true},
		Stop:  caution.Lead(r.Cautions, caution.OnLeg),
		Stops: caution.Shorts(caution.OfGrade(r.Cautions, caution.Stop)),
		Notes: caution.Shorts(caution.OfGrade(caution.OfLeg(r.Cautions), caution.Note)),
	}
	if n, sigma := r.Paces(p, per100m); n > 0 {
		f.Texts[Paces] = units.Count(n, sigma)
	}
	if !r.HasMagnetic {
		return f // with nothing to set, the ring rests
	}
	f.Texts[Magnetic] = withSigma(closed.Magnetic, r.MagneticSigma, c.Circle)
	f.Texts[BackMagnetic] = withSigma(r.ClosedBack(c.Circle).Magnetic, r.BackMagneticSigma, c.Circle)
	f.Texts[GMA], f.Texts[Rule] = closed.GMA, closed.Rule
	f.Face.NeedleOff = (r.Set - r.Magnetic.Angle()).Signed()
	if c.Set {
		f.Face.GateOff = c.SetTo
	}
	return f
}

// setLabel says above the large figure what it is, and what its ± holds.
func setLabel(r leg.Reading, c plan.Compass) string {
	switch r.SetKind {
	case leg.SetMagnetic:
		if c.Sigma > 0 {
			return "Set on the housing (magnetic); ± includes compass error"
		}
		return "Set on the housing (magnetic)"
	case leg.SetGrid:
		return "Set the grid bearing: the housing allows for the GMA"
	case leg.SetAdjusted:
		return "Set this (allows for your compass's setting)"
	}
	return "Nothing to set: no magnetic bearing"
}

// withSigma writes a bearing with its 95 % half width: as everywhere from the
// printed step on, and below that to the place that it supports.
func withSigma(figure string, sigma units.Angle, c units.Circle) string {
	half := c.Half(sigma)
	if half == "" {
		half = c.FineHalf(sigma)
	}
	return strings.TrimSpace(figure + " " + half)
}
