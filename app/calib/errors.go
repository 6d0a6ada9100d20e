package calib

import (
	"errors"
	"fmt"

	"legwright/app/caution"
)

// ErrTooFewPoints says that a calibration needs two control points.
var ErrTooFewPoints = errors.New("too few control points")

// ErrSingular says that a matrix maps the picture onto a line or a point, so
// that there is no way back from grid to picture.
var ErrSingular = errors.New("the calibration flattens the picture into a line")

// BadPoint says that a value of control point I (counted from 0) is not a
// number or outside its range.
type BadPoint struct {
	I        int
	What     string
	Value    float64
	Min, Max float64
}

// Error names the point (counted from 1), the value and the range.
func (e *BadPoint) Error() string {
	return fmt.Sprintf("control point %d: %s is %g, but must be between %g and %g", e.I+1, e.What, e.Value, e.Min, e.Max)
}

// Coincident says that control points I and J (counted from 0) lie at one
// point of the picture.
type Coincident struct {
	I, J       int
	DistancePx float64
}

// Error names both points (counted from 1) and says what to do.
func (e *Coincident) Error() string {
	return fmt.Sprintf("control points %d and %d are %.1f px apart: move one of them at least %g px away, preferably to the far side of the sheet",
		e.I+1, e.J+1, e.DistancePx, minApartPx)
}

// SameReference says that control points I and J (counted from 0) were given
// the same grid reference, typed as Text, at different points of the picture.
type SameReference struct {
	I, J int
	Text string
}

// Error names both points (counted from 1) and says what to do.
func (e *SameReference) Error() string {
	of := ""
	if e.Text != "" {
		of = " " + e.Text
	}
	return fmt.Sprintf("control points %d and %d have the same reference%s: correct one of them", e.I+1, e.J+1, of)
}

// Collinear says that the control points of a photograph lie on one line, or
// all but one of them, which leaves its perspective open. WidthPx is their
// spread across the line and LengthPx that along it, as root mean squares.
type Collinear struct{ WidthPx, LengthPx float64 }

// Error gives the spreads and says what to do.
func (e *Collinear) Error() string {
	return fmt.Sprintf("the control points, or all but one of them, are in a straight line (spread %.0f px along it, %.1f px across it). A photograph needs five points, four of them with no three in a straight line: add one well away from this line",
		e.LengthPx, e.WidthPx)
}

// Unfit says that a fit or a matrix is of no use as a calibration. Cautions
// say what would explain it, where anything does.
type Unfit struct {
	Reason   string
	Cautions []caution.Caution
	Err      error // ErrSingular, or nil
}

// Error gives the reason.
func (e *Unfit) Error() string { return e.Reason }

// Unwrap returns the sentinel behind the reason.
func (e *Unfit) Unwrap() error { return e.Err }
