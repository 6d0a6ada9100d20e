package check

import (
	"slices"

	"legwright/app/calib"
	"legwright/app/calib/slips"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/units"
)

// Input is all sheets of a plan, which share one grid.
type Input struct {
	Sheets []Sheet
	Names  []Name // wrong names that the grid may have, such as the zone beside it
	// Stop is asked now and then; once it reports true the sheets that are not judged yet
	// are given up, see NotJudged. nil never stops.
	Stop func() bool
}

// Sheet is what is judged of one sheet.
type Sheet struct {
	ID, Name      string
	Fit           *calib.Calibration // nil: not calibrated
	Width, Height int                // of the picture in pixels
	Coords        []slips.Coords     // figures of the control points as typed; nil: metres on the grid
	Unit          string             // of easting and northing; "" means "m"
	ByFile        bool               // a file gave the matrix or control points
	Lettered      bool               // control points were typed with the letters of the grid, which speak of its name
	Misquoted     string             // a control point that lies elsewhere than its reference says, "" none
	FileStop      bool               // the file itself says not to walk on its georeference
	Evidence      []Evidence
	Ground        func(geodesy.Grid) (heightM float64, ok bool) // of terrain; nil: there is none
	PostM         float64                                       // how far apart its posts stand
	ContourM      float64                                       // between the contours that the sheet prints, 0 where nobody said
	// Chosen says that a control point was corrected where several slips explained
	// the points as well: until evidence decides, the choice may be wrong.
	Chosen bool
	// Known is the verdict where the same sheet was judged before on the same grid,
	// nil elsewhere. Of one that rests on another sheet it is not used.
	Known *Verdict
}

// Evidence is stored evidence and what its reference may mean on the grid.
type Evidence struct {
	calib.Evidence
	// Meanings are the positions it may mean: one, or for a margin's latitude and
	// longitude one on WGS 84 and one on the grid's own datum. None: it does not
	// count, and Why says why. Those of FromSheet are found here.
	Meanings   []Meaning
	Why        string
	HeightM    float64      // FromTerrain: the height that was read off a contour
	Corner     geodesy.Grid // of a typed grid reference: the south-west corner of its square
	Zone       bool         // the reference names its zone
	Letters    bool         // the reference has the letters of the grid, or names its zone
	Unlettered bool         // the sheet itself supplied the reference's letters
}

// Meaning is one meaning of a reference: the centre of its square and its standard
// deviation per axis in metres.
type Meaning struct {
	Ref    geodesy.Grid
	SigmaM float64
	Own    bool // latitude and longitude on the grid's own datum, not WGS 84
}

// Name is a wrong name of the plan's grid. On returns where ground lies on the grid
// of that name, given where it lies on the plan's; false where it has no place there.
type Name struct {
	Words string // such as "the zone is 31, not 30"
	On    func(geodesy.Grid) (geodesy.Grid, bool)
}

// Scope is what a check covers.
type Scope string

// The scopes of a check.
const (
	OnGrid     Scope = "grid"               // bearings, distances and references on the grid
	WithLatLon Scope = "latitude-longitude" // latitude and longitude as well
)

// Verdict is what evidence and slips say of one sheet.
type Verdict struct {
	Checked  bool
	Waits    bool    // the sheet is not judged yet; see NotJudged
	By       string  // what checks it, in words
	WithinM  float64 // to how many metres; errors beyond are rarer than 1 %
	Scope    Scope
	Cautions []caution.Caution // gravest first; those of the fit itself are its own
	Open     []slips.Slip      // that would not show and would do harm
	Named    []slips.Slip      // that explain why points and evidence do not agree, likeliest first
	Guesses  bool              // the slip may be another than those named
	Advice   string            // of an unchecked sheet: a sentence on what would check it
	At       calib.PicturePt   // of an unchecked sheet: where the advice, or what closes open slips, is best followed
	Evidence []Result          // of each piece of evidence
}

// CautionsWith returns the cautions of the verdict and those of the sheet's fit,
// gravest first.
// What a named slip explains is not said again.
func (v Verdict) CautionsWith(fit *calib.Calibration) []caution.Caution {
	out := slices.Clone(v.Cautions)
	for _, k := range fit.Cautions() {
		if len(v.Named) == 0 || k.Code != caution.PoorFit && k.Code != caution.Stretched {
			out = append(out, k)
		}
	}
	return caution.GravestFirst(out)
}

// StopShort names in a few words the gravest stop on a sheet with this fit, "" where
// there is none.
func (v Verdict) StopShort(fit *calib.Calibration) string {
	if stops := caution.OfGrade(v.CautionsWith(fit), caution.Stop); len(stops) > 0 {
		return stops[0].Short()
	}
	return ""
}

// Short says in a few words how far a sheet with this fit can be trusted: "checked to
// ± 12 m", "unchecked", or "STOP:" with the gravest stop.
func (v Verdict) Short(fit *calib.Calibration) string {
	if stop := v.StopShort(fit); stop != "" {
		return "STOP: " + stop
	}
	if v.Checked {
		return "checked to ± " + units.ErrorM(v.WithinM)
	}
	return "unchecked"
}
