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

// asLarge is the part of the largest map's area from which on another georeference is of
// the same map, and not of an inset.
const asLarge = 0.9

// twiceApartPx is how far apart, in pixels, two georeferences of one map may put its
// middle without contradicting each other.
const twiceApartPx = 10

// fromPDF is the georeference of the largest map on a page: the first that names a known
// grid, else the first of all; nil without any. An inset never replaces the map.
func fromPDF(p pdf.Page, h scan.Header) *Georeference {
	var all, usable []*Georeference
	for _, f := range p.Frames {
		if f.Area() < asLarge*p.Frames[0].Area() {
			break
		}
		ref := fromFrame(f, p, h)
		all = append(all, ref)
		if ref.System != nil {
			usable = append(usable, ref)
		}
	}
	switch {
	case len(all) == 0 && len(p.Notes) > 0: // it may have a georeference that cannot be read
		return &Georeference{Source: "PDF", Unknown: strings.Join(p.Notes, "; ")}
	case len(all) == 0:
		return nil
	case len(usable) == 0:
		return all[0]
	}
	ref := usable[0]
	ref.Notes = append(ref.Notes, p.Notes...)
	if len(p.Frames) > len(all) {
		ref.Notes = append(ref.Notes, "the PDF page has more than one map: the largest is used")
	}
	for _, other := range usable[1:] {
		if words := disagreement(ref, other, h); words != "" {
			return &Georeference{Source: ref.Source, Unknown: words, Notes: ref.Notes}
		}
	}
	return ref
}

// disagreement says that two georeferences put the middle of the picture farther apart
// than twiceApartPx, or returns "".
func disagreement(a, b *Georeference, h scan.Header) string {
	if apart, err := apartPx(a, b, h, calib.PicturePt{Col: float64(h.Width) / 2, Row: float64(h.Height) / 2}); err == nil && apart <= twiceApartPx {
		return ""
	}
	return fmt.Sprintf("the PDF places its map twice, by its %s and by its %s, and the two contradict each other: neither is used", a.Source, b.Source)
}

// apartPx is how far apart two georeferences put a point of the picture, in pixels.
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
	ref := &Georeference{Source: f.Kind.String(), Notes: slices.Clone(f.Notes)}
	l, err := f.Locate(p, h.Width, h.Height)
	if err != nil {
		ref.Unknown = unusable(err)
		return ref
	}
	ref.Notes = append(ref.Notes, l.Notes...)
	ref.System, ref.Matrix = l.System, l.Matrix
	if l.Matrix == nil {
		for _, t := range l.Ties {
			ref.Points = append(ref.Points, tieAsPoint(t, l.System, h.PageDPI))
		}
		ref.Notes = append(ref.Notes, fmt.Sprintf(
			"the points that place the map are up to %.1f pixels from where the best fit puts them", l.WorstPx))
	}
	return ref
}

// tieAsPoint makes a control point of a tie point; its reference is the tie's figures.
func tieAsPoint(t pdf.Tie, s *geodesy.System, dpi float64) calib.ControlPoint {
	e, n := s.InUnits(t.Grid)
	return calib.ControlPoint{
		At: calib.PicturePt{Col: t.Column, Row: t.Row}, Ref: t.Grid,
		Text: fmt.Sprintf("%.3f %.3f", e, n), Source: calib.FilePoint,
		SigmaPx: calib.DrawnSigmaPx(dpi),
	}
}
