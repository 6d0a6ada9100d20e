package rectify

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// Limits of what is written.
const (
	// MaxPixels is the largest picture, map without band, in pixels.
	MaxPixels = 400_000_000
	// MaxJPEGSide is the longest side of a JPEG, by its format (ITU-T T.81).
	MaxJPEGSide = 65_535
	maxPNGSide  = 1 << 20

	finest   = 1.0 / 8 // of the sheet's own metres per pixel: finer adds nothing
	coarsest = 20.0    // times those
)

// maxStretch is how many times larger or smaller than amid the points the scale
// may be for a part of the picture to be drawn.
const maxStretch = 4

// ErrTooLarge is wrapped where the picture would have too many pixels.
var ErrTooLarge = errors.New("the rectified map would be too large")

// Frame is where the rectified map lies: its pixel (col, row), counted from
// (0, 0) at the top left, covers the square of MetresPerPixel whose north-west
// corner is at West + col·MetresPerPixel, North − row·MetresPerPixel, in metres
// of the grid.
type Frame struct {
	West, North    float64
	MetresPerPixel float64
	Cols, Rows     int
}

// Reach is what of a picture can be drawn: the box on the grid that holds it.
type Reach struct {
	low, high geodesy.Grid
	own       float64 // the sheet's own metres per pixel
}

// ReachOf returns the reach of a picture of width × height pixels. Of a smooth
// fit through hundreds of points it takes a tenth of a second.
func ReachOf(c *calib.Calibration, width, height int) (Reach, error) {
	low, high, ok := extent(c, width, height)
	if !ok {
		return Reach{}, errors.New("no part of the picture can be rectified: the calibration mirrors it everywhere; look at its control points")
	}
	return Reach{low, high, c.MetresPerPixel()}, nil
}

// FrameOf is the frame of the reach of a picture.
func FrameOf(c *calib.Calibration, width, height int, metresPerPixel float64) (Frame, error) {
	r, err := ReachOf(c, width, height)
	if err != nil {
		return Frame{}, err
	}
	return r.Frame(metresPerPixel)
}

// Frame returns the frame that holds all that can be drawn. metresPerPixel 0
// takes the sheet's own scale, to three figures. The error wraps ErrTooLarge, or
// says which scales are possible.
func (r Reach) Frame(metresPerPixel float64) (Frame, error) {
	mpp := metresPerPixel
	if mpp == 0 {
		mpp = figures(r.own, 3)
	}
	if !(mpp >= r.own*finest*0.999 && mpp <= r.own*coarsest*1.001) {
		return Frame{}, fmt.Errorf("%g metres per pixel is not possible: the sheet has %s; type %s to %s",
			mpp, text(r.own), text(r.own*finest), text(r.own*coarsest))
	}
	west, east := math.Floor(r.low.E/mpp+1e-6), math.Ceil(r.high.E/mpp-1e-6)
	south, north := math.Floor(r.low.N/mpp+1e-6), math.Ceil(r.high.N/mpp-1e-6)
	cols, rows := math.Max(east-west, 1), math.Max(north-south, 1)
	if n := cols * rows; n > MaxPixels || cols > maxPNGSide || rows > maxPNGSide {
		least := mpp * math.Max(math.Sqrt(n/MaxPixels), math.Max(cols, rows)/maxPNGSide)
		return Frame{}, fmt.Errorf("%w: %.0f × %.0f pixels, but at most %d million are possible; type %s metres per pixel or more",
			ErrTooLarge, cols, rows, MaxPixels/1_000_000, text(roundUp(least)))
	}
	return Frame{West: west * mpp, North: north * mpp, MetresPerPixel: mpp, Cols: int(cols), Rows: int(rows)}, nil
}

// centre is the grid position of the centre of a pixel, which may be a fraction of
// one further.
func (f Frame) centre(col, row float64) geodesy.Grid {
	return geodesy.Grid{E: f.West + (col+0.5)*f.MetresPerPixel, N: f.North - (row+0.5)*f.MetresPerPixel}
}

// WorldFile is the text of the world file that belongs to the frame, in the
// unit of the grid's printed figures.
func (f Frame) WorldFile(s *geodesy.System) string {
	unit := s.Unit().Metres
	e, n := s.InUnits(f.centre(0, 0))
	side := f.MetresPerPixel / unit
	var b strings.Builder
	for _, v := range []float64{side, 0, 0, -side, e, n} {
		b.WriteString(strconv.FormatFloat(figures(v, 14), 'f', -1, 64)) // degrees need them
		b.WriteByte('\n')
	}
	return b.String()
}

