package lattice

import (
	"fmt"
	"math"
	"slices"

	"legwright/app/calib"
)

// Agreement compares the printed grid with a calibration that was not made from it,
// such as the georeference of a picture's file. Lines agree as well where the file is
// wrong by whole squares, by a factor, turned or mirrored.
type Agreement struct {
	SquareM       float64 // side of a square by the calibration, a usual one, metres
	Intersections int
	// How far intersections lie from the nearest one that a grid of round figures
	// has there, in pixels: the median, the root mean square and the worst.
	MedianPx, RMSPx, WorstPx float64
}

// AgreesWithinPx is the root mean square up to which a printed grid
// agrees: that of an intersection clicked by hand.
const AgreesWithinPx = 2 * calib.DefaultSigmaPx

// usualSquares are the sides of printed squares on walking maps, metres (common
// practice, no source).
func usualSquares() []float64 {
	return []float64{100, 200, 250, 500, 1000, 2000, 4000, 5000, 10000, 20000, 50000, 100000}
}

// Against compares each intersection with a calibration. Where the squares have no
// usual size by it, it says so instead.
func (l *Lattice) Against(c *calib.Calibration) (*Agreement, string) {
	mpp := c.MetresPerPixel()
	side, best := l.SquarePx*mpp, 0.0
	for _, s := range usualSquares() {
		if math.Abs(side/s-1) < 0.05 {
			best = s
		}
	}
	if best == 0 || len(l.Intersections) == 0 {
		return nil, fmt.Sprintf("according to the file the printed squares are %.0f m wide, which is unusual: the lines may belong to another grid, or be lines of latitude and longitude", side)
	}
	a := &Agreement{SquareM: best, Intersections: len(l.Intersections)}
	offs := make([]float64, len(l.Intersections))
	for i, x := range l.Intersections {
		g := c.ToGrid(calib.PicturePt{Col: x.Col, Row: x.Row})
		offs[i] = math.Hypot(math.Remainder(g.E, best), math.Remainder(g.N, best)) / mpp
		a.RMSPx += offs[i] * offs[i]
	}
	a.RMSPx = math.Sqrt(a.RMSPx / float64(len(offs)))
	slices.Sort(offs)
	a.MedianPx, a.WorstPx = offs[len(offs)/2], offs[len(offs)-1]
	return a, ""
}

// Agrees reports whether the printed lines lie where the calibration has lines.
func (a *Agreement) Agrees() bool { return a.RMSPx <= AgreesWithinPx }

// WithinPx is the median rounded up to a tenth of a pixel, as "agrees within"
// says it; never 0.
func (a *Agreement) WithinPx() float64 { return max(math.Ceil(10*a.MedianPx), 1) / 10 }

// mostUnnamed is how many intersections are kept as evidence.
const mostUnnamed = 60

// Unnamed returns intersections, spread evenly, as evidence whose references are
// known only but for multiples of the square's side.
func (l *Lattice) Unnamed(squareM float64) []calib.Evidence {
	n := min(len(l.Intersections), mostUnnamed)
	out := make([]calib.Evidence, n)
	for i := range out {
		at := 0
		if n > 1 {
			at = i * (len(l.Intersections) - 1) / (n - 1)
		}
		x := l.Intersections[at]
		out[i] = calib.Evidence{Source: calib.FromOwnGrid, At: calib.PicturePt{Col: x.Col, Row: x.Row}, SigmaPx: max(x.SigmaPx, calib.DefaultSigmaPx), SquareM: squareM}
	}
	return out
}
