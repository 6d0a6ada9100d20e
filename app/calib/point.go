package calib

import (
	"math"

	"legwright/app/geodesy"
)

// PicturePt is a point in a picture in pixels, column to the right and row
// downwards. (0,0) is the top-left corner of the top-left pixel of the picture
// as it is shown, so the centre of that pixel is (0.5, 0.5).
type PicturePt struct{ Col, Row float64 }

// DefaultSigmaPx is the standard deviation per axis, in pixels, of a control
// point clicked on an enlarged intersection (common practice, no source).
const DefaultSigmaPx = 0.7

// drawnSigmaMm is the standard deviation per axis, in millimetres on the page, of a position
// that the file of a drawn page gives: DefaultSigmaPx at 200 pixels per inch (our own choice).
const drawnSigmaMm = 0.09

// DrawnSigmaPx is the standard deviation per axis, in pixels, of a position that the file of
// a page gives which was drawn at dpi pixels per inch: it is no better known on the ground
// where the page is drawn finer. 0, for DefaultSigmaPx, where dpi is 0: nothing was drawn.
func DrawnSigmaPx(dpi float64) float64 { return drawnSigmaMm * dpi / 25.4 }

// PointSource says where the reference of a control point comes from.
type PointSource string

// The sources of a control point.
const (
	TypedPoint PointSource = ""      // a person typed its reference
	FilePoint  PointSource = "file"  // the picture's file, or one beside it, gave it
	FoundPoint PointSource = "found" // counted along printed lines from a grid intersection that a person named
)

// Known reports whether s is one of the sources.
func (s PointSource) Known() bool { return s == TypedPoint || s == FilePoint || s == FoundPoint }

// ControlPoint is a point in the picture whose grid coordinates are known.
type ControlPoint struct {
	At        PicturePt
	Ref       geodesy.Grid // metres on the sheet's grid
	Text      string       // the reference as it was typed
	SigmaPx   float64      // standard deviation of At per axis in pixels; 0 means DefaultSigmaPx
	SigmaRefM float64      // standard deviation of Ref per axis in metres; 0 for an exact intersection
	Source    PointSource  // where the reference comes from
}

// sigmaPx returns the point's own σ in pixels with the default filled in.
func (p ControlPoint) sigmaPx() float64 {
	if p.SigmaPx == 0 {
		return DefaultSigmaPx
	}
	return p.SigmaPx
}

// Limits of what a control point may hold. Beyond them lies a slip or an
// attempt to break the arithmetic.
const (
	maxPixel   = 1e7 // a picture has fewer pixels along a side
	maxMetres  = 1e8 // no walking grid has coordinates beyond
	maxSigmaPx = 1e4
	maxSigmaM  = 1e6
	minSigmaPx = 1e-3
)

// check refuses values that are not finite or out of range; i counts from 0.
func (p ControlPoint) check(i int) error {
	for _, f := range []struct {
		what     string
		v        float64
		min, max float64
	}{
		{"column", p.At.Col, -maxPixel, maxPixel},
		{"row", p.At.Row, -maxPixel, maxPixel},
		{"easting", p.Ref.E, -maxMetres, maxMetres},
		{"northing", p.Ref.N, -maxMetres, maxMetres},
		{"the uncertainty in pixels", p.sigmaPx(), minSigmaPx, maxSigmaPx},
		{"the uncertainty of the reference in metres", p.SigmaRefM, 0, maxSigmaM},
	} {
		if math.IsNaN(f.v) || f.v < f.min || f.v > f.max {
			return &BadPoint{I: i, What: f.what, Value: f.v, Min: f.min, Max: f.max}
		}
	}
	return nil
}

func pictureDistance(a, b PicturePt) float64 { return math.Hypot(a.Col-b.Col, a.Row-b.Row) }

func gridDistance(a, b geodesy.Grid) float64 { return math.Hypot(a.E-b.E, a.N-b.N) }
