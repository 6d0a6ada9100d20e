package georef

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/mapio/scan"
	"legwright/mapio/tiff"
)

// fromTIFF is what the GeoTIFF tags (OGC 19-008r4) of a page say about where it lies; nil
// where it has none, or where they give nothing but a size.
func fromTIFF(g *tiff.Geo, h scan.Header) *Georeference {
	if g == nil || !positioned(g) {
		return nil
	}
	s, err := systemOfTIFF(g)
	if err != nil {
		return &Georeference{Source: tiffSource, Notes: g.Notes, Unknown: unusable(err)}
	}
	return onGridOfTIFF(g, s, h)
}

const tiffSource = "GeoTIFF keys"

// positioned reports whether the tags give a position, and not only a scale.
func positioned(g *tiff.Geo) bool {
	_, even := g.Affine()
	return even || len(g.Points) >= 2
}

// onGridOfTIFF is what the figures of the tags say on a grid; nil where they give nothing
// but a size.
func onGridOfTIFF(g *tiff.Geo, s *geodesy.System, h scan.Header) *Georeference {
	if !positioned(g) {
		return nil
	}
	p := &Georeference{Source: tiffSource, Notes: g.Notes, System: s}
	unit, err := unitOfTIFF(g, s)
	if err != nil {
		p.System, p.Unknown = nil, unusable(err)
		return p
	}
	if a, even := g.Affine(); even {
		m := worldOfTIFF(a, unit).ofShown(h).Matrix()
		p.Matrix = &m
		return p
	}
	for _, t := range g.Points {
		p.Points = append(p.Points, pointOfTIFF(t, unit, s, h))
	}
	return p
}

// worldOfTIFF is an affine of the file's own units in metres, from the corner of the first
// stored pixel.
func worldOfTIFF(a tiff.Affine, unit float64) World {
	return World{
		A: a.XColumn * unit, B: a.XRow * unit, C: a.X0 * unit,
		D: a.YColumn * unit, E: a.YRow * unit, F: a.Y0 * unit,
	}
}

// OfTIFF returns the grid that GeoTIFF tags name and the transform that they state, from stored
// columns and rows counted from the corner of the first pixel, for readers of what is no
// picture, such as terrain. The error says what the tags lack; it is a sentence without
// a subject.
func OfTIFF(g *tiff.Geo) (*geodesy.System, World, error) {
	s, err := systemOfTIFF(g)
	if err != nil {
		return nil, World{}, err
	}
	unit, err := unitOfTIFF(g, s)
	if err != nil {
		return nil, World{}, err
	}
	a, even := g.Affine()
	if !even {
		return nil, World{}, errors.New("its tags do not give its scale and position")
	}
	return s, worldOfTIFF(a, unit), nil
}

// ofShown turns a transform of the stored picture, in the corner convention, into that of
// the picture as shown.
func (w World) ofShown(h scan.Header) World {
	s := h.StoredFromShown()
	return World{
		A: w.A*s[0] + w.B*s[3], B: w.A*s[1] + w.B*s[4], C: w.A*s[2] + w.B*s[5] + w.C,
		D: w.D*s[0] + w.E*s[3], E: w.D*s[1] + w.E*s[4], F: w.D*s[2] + w.E*s[5] + w.F,
	}
}

func pointOfTIFF(t tiff.TiePoint, unit float64, s *geodesy.System, h scan.Header) calib.ControlPoint {
	g := geodesy.Grid{E: t.X * unit, N: t.Y * unit}
	e, n := s.InUnits(g)
	m := h.StoredFromShown() // solved for the place as shown
	det := m[0]*m[4] - m[1]*m[3]
	x, y := t.Column-m[2], t.Row-m[5]
	at := calib.PicturePt{Col: (x*m[4] - y*m[1]) / det, Row: (y*m[0] - x*m[3]) / det}
	return calib.ControlPoint{At: at, Ref: g, Text: fmt.Sprintf("%.3f %.3f", e, n), Source: calib.FilePoint}
}

// Keys of the standard, and the words with which some programs begin a definition in a
// citation (common practice, no source).
const (
	keyLinearUnits    = 3076
	keyLinearUnitSize = 3077
	definitionMark    = "ESRI PE String ="
)

// systemOfTIFF is the grid that the keys name by a code or by a definition in
// their citation.
func systemOfTIFF(g *tiff.Geo) (*geodesy.System, error) {
	code := g.ProjectedCRS
	if g.Model == tiff.Geographic {
		code = g.GeographicCRS
	}
	switch {
	case g.Model == tiff.Geocentric:
		return nil, errors.New("its coordinates are geocentric (measured from the centre of the earth), which no map grid uses")
	case code != 0 && code != tiff.UserDefined:
		s, err := geodesy.Lookup(geodesy.EPSG(code))
		if _, more := g.Number(keyMethod); err != nil && more {
			return spelt(g) // a code that is not known, with the figures beside it
		}
		return s, err
	}
	for _, words := range []string{g.ProjectedCitation, g.Citation, g.GeographicCitation} {
		if _, text, ok := strings.Cut(words, definitionMark); ok {
			return geodesy.Define(strings.TrimSpace(text))
		}
	}
	if code == tiff.UserDefined {
		return spelt(g)
	}
	return nil, errors.New("it gives coordinates, but names no grid")
}

// unitOfTIFF is the unit of the file's coordinates, in metres. A file that names another
// unit than its grid has contradicts itself.
func unitOfTIFF(g *tiff.Geo, s *geodesy.System) (float64, error) {
	own := s.Unit().Metres
	if g.Model != tiff.Projected {
		return own, nil
	}
	said, err := saidUnit(g)
	if err != nil {
		return 0, err
	}
	if said != 0 && math.Abs(said/own-1) > 1e-9 {
		return 0, fmt.Errorf("its coordinates are in units of %g m, but %s is in units of %g m: one of the two is wrong", said, s, own)
	}
	return own, nil
}

// saidUnit is the unit that the keys name, in metres, 0 if they name none. The codes are
// those of the EPSG dataset.
func saidUnit(g *tiff.Geo) (float64, error) {
	code, _ := g.Number(keyLinearUnits)
	switch code {
	case 0:
		return 0, nil
	case 9001:
		return 1, nil
	case 9002: // foot
		return 0.3048, nil
	case 9003: // US survey foot
		return 1200.0 / 3937, nil
	case tiff.UserDefined:
		if v, ok := g.Number(keyLinearUnitSize); ok && v > 0 {
			return v, nil
		}
	}
	return 0, fmt.Errorf("this program does not know its unit of length, EPSG:%g: only metres, feet and US survey feet are read", code)
}
