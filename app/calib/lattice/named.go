package lattice

import (
	"errors"
	"fmt"
	"math"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// Errors of naming a lattice.
var (
	// ErrNoCrossing: no crossing lies where one was named.
	ErrNoCrossing = errors.New("no crossing of the printed grid lies there")
	// ErrSquare: the side of a square is not a length.
	ErrSquare = errors.New("side of a grid square must be above 0 and at most 1,000,000 m")
	// ErrContradiction: two names cannot both be right.
	ErrContradiction = errors.New("the named crossings contradict each other")
)

// Name says which grid coordinates, in metres, belong to the crossing nearest
// to a place of the picture.
type Name struct {
	At  calib.PicturePt
	Ref geodesy.Grid
}

// Nearest gives the crossing nearest to a place, if one lies within a quarter
// of a square.
func (l *Lattice) Nearest(p calib.PicturePt) (Crossing, bool) {
	var best Crossing
	near := l.SquarePx / 4
	ok := false
	for _, c := range l.Crossings {
		if d := math.Hypot(c.Col-p.Col, c.Row-p.Row); d <= near {
			best, near, ok = c, d, true
		}
	}
	return best, ok
}

// Named makes every crossing a control point. squareM is the side of a square
// on the ground in metres; quarter is how many quarter turns clockwise grid
// north is from picture up (0 for a map held upright). Each crossing's own
// uncertainty goes with it, at least 0.1 pixel an axis, and what its lines lie
// beside their places: that is the same all along a line, so it is made greater
// by as many crossings as share it, for a fit that takes each crossing as one
// observation of its own. More than one name is
// a check: if they contradict each other the error says how.
func (l *Lattice) Named(names []Name, squareM float64, quarter int) ([]calib.ControlPoint, error) {
	if !(squareM > 0 && squareM <= 1e6) {
		return nil, fmt.Errorf("%w: got %g", ErrSquare, squareM)
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("%w: name one", ErrNoCrossing)
	}
	ref := make([]geodesy.Grid, len(names)) // of the line numbers (0, 0)
	for n, name := range names {
		c, ok := l.Nearest(name.At)
		if !ok {
			return nil, fmt.Errorf("%w: column %.1f, row %.1f", ErrNoCrossing, name.At.Col, name.At.Row)
		}
		e, nn := steps(c.I, c.J, quarter)
		ref[n] = geodesy.Grid{E: name.Ref.E - e*squareM, N: name.Ref.N - nn*squareM}
	}
	for n, r := range ref[1:] {
		if dE, dN := r.E-ref[0].E, r.N-ref[0].N; math.Hypot(dE, dN) > 0.01*squareM {
			return nil, fmt.Errorf("%w: by the first, the one at column %.1f, row %.1f lies %.0f m east and %.0f m north of what is said; look at the figures, and at whether a square is %g m",
				ErrContradiction, names[n+1].At.Col, names[n+1].At.Row, -dE, -dN, squareM)
		}
	}
	out := make([]calib.ControlPoint, 0, len(l.Crossings))
	for _, c := range l.Crossings {
		e, n := steps(c.I, c.J, quarter)
		out = append(out, calib.ControlPoint{
			At:      calib.PicturePt{Col: c.Col, Row: c.Row},
			Ref:     geodesy.Grid{E: ref[0].E + e*squareM, N: ref[0].N + n*squareM},
			SigmaPx: max(c.SigmaPx, leastSigmaPx), Source: calib.FoundPoint,
		})
	}
	l.widen(out)
	return out, nil
}

// widen adds to the uncertainty of crossings what their lines have in common.
func (l *Lattice) widen(points []calib.ControlPoint) {
	line := max(l.lineSigmaPx(), l.driftSigmaPx()) * math.Sqrt(l.sharing())
	for i := range points {
		points[i].SigmaPx = math.Hypot(points[i].SigmaPx, line)
	}
}

// leastSigmaPx is the standard deviation per axis below which no crossing is
// believed: lines are drawn, not ruled by mathematics (common practice, no
// source).
const leastSigmaPx = 0.1

// steps turns line numbers into squares east and north.
func steps(i, j, quarter int) (e, n float64) {
	switch ((quarter % 4) + 4) % 4 {
	case 1: // north to the right, east downwards
		return float64(-j), float64(i)
	case 2:
		return float64(-i), float64(-j)
	case 3:
		return float64(j), float64(-i)
	}
	return float64(i), float64(j)
}

// SquareM is the side of a square in metres that two names on different
// crossings tell, and whether they tell one.
func (l *Lattice) SquareM(names []Name) (float64, bool) {
	for n, a := range names {
		for _, b := range names[:n] {
			p, okP := l.Nearest(a.At)
			q, okQ := l.Nearest(b.At)
			apart := math.Hypot(float64(p.I-q.I), float64(p.J-q.J))
			if !okP || !okQ || apart == 0 {
				continue
			}
			side := math.Hypot(a.Ref.E-b.Ref.E, a.Ref.N-b.Ref.N) / apart
			return side, side > 0
		}
	}
	return 0, false
}

// Thinned is the lattice with at most about n crossings, spread evenly: every
// second line of both families, every third, and so on.
func (l *Lattice) Thinned(n int) *Lattice {
	out := *l
	for k := 2; len(out.Crossings) > n; k++ {
		out.Crossings = nil
		for _, c := range l.Crossings {
			if c.I%k == 0 && c.J%k == 0 {
				out.Crossings = append(out.Crossings, c)
			}
		}
	}
	return &out
}
