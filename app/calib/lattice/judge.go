package lattice

import (
	"fmt"
	"math"
	"slices"

	"legwright/app/calib"
)

// Agreement holds the printed grid against a calibration that was not made from
// it, such as the place that a picture's own file gives. It proves nothing by
// itself: lines agree as well where the file is wrong by whole squares, by a
// factor, turned or mirrored. See Proves.
type Agreement struct {
	SquareM   float64 // side of a square by the calibration, a usual one, metres
	Crossings int
	// How far crossings lie from the nearest one that a grid of round figures
	// has there, in pixels: the median, the root mean square and the worst.
	MedianPx, RMSPx, WorstPx float64
}

// AgreesWithinPx is the root mean square up to which a printed grid is said to
// agree: that of a crossing clicked by hand. A named crossing may be off by as
// much.
const AgreesWithinPx = calib.NameWithinPx

// usualSquares are the sides of printed squares on walking maps, metres (common
// practice, no source).
func usualSquares() []float64 {
	return []float64{100, 200, 250, 500, 1000, 2000, 4000, 5000, 10000, 20000, 50000, 100000}
}

// Against holds each crossing against a calibration. Where the meshes have no
// usual size by it, it says so instead.
func (l *Lattice) Against(c *calib.Calibration) (*Agreement, string) {
	mpp := c.MetresPerPixel()
	side, best := l.SquarePx*mpp, 0.0
	for _, s := range usualSquares() {
		if math.Abs(side/s-1) < 0.05 {
			best = s
		}
	}
	if best == 0 || len(l.Crossings) == 0 {
		return nil, fmt.Sprintf("the meshes of the printed lines are %.0f m by the file, which is no usual square: they may be another grid's, or latitude and longitude", side)
	}
	a := &Agreement{SquareM: best, Crossings: len(l.Crossings)}
	offs := c.OffLines(l.places(), best)
	for _, off := range offs {
		a.RMSPx += off * off
	}
	a.RMSPx = math.Sqrt(a.RMSPx / float64(len(offs)))
	slices.Sort(offs)
	a.MedianPx, a.WorstPx = offs[len(offs)/2], offs[len(offs)-1]
	return a, ""
}

// Contradiction is what the printed lines say against a calibration, none where
// they agree or where Against does not compare them.
func (l *Lattice) Contradiction(c *calib.Calibration) calib.Contradiction {
	a, _ := l.Against(c)
	if a == nil || a.Agrees() {
		return calib.Contradiction{}
	}
	return c.ContradictedBy(l.places(), a.SquareM)
}

// places are where the crossings are in the picture.
func (l *Lattice) places() []calib.PicturePt {
	out := make([]calib.PicturePt, len(l.Crossings))
	for i, x := range l.Crossings {
		out[i] = calib.PicturePt{Col: x.Col, Row: x.Row}
	}
	return out
}

// Agrees reports whether the printed lines lie where the calibration has lines.
func (a *Agreement) Agrees() bool { return a.RMSPx <= AgreesWithinPx }

// WithinPx is the median rounded up to a tenth of a pixel, as "agrees within"
// says it; never 0.
func (a *Agreement) WithinPx() float64 { return max(math.Ceil(10*a.MedianPx), 1) / 10 }

// Differs is the error of a named crossing that lies elsewhere by the
// calibration.
type Differs struct {
	I    int     // of the name, from 0
	OffM float64 // metres
}

func (e *Differs) Error() string {
	return fmt.Sprintf("the crossing lies %.0f m from there by the file: one of the two is wrong", e.OffM)
}

// Proves reports whether crossings that a person named show a calibration to be
// right that was not made from them: at least calib.NamesForProof, not in one line,
// each where the calibration has it, all lines agreeing, and the picture not
// mirrored. The error is a *Differs, or ErrNoCrossing.
func (l *Lattice) Proves(c *calib.Calibration, names []Name) (bool, error) {
	var held []Crossing
	for i, n := range names {
		x, ok := l.Nearest(n.At)
		if !ok {
			return false, fmt.Errorf("%w: column %.1f, row %.1f", ErrNoCrossing, n.At.Col, n.At.Row)
		}
		g := c.ToGrid(calib.PicturePt{Col: x.Col, Row: x.Row})
		if off := math.Hypot(g.E-n.Ref.E, g.N-n.Ref.N); !(off/c.MetresPerPixel() <= AgreesWithinPx) {
			return false, &Differs{I: i, OffM: off}
		}
		held = append(held, x)
	}
	a, _ := l.Against(c)
	return a != nil && a.Agrees() && spread(held) && !mirrored(c), nil
}

// spread says whether calib.NamesForProof of the crossings are distinct and not in
// one line.
func spread(held []Crossing) bool {
	for i, a := range held {
		for j, b := range held[:i] {
			for _, d := range held[:j] {
				if (b.I-a.I)*(d.J-a.J) != (b.J-a.J)*(d.I-a.I) {
					return true
				}
			}
		}
	}
	return false
}

// mirrored says whether east and north run the wrong way round on the picture.
func mirrored(c *calib.Calibration) bool {
	return slices.ContainsFunc(c.Warnings(), func(w calib.Warning) bool { return w.Code == calib.CodeMirrored })
}
