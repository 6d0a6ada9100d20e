package plan

import (
	"slices"

	"legwright/app/calib"
)

// By what printed references are recognised (common practice, no source).
const (
	roundMinutes  = 0.5  // lines of latitude and longitude lie on multiples of it
	onLineM       = 0.5  // nearer to a line, a reference was read at it
	metresAMinute = 1855 // of latitude, about
)

// PlacedByFile reports whether a file gave the sheet's matrix or all of its
// control points.
func (s Sheet) PlacedByFile() bool {
	if len(s.Points) == 0 {
		return s.ByMatrix()
	}
	return !slices.ContainsFunc(s.Points, func(p calib.ControlPoint) bool { return p.Source != calib.FilePoint })
}

// RestsOnFile reports whether a file gave the sheet's matrix or any of its
// control points.
func (s Sheet) RestsOnFile() bool {
	return s.ByMatrix() || slices.ContainsFunc(s.Points, func(p calib.ControlPoint) bool { return p.Source == calib.FilePoint })
}
