package scan

import (
	"fmt"
	"slices"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/mapio/pdf"
)

// placeOfPDF is what a page says about where it lies: the first of its frames
// that names a grid, or the first of all with what it named; nil without any.
func placeOfPDF(p pdf.Page, h Header) *Place {
	var first *Place
	for _, f := range p.Frames {
		place := placeOfFrame(f, p, h)
		if place.System != nil {
			place.Warnings = append(place.Warnings, p.Doubts...)
			return place
		}
		if first == nil {
			first = place
		}
	}
	return first
}

func placeOfFrame(f pdf.Frame, p pdf.Page, h Header) *Place {
	place := &Place{Source: f.Kind.String(), Warnings: slices.Clone(f.Doubts)}
	l, err := f.Locate(p, h.Width, h.Height)
	if err != nil {
		place.Unknown = err.Error()
		return place
	}
	place.System, place.Matrix = l.System, l.Matrix
	if l.Matrix == nil {
		for _, t := range l.Ties {
			place.Points = append(place.Points, tieAsPoint(t, l.System))
		}
		place.Warnings = append(place.Warnings, fmt.Sprintf(
			"the points that place the map miss an even fit by up to %.1f pixels", l.WorstPx))
	}
	if len(p.Frames) > 1 {
		place.Warnings = append(place.Warnings, "the PDF places more than one map; the largest one is taken")
	}
	return place
}

// tieAsPoint makes a control point of a tie, with its figures for a reference.
func tieAsPoint(t pdf.Tie, s *geodesy.System) calib.ControlPoint {
	e, n := s.InUnits(t.Grid)
	return calib.ControlPoint{
		At: calib.PicturePt{Col: t.Column, Row: t.Row}, Ref: t.Grid,
		Text: fmt.Sprintf("%.3f %.3f", e, n),
	}
}
