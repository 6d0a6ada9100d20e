package georef

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/mapio/pdf"
	"legwright/mapio/scan"
)

// asLarge is the part of the largest map's area from which another statement
// is taken to be of the same map, and not of an inset.
const asLarge = 0.9

// twiceApartPx is how far two statements about one map may put its middle
// apart, in pixels, that either is taken.
const twiceApartPx = 10

// fromPDF is what a page says about where its largest map lies: the first
// statement about it that names a known grid, or the first of all with what it
// named; nil without any. An inset never stands in for the map.
func fromPDF(p pdf.Page, h scan.Header) *Georeference {
	var all, usable []*Georeference
	for _, f := range p.Frames {
		if f.Area() < asLarge*p.Frames[0].Area() {
			break
		}
		place := fromFrame(f, p, h)
		all = append(all, place)
		if place.System != nil {
			usable = append(usable, place)
		}
	}
	switch {
	case len(all) == 0 && len(p.Doubts) > 0: // it may have a georeference that cannot be read
		return &Georeference{Source: "PDF", Unknown: strings.Join(p.Doubts, "; ")}
	case len(all) == 0:
		return nil
	case len(usable) == 0:
		return all[0]
	}
	place := usable[0]
	place.Notes = append(place.Notes, p.Doubts...)
	if len(p.Frames) > len(all) {
		place.Notes = append(place.Notes, "the PDF places more than one map; the largest one is taken")
	}
	for _, other := range usable[1:] {
		if words := contradiction(place, other, h); words != "" {
			return &Georeference{Source: place.Source, Unknown: words, Notes: place.Notes}
		}
	}
	return place
}

// contradiction says that two places put the middle of the picture further
// apart than twiceApartPx, or nothing.
func contradiction(a, b *Georeference, h scan.Header) string {
	if apart, err := apartPx(a, b, h, calib.PicturePt{Col: float64(h.Width) / 2, Row: float64(h.Height) / 2}); err == nil && apart <= twiceApartPx {
		return ""
	}
	return fmt.Sprintf("the PDF places its map twice, by its %s and by its %s, and the two contradict each other", a.Source, b.Source)
}

// apartPx is how far two places put a point of the picture apart, in pixels.
func apartPx(a, b *Georeference, h scan.Header, at calib.PicturePt) (float64, error) {
	fa, err := a.Calibration(h)
	if err != nil {
		return 0, err
	}
	fb, err := b.Calibration(h)
	if err != nil {
		return 0, err
	}
	wgs, _, err := b.System.ToWGS84(fb.ToGrid(at))
	if err != nil {
		return 0, err
	}
	there, _, _, err := a.System.FromWGS84(wgs)
	here := fa.ToGrid(at)
	return math.Hypot(here.E-there.E, here.N-there.N) / fa.MetresPerPixel(), err
}

func fromFrame(f pdf.Frame, p pdf.Page, h scan.Header) *Georeference {
	place := &Georeference{Source: f.Kind.String(), Notes: slices.Clone(f.Doubts)}
	l, err := f.Locate(p, h.Width, h.Height)
	if err != nil {
		place.Unknown = unusable(err)
		return place
	}
	place.Notes = append(place.Notes, l.Doubts...)
	place.System, place.Matrix = l.System, l.Matrix
	if l.Matrix == nil {
		for _, t := range l.Ties {
			place.Points = append(place.Points, tieAsPoint(t, l.System))
		}
		place.Notes = append(place.Notes, fmt.Sprintf(
			"the points that place the map miss an even fit by up to %.1f pixels", l.WorstPx))
	}
	return place
}

// tieAsPoint makes a control point of a tie, with its figures for a reference.
func tieAsPoint(t pdf.Tie, s *geodesy.System) calib.ControlPoint {
	e, n := s.InUnits(t.Grid)
	return calib.ControlPoint{
		At: calib.PicturePt{Col: t.Column, Row: t.Row}, Ref: t.Grid,
		Text: fmt.Sprintf("%.3f %.3f", e, n), Source: calib.FilePoint,
	}
}
