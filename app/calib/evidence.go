package calib

import (
	"math"
	"slices"

	"legwright/app/geodesy"
)

// EvidenceSource says where the reference of evidence comes from. That decides
// which slips among the control points it can show: a figure read off the map's
// own grid is wrong in the same way as they are.
type EvidenceSource string

// The sources of evidence.
const (
	FromMargin   EvidenceSource = "margin"   // latitude and longitude printed in the map's margin
	FromList     EvidenceSource = "list"     // a published list, such as one of trig pillars
	FromReceiver EvidenceSource = "receiver" // a satellite receiver on the ground
	FromSheet    EvidenceSource = "sheet"    // the same feature on another sheet of the plan
	FromFile     EvidenceSource = "file"     // a file's georeference that the calibration was not made from
	FromTerrain  EvidenceSource = "terrain"  // a height model
	FromOwnGrid  EvidenceSource = "own-grid" // read off this map's own grid
)

// EvidenceSources lists the sources in the order in which they are offered.
func EvidenceSources() []EvidenceSource {
	return []EvidenceSource{FromMargin, FromList, FromReceiver, FromSheet, FromFile, FromTerrain, FromOwnGrid}
}

// Known reports whether s is one of the sources.
func (s EvidenceSource) Known() bool { return slices.Contains(EvidenceSources(), s) }

// Evidence is a position in the picture whose reference is known without the
// control points. Plans store it; whether it checks the sheet is judged anew at
// every reading, from Text where there is one.
type Evidence struct {
	Source  EvidenceSource
	At      PicturePt
	SigmaPx float64 // standard deviation of At per axis in pixels; 0 means DefaultSigmaPx
	Text    string  // the reference as it was typed, or the name of the mark on the other sheet

	Ref       geodesy.Grid // metres on the plan's grid: the centre of the reference's square
	SigmaRefM float64      // standard deviation of Ref per axis in metres

	// LatLon says that Text is latitude and longitude. A margin seldom says on
	// which datum it prints them; all other sources mean WGS 84.
	LatLon bool

	Sheet        string    // FromSheet: the other sheet's ID
	SheetAt      PicturePt // FromSheet: where the feature was clicked on that sheet
	SheetSigmaPx float64   // FromSheet: standard deviation of SheetAt per axis in pixels

	SquareM float64 // where above 0, Ref is known only but for multiples of this: a found line without its figure
}

// Point is the evidence as a row beside the control points.
func (e Evidence) Point() ControlPoint {
	return ControlPoint{At: e.At, Ref: e.Ref, Text: e.Text, SigmaPx: e.SigmaPx, SigmaRefM: e.SigmaRefM}
}

// Fault says why evidence from a file cannot be used, "" where it can.
func (e Evidence) Fault() string {
	if !e.Source.Known() {
		return "its source is not known"
	}
	if err := e.Point().check(0); err != nil {
		return "its position, reference or uncertainty is not a usable number"
	}
	for _, v := range []float64{e.SheetAt.Col, e.SheetAt.Row, e.SheetSigmaPx, e.SquareM} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return "one of its values is not a number"
		}
	}
	if e.SheetSigmaPx < 0 || e.SquareM < 0 || e.SquareM > maxMetres {
		return "its uncertainty or the side of its square is not valid"
	}
	return ""
}
