package calib

import (
	"fmt"
	"math"

	"legwright/app/caution"
)

// FromMatrix returns the calibration of a matrix that came with the picture,
// such as a world file's or a georeferenced file's: [a, b, c, d, e, f] with
// E = a·col + b·row + c and N = d·col + e·row + f. The origin is the top-left
// corner of the picture. sigmaM is the standard deviation per axis that the file
// states for its positions, in metres, or 0, as usual: all of them share that error.
// sigmaPx is the one that each has by itself, in pixels, or 0 for DefaultSigmaPx: no
// file counts as better than one control point. FromMatrix refuses values that are
// not finite and a matrix without inverse.
func FromMatrix(m [6]float64, sigmaM, sigmaPx float64) (*Calibration, error) {
	for i, v := range m {
		if math.IsNaN(v) || math.Abs(v) > maxMetres {
			return nil, &Unfit{Reason: fmt.Sprintf("matrix element %c is %g: it must be between %g and %g", 'a'+i, v, -maxMetres, maxMetres)}
		}
	}
	if math.IsNaN(sigmaM) || sigmaM < 0 || sigmaM > maxSigmaM {
		return nil, &Unfit{Reason: fmt.Sprintf("the uncertainty of the matrix is %g m: it must be between 0 and %g", sigmaM, maxSigmaM)}
	}
	if math.IsNaN(sigmaPx) || sigmaPx < 0 || sigmaPx > maxSigmaPx {
		return nil, &Unfit{Reason: fmt.Sprintf("the uncertainty of the matrix is %g pixels: it must be between 0 and %g", sigmaPx, float64(maxSigmaPx))}
	}
	if sigmaPx == 0 {
		sigmaPx = DefaultSigmaPx
	}
	s := linear{a: m[0], b: m[1], d: m[3], e: m[4], frame: frame{radiusPx: 1, e: m[2], n: m[5]}}
	if err := s.invertible(); err != nil {
		return nil, err
	}
	c := &Calibration{given: true, ownM: sigmaM, ownPx: sigmaPx, sol: s, estimate: givenEstimate(s), trust: Trust{LimitM: math.Inf(1)}}
	if s.det() > 0 {
		c.cautions = []caution.Caution{caution.Of(caution.Mirrored)}
	}
	if w, ok := s.askew(); ok {
		c.cautions = append(c.cautions, w)
	}
	return c, nil
}

// invertible refuses a map that flattens the picture.
func (s *linear) invertible() error {
	size := s.meanScale2()
	if !(math.Abs(s.det()) > 1e-6*size) || size < 1e-18 || math.IsInf(size, 0) {
		return &Unfit{Reason: "the file's position squeezes the picture into a line: calibrate the sheet by control points instead", Err: ErrSingular}
	}
	return nil
}

// mostAskewRad is by how much the columns and rows of a file's matrix may miss a right
// angle: no map is drawn so, and paper shears by a tenth of it (our own bound).
const mostAskewRad = 2 * math.Pi / 180

// askew returns the stop of a matrix that shears the picture.
func (s *linear) askew() (caution.Caution, bool) {
	off := math.Asin(math.Abs(s.a*s.b+s.d*s.e) / (math.Hypot(s.a, s.d) * math.Hypot(s.b, s.e)))
	by := fmt.Sprintf("%.1f° askew", off*180/math.Pi)
	return caution.Of(caution.Stretched, by, "Check that the file's matrix belongs to this picture"), off > mostAskewRad
}
