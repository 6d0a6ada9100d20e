package overlay

import (
	"context"
	"math"
	"slices"

	"legwright/app/calib"
	"legwright/canvas/view"
)

// Local is how far a point may be off by its calibration, over the whole sheet:
// what is drawn of it, and its least and most. Make it with LocalOf.
type Local struct {
	LeastM, MostM float64   // where the sheet may be trusted, metres
	Levels        []float64 // metres, ascending; where there is no more, no hatching
	Contours      []Contour
	Hull          []view.PicPt   // around the control points, in order; nil without points
	Reach         [][]view.PicPt // beyond it the sheet is not to be trusted at all

	field  field
	beyond field     // as calib.Calibration.Beyond: above 0 beyond Reach
	hatch  []float64 // levels of hatching: as many as there are densities
}

// Contour is where the error is of one size.
type Contour struct {
	M     float64
	Lines [][]view.PicPt
}

// unknownM stands for an error that is not known, where the sheet is not to be
// trusted: it is hatched as the worst, and never left blank.
const unknownM = 1e9

// field is the error at the knots of a net over the picture, in metres, rows of
// knots one after the other.
type field struct {
	cols, rows int
	stepX      float64 // pixels between knots
	stepY      float64
	at         []float64
}

// knotsAlong is the number of knots along the longer side of a picture.
const knotsAlong = 48

// LocalOf works out the error of a calibration over a picture of w × h pixels.
// The error at a point is the radius of its 95 % circle; the pick of the point
// itself is not in it. It
// takes some milliseconds, with hundreds of points a second, and may be called from any goroutine. The second value is
// false if ctx ended first.
func LocalOf(ctx context.Context, c *calib.Calibration, w, h int) (Local, bool) {
	f, far := newField(w, h), newField(w, h)
	for j := range f.rows {
		if ctx.Err() != nil {
			return Local{}, false
		}
		for i := range f.cols {
			at := f.knot(i, j)
			p := calib.PicturePt{Col: at.X, Row: at.Y}
			f.at[j*f.cols+i], far.at[j*f.cols+i] = ErrorAt(c, p), beyondAt(c, p)
		}
	}
	l := Local{field: f, beyond: far, Reach: far.contour(0)}
	l.LeastM, l.MostM = f.bounds(far)
	l.Levels = levelsBetween(l.LeastM, l.MostM)
	l.hatch = slices.Clone(l.Levels)
	for l.Untrusted() && len(l.hatch) < mostLevels {
		l.hatch = append(l.hatch, unknownM)
	}
	for _, m := range l.Levels {
		l.Contours = append(l.Contours, Contour{m, f.contour(m)})
	}
	for _, p := range c.Hull() {
		l.Hull = append(l.Hull, picPt(p))
	}
	return l, true
}

// Untrusted reports whether parts of the sheet are not to be trusted.
func (l Local) Untrusted() bool { return len(l.beyond.at) > 0 && slices.Max(l.beyond.at) > 0 }

// errorAt is the error at a point, unknownM where the sheet is not to be
// trusted, NaN off the picture.
func (l *Local) errorAt(p view.PicPt) float64 {
	if l.beyond.value(p) > 0 {
		return unknownM
	}
	return l.field.value(p)
}

// beyondAt is by how much a point lies beyond reach; below 0 within.
func beyondAt(c *calib.Calibration, p calib.PicturePt) float64 {
	beyond := c.Beyond(p)
	if folded(c, p) {
		return max(beyond, 1)
	}
	return max(min(beyond, 1e6), -1)
}

// Empty reports whether there is nothing to draw.
func (l Local) Empty() bool { return len(l.field.at) == 0 }

// ErrorAt is the radius of the 95 % circle of a point in metres; 1e9 where it is not known.
func ErrorAt(c *calib.Calibration, p calib.PicturePt) float64 {
	if m := c.HalfWidth95M(p); m < unknownM {
		return m
	}
	return unknownM // NaN too
}

