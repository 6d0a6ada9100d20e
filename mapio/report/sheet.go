package report

import (
	"errors"
	"image"
	"io"
	"math"
	"time"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// ErrNothing is returned for a sheet without a calibration or a grid.
var ErrNothing = errors.New("there is no calibration to report: give the control points and the grid")

// Sheet is what a report tells.
type Sheet struct {
	Name        string      // of the picture or the file of points
	Picture     image.Image // of any size, reduced for the page; nil without one
	Width       float64     // of the picture as it was calibrated, pixels; 0 without one
	Height      float64     // likewise
	System      *geodesy.System
	Calibration *calib.Calibration
	From        string // what the calibration was made from, in words
	Proof       calib.Proof

	Contradicted calib.Contradiction // what the printed grid says against the file's place

	Cautions []string // sentences, gravest first
	DPI      float64  // of the scan, 0 where unknown
	Made     time.Time
	Version  string // of the program, without its name
}

// Write writes the report as a PDF of one A4 page. Letters outside the basic
// plane of Unicode and control characters are replaced by a box. The error is
// ErrNothing, or that of writing.
func Write(w io.Writer, s Sheet) error {
	p, err := compose(s)
	if err != nil {
		return err
	}
	return p.Output(w)
}

// frame is the part of the picture that is drawn, in pixels.
type frame struct{ left, top, right, bottom float64 }

// frameOf is the whole picture or, without one, the control points with a
// margin around them.
func frameOf(s Sheet) frame {
	if s.Width > 0 && s.Height > 0 {
		return frame{0, 0, s.Width, s.Height}
	}
	f := frame{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, p := range s.Calibration.Points() {
		f.left, f.right = math.Min(f.left, p.At.Col), math.Max(f.right, p.At.Col)
		f.top, f.bottom = math.Min(f.top, p.At.Row), math.Max(f.bottom, p.At.Row)
	}
	if !(f.right >= f.left) {
		return frame{0, 0, 1000, 1000} // a matrix without a picture
	}
	long := math.Max(f.right-f.left, f.bottom-f.top)
	side := 0.12 * long
	thin := 0.3 * long // points on one line still get a frame that can be seen
	if d := thin - (f.right - f.left); d > 0 {
		f.left, f.right = f.left-d/2, f.right+d/2
	}
	if d := thin - (f.bottom - f.top); d > 0 {
		f.top, f.bottom = f.top-d/2, f.bottom+d/2
	}
	return frame{f.left - side, f.top - side, f.right + side, f.bottom + side}
}

func (f frame) width() float64  { return f.right - f.left }
func (f frame) height() float64 { return f.bottom - f.top }
