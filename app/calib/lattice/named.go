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
	// ErrNoIntersection: no intersection lies where one was named.
	ErrNoIntersection = errors.New("there is no intersection of the printed grid at this point")
	// ErrSquare: the side of a square is not a length.
	ErrSquare = errors.New("the side of a grid square must be above 0 and at most 1,000,000 m")
	// ErrStep: lines of latitude or longitude cannot be so far apart.
	ErrStep = errors.New("lines of latitude or longitude must be more than 0° and less than 45° apart")
	// ErrOpenSquare: the names do not tell the side of a square.
	ErrOpenSquare = errors.New("one reference alone does not say how wide a square is")
	// ErrDisagree: the names, the side of a square and the lines cannot all
	// be right.
	ErrDisagree = errors.New("the references contradict the lines")
	// ErrNoSquares: the cells are not square.
	ErrNoSquares = errors.New("the lines do not form squares")
)

const mostSideM = 1e6

// Name says which grid coordinates, in metres, belong to the intersection nearest
// to a point of the picture.
type Name struct {
	At   calib.PicturePt
	Ref  geodesy.Grid // the intersection exactly: the south-west corner of the square of a reference
	Text string       // the reference as it was typed, for sentences
}

// Naming is what a person says of a lattice of squares.
type Naming struct {
	Names   []Name
	SquareM float64         // side of a square on the ground, metres; 0 where the names tell it
	Quarter int             // quarter turns clockwise from picture up to grid north, where one name leaves it open
	System  *geodesy.System // whose unit the squares are printed in; nil for metres
	Medium  calib.Medium    // how the picture came about, which says how unequal its squares may be
}

// named finds the intersection of each name.
func (l *Lattice) named(names []Name) ([]Intersection, error) {
	if len(names) == 0 {
		return nil, fmt.Errorf("%w: name at least one intersection", ErrNoIntersection)
	}
	out := make([]Intersection, len(names))
	for i, name := range names {
		c, ok := l.Nearest(name.At)
		if !ok {
			return nil, fmt.Errorf("%w: column %.1f, row %.1f", ErrNoIntersection, name.At.Col, name.At.Row)
		}
		for k, other := range out[:i] {
			if c.I == other.I && c.J == other.J && name.Ref != names[k].Ref {
				return nil, fmt.Errorf("%w: the same intersection is named both %s and %s", ErrDisagree, Naming{Names: names}.label(k), Naming{Names: names}.label(i))
			}
		}
		out[i] = c
	}
	return out, nil
}

// Nearest gives the intersection nearest to a point, if one lies within a quarter
// of a square.
func (l *Lattice) Nearest(p calib.PicturePt) (Intersection, bool) { return l.within(p, l.SquarePx/4) }

// On gives the intersection that a click was meant for: one within OnPx. A feature
// that happens to lie near an intersection is none.
func (l *Lattice) On(p calib.PicturePt) (Intersection, bool) { return l.within(p, l.OnPx()) }

// OnPx is how far from an intersection, in pixels, a click is taken for one on it: a
// dozen pixels, and at most a tenth of a square (common practice, no source).
func (l *Lattice) OnPx() float64 { return min(12, l.SquarePx/10) }

func (l *Lattice) within(p calib.PicturePt, near float64) (best Intersection, ok bool) {
	for _, c := range l.Intersections {
		if d := math.Hypot(c.Col-p.Col, c.Row-p.Row); d <= near {
			best, near, ok = c, d, true
		}
	}
	return best, ok
}

// Named makes every intersection of a lattice of squares a control point. A name
// must lie on a multiple of the side of a square; several must agree with the
// lines between them. Each intersection's own uncertainty goes with it, at least 0.1
// pixel an axis, and what its lines lie beside their positions. Errors: ErrNoSquares,
// ErrOpenSquare and those of SquareOf.
func (l *Lattice) Named(n Naming) ([]calib.ControlPoint, error) {
	if err := l.Squares(n.Medium); err != nil {
		return nil, err
	}
	s, err := l.SquareOf(n)
	if err != nil {
		return nil, err
	}
	if s.SideM == 0 {
		return nil, ErrOpenSquare
	}
	first, err := l.named(n.Names[:1])
	if err != nil {
		return nil, err
	}
	out := make([]calib.ControlPoint, 0, len(l.Intersections))
	for _, c := range l.Intersections {
		e, nn := steps(c.I-first[0].I, c.J-first[0].J, s.Quarter)
		out = append(out, calib.ControlPoint{
			At:      calib.PicturePt{Col: c.Col, Row: c.Row},
			Ref:     geodesy.Grid{E: n.Names[0].Ref.E + e*s.SideM, N: n.Names[0].Ref.N + nn*s.SideM},
			SigmaPx: max(c.SigmaPx, leastSigmaPx), Source: calib.FoundPoint,
		})
	}
	l.widen(out, n.Medium)
	return out, nil
}

// widen adds to the uncertainty of intersections what their lines have in common. On
// paper the fit has a bend for errors that neighbours share. Where a program drew
// the lines, so that paper does not bend or they lie on whole pixels, the error of
// a line counts as often as intersections share it.
func (l *Lattice) widen(points []calib.ControlPoint, medium calib.Medium) {
	line, drift := l.lineSigmaPx(), l.driftSigmaPx()
	if medium == calib.Drawn || drift > 0 {
		line = max(line, drift) * math.Sqrt(l.sharing())
	}
	for i := range points {
		points[i].SigmaPx = math.Hypot(points[i].SigmaPx, line)
	}
}

// leastSigmaPx is the standard deviation per axis below which no intersection is
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

// Thinned is the lattice with at most about n intersections, spread evenly: every
// second line of both families, every third, and so on.
func (l *Lattice) Thinned(n int) *Lattice {
	out := *l
	for k := 2; len(out.Intersections) > n; k++ {
		out.Intersections = nil
		for _, c := range l.Intersections {
			if c.I%k == 0 && c.J%k == 0 {
				out.Intersections = append(out.Intersections, c)
			}
		}
	}
	return &out
}
