package ui

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"legwright/app/geodesy"
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
		Set: r.SetFigure(c.Circle), SetLabel: setLabel(r),
		Grid:  withSigma(closed.Grid, r.BearingSigma),
		Back:  c.Circle.Figure(r.Back.Angle()),
		True:  c.Circle.Figure(r.True.Angle()),
		Point: r.Point, Distance: units.Metres(r.GroundM, r.DistanceSigmaM),
		Angle: r.Set, Circle: c.Circle, NoNeedle: !r.HasMagnetic,
		Flags: flagWords(r.Flags),
	}
	if p.SpeedKmh > 0 {
		f.Time = units.Minutes(time.Duration(r.GroundM / 1000 / p.SpeedKmh * float64(time.Hour)))
	}
	if p.PacesPer100m > 0 {
		f.Paces = fmt.Sprintf("%.0f", r.GroundM/100*p.PacesPer100m)
	}
	if !r.HasMagnetic {
		f.Angle = r.Grid.Angle()
		return f
	}
	f.Magnetic = withSigma(closed.Magnetic, r.MagneticSigma)
	f.BackMagnetic = r.ClosedBack(c.Circle).Magnetic
	f.GMA, f.Rule = closed.GMA, closed.Rule
	f.NeedleOff = (r.Set - r.Magnetic.Angle()).Signed()
	if c.Set {
		f.GateOff = c.SetTo
	}
	return f
}

// setLabel says above the large figure what it is.
func setLabel(r leg.Reading) string {
	switch r.SetKind {
	case leg.SetMagnetic:
		return "Set on the housing (magnetic)"
	case leg.SetGrid:
		return "Set the grid bearing: the housing allows for the GMA"
	case leg.SetAdjusted:
		return "Set this: it makes up for the housing's angle"
	}
	return "Nothing to set: no magnetic bearing"
}

// withSigma writes a bearing with its 95 % half width in degrees.
func withSigma(figure string, sigma units.Angle) string {
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
	closed := r.Closed(c)
	text := closed.Grid + " grid"
	if r.HasMagnetic {
		text += "  " + closed.Magnetic + " mag"
	}
	return text + "  " + units.Metres(r.GroundM, r.DistanceSigmaM)
}

// stripFigures is what the strip repeats of the reading it offers to keep, from
// long to short.
func stripFigures(r leg.Reading, c units.Circle) []string {
	figures := lineFigures(r, c)
	return []string{
		doubted(figures+"  "+r.Point, r.Flags), doubted(figures, r.Flags),
		doubted(r.Closed(c).Grid+" grid", r.Flags), strings.TrimSpace(doubted("", r.Flags)),
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
	row.Grid, row.Magnetic = closed.Grid, closed.Magnetic
	row.Back = c.Figure(x.Back.Angle())
	row.Distance = units.Metres(x.GroundM, x.DistanceSigmaM)
	if !x.HasMagnetic {
		row.Magnetic = "none"
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

func latLonWords(ll geodesy.LatLon) string { return geodesy.FormatLatLon(ll) }
