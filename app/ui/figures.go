package ui

import (
	"fmt"
	"strings"
	"time"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/ui/dial"
	"legwright/app/units"
	"legwright/canvas/view"
)

// figuresOf writes a reading for the dial of a party.
func figuresOf(r leg.Reading, p plan.Party) dial.Figures {
	c := p.Compass
	closed := r.Closed(c.Circle)
	f := dial.Figures{
		Set: withSigma(r.SetFigure(c.Circle), r.SetSigma, c.Circle), SetLabel: setLabel(r, c),
		Grid:  withSigma(closed.Grid, r.BearingSigma, c.Circle),
		Back:  withSigma(c.Circle.Figure(r.Back.Angle()), r.BearingSigma, c.Circle),
		True:  c.Circle.Figure(r.True.Angle()),
		Point: r.Point, Distance: units.Metres(r.GroundM, r.DistanceSigmaM),
		Angle: r.Set, Circle: c.Circle, NoNeedle: !r.HasMagnetic,
		Stop:  caution.Lead(r.Cautions, caution.OnLeg),
		Stops: caution.Shorts(caution.OfGrade(r.Cautions, caution.Stop)),
		Notes: caution.Shorts(caution.OfGrade(caution.OfLeg(r.Cautions), caution.Note)),
	}
	if p.SpeedKmh > 0 {
		f.Time = units.Minutes(time.Duration(r.GroundM / 1000 / p.SpeedKmh * float64(time.Hour)))
	}
	if n, sigma := r.Paces(p); n > 0 {
		f.Paces = units.Count(n, sigma)
	}
	if !r.HasMagnetic {
		return f // with nothing to set, the ring rests
	}
	f.Magnetic = withSigma(closed.Magnetic, r.MagneticSigma, c.Circle)
	f.BackMagnetic = withSigma(r.ClosedBack(c.Circle).Magnetic, r.BackMagneticSigma, c.Circle)
	f.GMA, f.Rule = closed.GMA, closed.Rule
	f.NeedleOff = (r.Set - r.Magnetic.Angle()).Signed()
	if c.Set {
		f.GateOff = c.SetTo
	}
	return f
}

// setLabel says above the large figure what it is, and what its ± holds.
func setLabel(r leg.Reading, c plan.Compass) string {
	switch r.SetKind {
	case leg.SetMagnetic:
		if c.Sigma > 0 {
			return "Set on the housing (magnetic), ± includes your compass"
		}
		return "Set on the housing (magnetic)"
	case leg.SetGrid:
		return "Set the grid bearing: the housing allows for the GMA"
	case leg.SetAdjusted:
		return "Set this (allows for your compass's setting)"
	}
	return "Nothing to set: no magnetic bearing"
}

// withSigma writes a bearing with its 95 % half width: as everywhere from the printed
// step on, and below that in degrees.
func withSigma(figure string, sigma units.Angle, c units.Circle) string {
	if half := c.Half(sigma); half != "" {
		return figure + " " + half
	}
	if sigma <= 0 {
		return figure
	}
	_, half, ok := strings.Cut(units.DegreesFigure(0, sigma), " ± ")
	if !ok {
		return figure
	}
	return figure + " ± " + half + "°"
}

// marked marks a text whose figures nobody may walk on, where there is no room to say
// why.
func marked(text string, stop bool) string {
	if !stop {
		return text
	}
	return strings.TrimSpace("! " + text)
}

// liveFigures is the text written along the line being dragged, after the figure to
// set: what that figure is, the other bearing and the distance.
func liveFigures(r leg.Reading, c units.Circle) string {
	closed := r.Closed(c)
	distance := "  " + units.Metres(r.GroundM, r.DistanceSigmaM)
	half := c.Half(r.MagneticSigma)
	if half != "" {
		half = " " + half
	}
	switch r.SetKind {
	case leg.SetMagnetic:
		return "mag" + half + "  " + closed.Grid + " grid" + distance
	case leg.SetGrid:
		return "grid" + half + "  " + closed.Magnetic + " mag" + distance
	}
	return lineFigures(r, c)
}

// lineFigures writes both bearings with their north and the distance, each with its ±.
func lineFigures(r leg.Reading, c units.Circle) string {
	text, magnetic := r.Figures(c)
	if magnetic != "" {
		text += "  " + magnetic
	}
	return text + "  " + units.Metres(r.GroundM, r.DistanceSigmaM)
}

// stripFigures is what the strip repeats of the reading it offers to keep, from
// long to short; the stops come first and stay longest.
func stripFigures(r leg.Reading, c units.Circle) []string {
	figures := lineFigures(r, c)
	grid, _ := r.Figures(c)
	if lead := caution.Lead(r.Cautions, caution.OnLeg); lead != "" {
		return []string{lead + ";  " + figures, lead + ";  " + grid, lead, "STOP"}
	}
	return []string{figures + "  " + r.Point, figures, grid, ""}
}

func pixelWords(p view.PicPt) string { return fmt.Sprintf("col %.0f, row %.0f", p.X, p.Y) }
