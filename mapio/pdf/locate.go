package pdf

import (
	"errors"
	"fmt"
	"math"

	"legwright/app/geodesy"
)

// Tie ties a point in the page's picture to a position on a grid.
type Tie struct {
	Column, Row float64
	Grid        geodesy.Grid
}

// Located is a frame on its grid, for a picture of the page.
type Located struct {
	System *geodesy.System
	// Ties are the points of the file, or the picture's corners where it
	// gives a matrix.
	Ties []Tie
	// Matrix takes the picture to the grid, in metres, as in Page.ToPicture;
	// nil where no such matrix meets the points within MatrixWithin.
	Matrix *[6]float64
	// WorstPx is the largest distance between the points and what the best
	// matrix makes of them, in pixels.
	WorstPx float64
	// Notes are sentences for people about the grid.
	Notes []string
}

// MatrixWithin is how far a matrix may miss points, in pixels, that it stands
// for.
const MatrixWithin = 0.1

// ErrNoGrid: a frame names no grid that is known here.
var ErrNoGrid = errors.New("the PDF names no grid that this program knows")

// errUnnamed: a frame names no grid at all.
var errUnnamed = errors.New("the PDF does not name its grid")

// System is the grid of a frame: its EPSG code where that is in the
// catalogue, otherwise its definition. The error wraps ErrNoGrid unless the frame
// names no grid at all.
func (f Frame) System() (*geodesy.System, error) {
	var codeErr error
	if f.EPSG != 0 {
		s, err := geodesy.Lookup(geodesy.EPSG(f.EPSG))
		if err == nil {
			return s, nil
		}
		codeErr = err
	}
	if f.Definition != "" || f.Spelt != nil {
		s, err := f.defined()
		if err == nil {
			return s, nil
		}
		codeErr = err
	}
	if codeErr == nil {
		return nil, errUnnamed
	}
	return nil, fmt.Errorf("%w: %w", ErrNoGrid, codeErr)
}

// defined is the grid by its words or its figures.
func (f Frame) defined() (*geodesy.System, error) {
	if f.Definition != "" {
		return geodesy.Define(f.Definition)
	}
	return geodesy.SystemOf(*f.Spelt)
}

// Locate puts a frame on its grid for a picture of the page of the given size
// in pixels. Its errors are those of System, or say why its figures are not on
// the grid.
func (f Frame) Locate(p Page, width, height int) (Located, error) {
	s, err := f.System()
	if err != nil {
		return Located{}, err
	}
	l := Located{System: s}
	if l.Ties, err = f.ties(s, p.ToPicture(width, height), width, height); err != nil {
		return l, err
	}
	m, worst, ok := fitMatrix(l.Ties)
	if !ok {
		return l, fmt.Errorf("the PDF's points lie on one line, which gives no position")
	}
	l.WorstPx = worst
	l.Notes = f.holdGrids(s, l.Ties[0].Grid)
	if worst <= MatrixWithin {
		l.Matrix = &m
	}
	return l, nil
}

// holdGrids compares the definition of a grid with its code, where a file gives
// both, at one point of the map. Two datums are another grid as well.
func (f Frame) holdGrids(s *geodesy.System, at geodesy.Grid) []string {
	if f.EPSG == 0 || f.Definition == "" || s.EPSG() != f.EPSG {
		return nil
	}
	other, err := geodesy.Define(f.Definition)
	if err != nil || other == s {
		return nil // what cannot be read contradicts nothing
	}
	const same = 1 // metres
	ll, _, err := s.Unproject(at)
	if err == nil {
		var g geodesy.Grid
		if g, _, err = other.Project(ll); err == nil && math.Hypot(g.E-at.E, g.N-at.N) <= same && other.Ellipsoid() == s.Ellipsoid() {
			return nil
		}
	}
	return []string{fmt.Sprintf("the PDF names its grid twice, %s by its code and %s by its definition: the code is used", s, other.Name())}
}

// ties are the frame's points, or the picture's corners by its matrix.
func (f Frame) ties(s *geodesy.System, toPicture [6]float64, width, height int) ([]Tie, error) {
	if f.Matrix != nil {
		return f.corners(s, toPicture, width, height)
	}
	var out []Tie
	for _, p := range f.Points {
		col, row := apply(toPicture, p.X, p.Y)
		g := s.FromUnits(p.East, p.North)
		if f.Degrees {
			var err error
			if g, _, err = s.Project(geodesy.DegLatLon(p.North, p.East)); err != nil {
				return nil, fmt.Errorf("latitude %g, longitude %g of the PDF cannot be on %s: %w", p.North, p.East, s.Name(), err)
			}
		}
		out = append(out, Tie{col, row, g})
	}
	return out, nil
}

func (f Frame) corners(s *geodesy.System, toPicture [6]float64, width, height int) ([]Tie, error) {
	toPage, ok := invert(toPicture)
	if !ok {
		return nil, errors.New("the page has no area")
	}
	var out []Tie
	w, h := float64(width), float64(height)
	for _, c := range [][2]float64{{0, 0}, {w, 0}, {w, h}, {0, h}} {
		x, y := apply(toPage, c[0], c[1])
		out = append(out, Tie{c[0], c[1], s.FromUnits(apply(*f.Matrix, x, y))})
	}
	return out, nil
}

func apply(m [6]float64, x, y float64) (u, v float64) {
	return m[0]*x + m[1]*y + m[2], m[3]*x + m[4]*y + m[5]
}

func invert(m [6]float64) (inv [6]float64, ok bool) {
	det := m[0]*m[4] - m[1]*m[3]
	if det == 0 || math.IsNaN(det) || math.IsInf(det, 0) {
		return inv, false
	}
	a, b, d, e := m[4]/det, -m[1]/det, -m[3]/det, m[0]/det
	return [6]float64{a, b, -(a*m[2] + b*m[5]), d, e, -(d*m[2] + e*m[5])}, true
}

// fitMatrix is the affine transform from picture to grid that meets the ties
// best, by least squares about their middle, and how far in pixels it misses
// the worst.
func fitMatrix(ties []Tie) (m [6]float64, worst float64, ok bool) {
	n := float64(len(ties))
	if n < 3 {
		return m, 0, false
	}
	var mc, mr, me, mn float64
	for _, t := range ties {
		mc, mr, me, mn = mc+t.Column/n, mr+t.Row/n, me+t.Grid.E/n, mn+t.Grid.N/n
	}
	var cc, cr, rr, ce, re, cn, rn float64
	for _, t := range ties {
		c, r, e, nn := t.Column-mc, t.Row-mr, t.Grid.E-me, t.Grid.N-mn
		cc, cr, rr = cc+c*c, cr+c*r, rr+r*r
		ce, re, cn, rn = ce+c*e, re+r*e, cn+c*nn, rn+r*nn
	}
	det := cc*rr - cr*cr
	if !(det > 1e-12*cc*rr) {
		return m, 0, false
	}
	m[0], m[1] = (ce*rr-re*cr)/det, (re*cc-ce*cr)/det
	m[3], m[4] = (cn*rr-rn*cr)/det, (rn*cc-cn*cr)/det
	m[2], m[5] = me-m[0]*mc-m[1]*mr, mn-m[3]*mc-m[4]*mr
	size := math.Sqrt(math.Abs(m[0]*m[4] - m[1]*m[3]))
	if !(size > 0) || math.IsInf(size, 0) {
		return m, 0, false
	}
	for _, t := range ties {
		e, nn := apply(m, t.Column, t.Row)
		worst = max(worst, math.Hypot(e-t.Grid.E, nn-t.Grid.N)/size)
	}
	return m, worst, true
}
