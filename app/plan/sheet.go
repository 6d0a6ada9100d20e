package plan

import (
	"errors"
	"slices"
	"strings"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// ErrUncalibrated is returned for a sheet that has neither two control points
// nor a given matrix.
var ErrUncalibrated = errors.New("the sheet is not calibrated: calibrate it first")

// EmbeddedPrefix begins the picture name of a sheet whose picture is carried
// inside the program, such as the demo.
const EmbeddedPrefix = "embedded:"

// Sheet is one map picture with what calibrates it.
type Sheet struct {
	ID      ID
	Picture string // path relative to the plan, with slashes; absolute until the plan has a path
	Width   int    // pixels, as shown
	Height  int    // pixels, as shown
	SHA256  string // of the picture file, 64 hexadecimal digits
	DPI     float64
	Medium  calib.Medium // how the picture came about
	Focal   float64      // of the camera, in diagonals of the picture; 0 where unknown
	Page    Page         // of a document, zero for a picture by itself
	Contour float64      // metres between the contours that it prints, 0 until somebody says
	Code    geodesy.Code // of the grid, empty until it is named

	Points  []calib.ControlPoint
	World   *[6]float64 // matrix given by the picture's file or one beside it, used where there are no control points
	WorldPx float64     // of a position by that matrix, beside WorldM: σ per axis in pixels that it has by itself; 0 means calib.DefaultSigmaPx
	WorldM  float64     // σ per axis in metres of that matrix, or without one of the points that the picture's file gave; 0 where it does not say

	// Evidence is what a check of the sheet rests on. The plan stores no verdict:
	// leg.Reader.Verdict judges it again.
	Evidence []calib.Evidence
	// SlipChosen says that a control point was corrected where several slips
	// explained the points as well.
	SlipChosen bool

	// WasChecked says that evidence checked the sheet when the plan was saved. It is
	// never believed, and serves to say that it does no longer.
	WasChecked bool

	// FileCautions are in the text form of caution.Format what the picture's file
	// says against the georeference that it gives.
	FileCautions string

	Extra Extra
}

// Embedded reports whether the picture is carried inside the program.
func (s Sheet) Embedded() bool { return strings.HasPrefix(s.Picture, EmbeddedPrefix) }

// ByMatrix reports whether the sheet is calibrated by the matrix that its file
// gives: control points of its own take the matrix's place.
func (s Sheet) ByMatrix() bool { return s.World != nil && len(s.Points) == 0 }

// Calibration returns the sheet's calibration. The error is ErrUncalibrated
// where there are too few points or no grid is named, or the error of the fit.
func (s Sheet) Calibration() (*calib.Calibration, error) {
	if s.Code == "" {
		return nil, ErrUncalibrated
	}
	if s.ByMatrix() {
		return calib.FromMatrix(*s.World, s.WorldM, s.WorldPx)
	}
	if len(s.Points) < 2 {
		return nil, ErrUncalibrated
	}
	return calib.Fit(s.Points, s.fitOptions())
}

func (s Sheet) fitOptions() calib.Options {
	o := calib.Options{Medium: s.Medium, Focal: s.Focal, DPI: s.DPI, Width: s.Width, Height: s.Height}
	if s.World == nil {
		o.SharedM = s.WorldM
	}
	return o
}

// CheckPoints returns the error of Calibration that its control points have by
// themselves, such as two at one position; it takes no fit to find.
func (s Sheet) CheckPoints() error {
	if s.Code == "" || len(s.Points) < 2 {
		return nil
	}
	return calib.Check(s.Points, s.fitOptions())
}

// SameCalibration reports whether two sheets are calibrated by the same
// things.
func (s Sheet) SameCalibration(t Sheet) bool {
	return s.Code == t.Code && s.Medium == t.Medium && s.Focal == t.Focal && s.DPI == t.DPI && s.Page == t.Page &&
		s.Width == t.Width && s.Height == t.Height && // paper bends by parts of the diagonal
		slices.Equal(s.Points, t.Points) && sameMatrix(s.World, t.World) && s.WorldM == t.WorldM && s.WorldPx == t.WorldPx
}

func sameMatrix(a, b *[6]float64) bool {
	if a == nil || b == nil {
		return a == b
	}
	return *a == *b
}

// WithPoint returns the sheet with one more control point.
func (s Sheet) WithPoint(p calib.ControlPoint) Sheet {
	s.Points = append(slices.Clone(s.Points), p)
	return s
}

// SetPoint returns the sheet with control point i replaced. An index outside
// the list changes nothing.
func (s Sheet) SetPoint(i int, p calib.ControlPoint) Sheet {
	if i < 0 || i >= len(s.Points) {
		return s
	}
	s.Points = slices.Clone(s.Points)
	s.Points[i] = p
	return s
}

// WithoutPoint returns the sheet without control point i. An index outside
// the list changes nothing.
func (s Sheet) WithoutPoint(i int) Sheet {
	if i < 0 || i >= len(s.Points) {
		return s
	}
	s.Points = slices.Delete(slices.Clone(s.Points), i, i+1)
	if len(s.Points) == 0 && s.World == nil {
		s.WorldM = 0 // with the last of the file's points
	}
	return s
}

// Same reports whether two sheets are the same picture, calibrated and checked by
// the same things.
func (s Sheet) Same(t Sheet) bool {
	return s.ID == t.ID && s.Picture == t.Picture && s.SHA256 == t.SHA256 &&
		s.FileCautions == t.FileCautions &&
		slices.Equal(s.Evidence, t.Evidence) && s.Contour == t.Contour && s.SlipChosen == t.SlipChosen && s.SameCalibration(t)
}
