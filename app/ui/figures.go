package ui

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/ui/dial"
	"legwright/app/ui/ledger"
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
		Flags: flagWords(r.Flags),
	}
	if p.SpeedKmh > 0 {
		f.Time = units.Minutes(time.Duration(r.GroundM / 1000 / p.SpeedKmh * float64(time.Hour)))
	}
	if n, sigma := r.Paces(p); n > 0 {
		f.Paces = units.Count(n, sigma)
	}
	if !r.HasMagnetic {
		f.Angle = r.Grid.Angle()
		return f
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
			return "Set on the housing (magnetic), ± with your compass"
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

// flagWords are the few words of each flag, for the chips. A flag that is not
// listed is written in full.
func flagWords(flags []leg.Flag) []string {
	short := map[string]string{
		leg.Uncalibrated: "sheet not calibrated", leg.SheetUnproved: "sheet unproved",
		leg.NoRedundancy: "no point to spare", leg.SheetWarning: "calibration doubtful",
		leg.OutsideModel: "no magnetic model for the date", leg.BlackoutZone: "compass unusable here",
		leg.CautionZone: "weak magnetic field", leg.OutsideArea: "outside the grid's area",
		leg.ShortLeg: "too short for its ends", leg.CoarseShift: "lat/lon off by metres",
		leg.ShiftUnknown: "lat/lon not to be trusted",
		leg.HousingOff:   "housing set elsewhere", leg.BentGrid: "grid bends bearings",
		leg.OutsidePoints: "outside the control points", leg.Contradicted: "place contradicted",
		leg.LettersLent:   "letters not typed",
		leg.ImportedDoubt: "doubted by its file",
	}
	var out []string
	for _, f := range flags {
		words, ok := short[f.Code]
		if !ok {
			words = f.Text
		}
		if !slices.Contains(out, words) { // two sheets may say the same of themselves
			out = append(out, words)
		}
	}
	return out
}

// doubted marks a text that carries flags as the ledger marks a leg.
func doubted(text string, flags []leg.Flag) string {
	if len(flags) == 0 {
		return text
	}
	return text + " !"
}

// lineFigures is the text written along the line being dragged, after the
// figure to set.
func lineFigures(r leg.Reading, c units.Circle) string {
	text, magnetic := r.Figures(c)
	if magnetic != "" {
		text += "  " + magnetic
	}
	return text + "  " + units.Metres(r.GroundM, r.DistanceSigmaM)
}

// stripFigures is what the strip repeats of the reading it offers to keep, from
// long to short.
func stripFigures(r leg.Reading, c units.Circle) []string {
	figures := lineFigures(r, c)
	grid, _ := r.Figures(c)
	return []string{
		doubted(figures+"  "+r.Point, r.Flags), doubted(figures, r.Flags),
		doubted(grid, r.Flags), strings.TrimSpace(doubted("", r.Flags)),
	}
}

// ledgerRow writes one leg for the ledger. n counts from 1.
func ledgerRow(n int, r leg.Row, c units.Circle) ledger.Row {
	row := ledger.Row{
		ID: string(r.ID), Number: fmt.Sprint(n), From: r.From, To: r.To,
		TickOff: r.TickOff, TooFar: r.TooFar, Note: r.Note,
	}
	if r.Err != nil {
		row.Flagged, row.Grid, row.Note = true, "–", sentence(r.Err)
		return row
	}
	x := r.Reading
	closed := x.Closed(c)
	row.Flagged = len(x.Flags) > 0
	row.FromRef, row.ToRef = x.FromRef, x.ToRef
	row.Grid, row.GridHalf = closed.Grid, c.Half(x.BearingSigma)
	back := x.ClosedBack(c)
	row.Back = back.Grid + " grid"
	row.Distance, row.DistHalf, _ = strings.Cut(units.Metres(x.GroundM, x.DistanceSigmaM), " ± ")
	if row.DistHalf != "" {
		row.DistHalf = "± " + row.DistHalf + " m"
	}
	row.Magnetic = "none"
	if x.HasMagnetic {
		row.Magnetic, row.MagHalf = closed.Magnetic, c.Half(x.MagneticSigma)
		row.BackMag = back.Magnetic + " mag"
	}
	if r.Time > 0 {
		row.Time = units.Minutes(r.Time)
	}
	if r.RunTime > 0 {
		row.RunTime = units.Minutes(r.RunTime)
	}
	return row
}

func pixelWords(p view.PicPt) string { return fmt.Sprintf("col %.0f, row %.0f", p.X, p.Y) }