// folded reports whether the picture is seen from behind at a point: beyond the
// horizon of a photograph, or where a bend has turned over. Error figures
// mean nothing there, and may be small.
func folded(c *calib.Calibration, p calib.PicturePt) bool {
	if c.Given() {
		return false
	}
	g := c.ToGrid(p)
	x, y := c.ToGrid(calib.PicturePt{Col: p.Col + 1, Row: p.Row}), c.ToGrid(calib.PicturePt{Col: p.Col, Row: p.Row + 1})
	m := c.Matrix()
	return !(((x.E-g.E)*(y.N-g.N)-(y.E-g.E)*(x.N-g.N))*(m[0]*m[4]-m[1]*m[3]) > 0)
}

// WorstCornerM is ErrorAt at the worst corner of a picture of w × h pixels.
func WorstCornerM(c *calib.Calibration, w, h int) float64 {
	worst := 0.0
	for _, p := range []calib.PicturePt{{}, {Col: float64(w)}, {Row: float64(h)}, {Col: float64(w), Row: float64(h)}} {
		worst = math.Max(worst, ErrorAt(c, p))
	}
	return worst
}

func newField(w, h int) field {
	long := float64(max(w, h, 1)) / (knotsAlong - 1)
	f := field{cols: max(2, int(float64(w)/long)+1), rows: max(2, int(float64(h)/long)+1)}
	f.stepX, f.stepY = float64(w)/float64(f.cols-1), float64(h)/float64(f.rows-1)
	f.at = make([]float64, f.cols*f.rows)
	return f
}

func (f field) knot(i, j int) view.PicPt {
	return view.PicPt{X: float64(i) * f.stepX, Y: float64(j) * f.stepY}
}

// bounds are the least and the greatest error that is known, within reach.
func (f field) bounds(beyond field) (least, most float64) {
	least, most = math.Inf(1), 0
	for i, v := range f.at {
		if v < unknownM && beyond.at[i] <= 0 {
			least, most = min(least, v), max(most, v)
		}
	}
	return min(least, most), most
}

// value is the error at a point by the four knots around it, NaN off the
// picture.
func (f field) value(p view.PicPt) float64 {
	const rim = 1e-9 // rounding
	x, y := p.X/f.stepX, p.Y/f.stepY
	if !(x >= -rim && y >= -rim && x <= float64(f.cols-1)+rim && y <= float64(f.rows-1)+rim) {
		return math.NaN()
	}
	i, j := min(int(x), f.cols-2), min(int(y), f.rows-2)
	x, y = x-float64(i), y-float64(j)
	top, under := f.at[j*f.cols+i:], f.at[(j+1)*f.cols+i:]
	return (top[0]*(1-x)+top[1]*x)*(1-y) + (under[0]*(1-x)+under[1]*x)*y
}

// mostLevels is how many levels the hatching distinguishes.
const mostLevels = 6

// levelsBetween are round figures between two errors: 1, 2, 5 and so on, or
// finer ones where fewer than two of those lie between; none where the error is
// the same nearly everywhere.
func levelsBetween(least, most float64) []float64 {
	if !(least > 0) || !(most > 1.1*least) || math.IsInf(most, 0) {
		return nil
	}
	var out []float64
	for _, figures := range [][]float64{{1, 2, 5}, {1, 1.5, 2, 3, 4, 5, 7}, {1, 1.1, 1.2, 1.3, 1.4, 1.6, 1.8, 2, 2.2, 2.5, 2.8, 3.2, 3.6, 4, 4.5, 5, 5.6, 6.3, 7, 8, 9}} {
		out = out[:0]
		for tens := math.Pow(10, math.Floor(math.Log10(least))); tens <= most; tens *= 10 {
			for _, v := range figures {
				if m := v * tens; m > least && m < most {
					out = append(out, m)
				}
			}
		}
		if len(out) > 1 {
			break
		}
	}
	return out[:min(len(out), mostLevels)]
}