// samples is how many points along a side of the picture are looked at for its
// extent.
const samples = 32

// extent is the box on the grid of all of the picture that can be drawn.
func extent(c *calib.Calibration, width, height int) (low, high geodesy.Grid, ok bool) {
	low, high = geodesy.Grid{E: math.Inf(1), N: math.Inf(1)}, geodesy.Grid{E: math.Inf(-1), N: math.Inf(-1)}
	take := func(p calib.PicturePt) {
		g := c.ToGrid(p)
		low.E, low.N = math.Min(low.E, g.E), math.Min(low.N, g.N)
		high.E, high.N = math.Max(high.E, g.E), math.Max(high.N, g.N)
		ok = true
	}
	each(width, height, func(p calib.PicturePt) {
		if drawable(c, p) {
			take(p)
			return
		}
		for _, q := range around(p, width, height) {
			if drawable(c, q) {
				take(brink(c, q, p))
			}
		}
	})
	return low, high, ok && !math.IsInf(high.E-low.E, 0) && !math.IsInf(high.N-low.N, 0)
}

// around are the neighbours of a point among those that each calls for.
func around(p calib.PicturePt, width, height int) (list []calib.PicturePt) {
	w, h := float64(width)/samples, float64(height)/samples
	for _, q := range [...]calib.PicturePt{{Col: p.Col - w, Row: p.Row}, {Col: p.Col + w, Row: p.Row}, {Col: p.Col, Row: p.Row - h}, {Col: p.Col, Row: p.Row + h}} {
		if q.Col > -w/2 && q.Row > -h/2 && q.Col < float64(width)+w/2 && q.Row < float64(height)+h/2 {
			list = append(list, q)
		}
	}
	return list
}

// brink is the last point, on the way from one that can be drawn to one that
// cannot, that can.
func brink(c *calib.Calibration, from, to calib.PicturePt) calib.PicturePt {
	for range 12 {
		mid := calib.PicturePt{Col: (from.Col + to.Col) / 2, Row: (from.Row + to.Row) / 2}
		if drawable(c, mid) {
			from = mid
		} else {
			to = mid
		}
	}
	return from
}

// each calls do for points spread over the picture, its edges among them.
func each(width, height int, do func(calib.PicturePt)) {
	for i := range samples + 1 {
		for j := range samples + 1 {
			do(calib.PicturePt{Col: float64(width) * float64(i) / samples, Row: float64(height) * float64(j) / samples})
		}
	}
}

// drawable says whether the fit has at p a scale like that amid its points, and
// the same side of the paper up.
func drawable(c *calib.Calibration, p calib.PicturePt) bool {
	if c.Given() {
		return true
	}
	const h = 0.5
	e0, e1 := c.ToGrid(calib.PicturePt{Col: p.Col - h, Row: p.Row}), c.ToGrid(calib.PicturePt{Col: p.Col + h, Row: p.Row})
	n0, n1 := c.ToGrid(calib.PicturePt{Col: p.Col, Row: p.Row - h}), c.ToGrid(calib.PicturePt{Col: p.Col, Row: p.Row + h})
	a, d, b, e := e1.E-e0.E, e1.N-e0.N, n1.E-n0.E, n1.N-n0.N
	det := a*e - b*d
	m := c.Matrix()
	if det*(m[0]*m[4]-m[1]*m[3]) <= 0 {
		return false
	}
	sum := a*a + b*b + d*d + e*e
	root := math.Sqrt(math.Max(0, sum*sum-4*det*det))
	long, own := math.Sqrt((sum+root)/2), c.MetresPerPixel()
	short := math.Abs(det) / long
	return long <= maxStretch*own && short >= own/maxStretch
}

// figures rounds v to n figures.
func figures(v float64, n int) float64 {
	out, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', n, 64), 64)
	if err != nil {
		return v
	}
	return out
}

// roundUp is the least number of two figures that is not below v.
func roundUp(v float64) float64 {
	tens := math.Pow(10, math.Floor(math.Log10(v))-1)
	return figures(math.Ceil(v/tens)*tens, 2)
}

// text writes a scale to three figures.
func text(v float64) string { return strconv.FormatFloat(figures(v, 3), 'f', -1, 64) }
