package lattice

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// turnedLines is a lattice of 4 × 4 intersections, 100 pixels apart and a little turned, so
// that the lines are not on whole pixels. height is that of a square.
func turnedLines(height float64) *Lattice {
	l := &Lattice{SquarePx: math.Sqrt(100 * height), WidthPx: 100, HeightPx: height}
	for i := range 4 {
		for j := range 4 {
			x, y := 100*float64(i), height*float64(j)
			l.Intersections = append(l.Intersections, Intersection{Col: 50 + x + y/200, Row: 450 - y + x/200, I: i, J: j, SigmaPx: 0.02})
		}
	}
	return l
}

// called names the intersection (i, j) of turnedLines.
func called(i, j int, e, n float64, text string) Name {
	return Name{At: calib.PicturePt{Col: 52 + 100*float64(i), Row: 448 - 100*float64(j)}, Ref: geodesy.Grid{E: e, N: n}, Text: text}
}

func TestNamed(t *testing.T) {
	t.Parallel()
	l := turnedLines(100)
	for _, c := range []struct {
		quarter int
		e, n    float64 // of the intersection i 2, j 1
	}{{0, 2000, 1000}, {1, -1000, 2000}, {2, -2000, -1000}, {3, 1000, -2000}, {-1, 1000, -2000}} {
		ps, err := l.Named(Naming{Names: []Name{called(0, 0, 0, 0, "")}, SquareM: 1000, Quarter: c.quarter})
		if err != nil {
			t.Fatal(err)
		}
		if got := ps[2*4+1]; got.Ref.E != c.e || got.Ref.N != c.n || got.SigmaPx < leastSigmaPx {
			t.Errorf("quarter %d: got %+v, want %g %g with σ %g at least", c.quarter, got, c.e, c.n, leastSigmaPx)
		}
	}
	between := Name{At: calib.PicturePt{Col: 100, Row: 400}}
	for _, c := range []struct {
		n    Naming
		want error
	}{
		{Naming{}, ErrNoIntersection},
		{Naming{Names: []Name{between}}, ErrNoIntersection},
		{Naming{Names: []Name{called(0, 0, 0, 0, "")}}, ErrOpenSquare},
		{Naming{Names: []Name{called(0, 0, 0, 0, "")}, SquareM: -1}, ErrSquare},
		{Naming{Names: []Name{called(0, 0, 0, 0, "")}, SquareM: math.NaN()}, ErrSquare},
		{Naming{Names: []Name{called(0, 0, 0, 0, ""), called(0, 0, 1000, 0, "")}, SquareM: 1000}, ErrDisagree},
	} {
		if _, err := l.Named(c.n); !errors.Is(err, c.want) {
			t.Errorf("%+v: got %v, want %v", c.n, err, c.want)
		}
	}
}

// The side follows from two names by the lines between them, whatever way up
// the map was scanned, down to sheets of small scale.
func TestSquareOf(t *testing.T) {
	t.Parallel()
	l := turnedLines(100)
	for _, c := range []struct {
		what          string
		names         []Name
		squareM, want float64
		quarter       int
	}{
		{"two names", []Name{called(0, 0, 28_000, 744_000, ""), called(2, 3, 30_000, 747_000, "")}, 0, 1000, 0},
		{"along one line", []Name{called(0, 1, 28_000, 744_000, ""), called(3, 1, 28_300, 744_000, "")}, 0, 100, 0},
		{"upside down", []Name{called(0, 0, 28_000, 744_000, ""), called(2, 3, 26_000, 741_000, "")}, 0, 1000, 2},
		{"scanned sideways", []Name{called(0, 0, 28_000, 744_000, ""), called(2, 1, 27_000, 746_000, "")}, 0, 1000, 1},
		{"small scale", []Name{called(0, 0, 300_000, 5_500_000, ""), called(2, 1, 500_000, 5_600_000, "")}, 0, 100_000, 0},
		{"one name and the margin", []Name{called(1, 1, 28_000, 744_000, "")}, 500, 500, 0},
		{"one name alone", []Name{called(1, 1, 28_000, 744_000, "")}, 0, 0, 0},
	} {
		s, err := l.SquareOf(Naming{Names: c.names, SquareM: c.squareM})
		if err != nil || s.SideM != c.want || s.Quarter != c.quarter {
			t.Errorf("%s: got %+v, %v; want %g m and %d quarter turns", c.what, s, err, c.want, c.quarter)
		}
	}
	s, err := l.SquareOf(Naming{Names: []Name{called(1, 1, 28_400, 744_000, "NL284440")}})
	if err != nil || !slices.Equal(s.Sides, []float64{100, 200}) {
		t.Errorf("E 28,400 m lies on lines %v m apart, %v; want 100 and 200", s.Sides, err)
	}
	foot, err := geodesy.Define("+proj=lcc +lat_1=38.3 +lat_2=39.8 +lat_0=37.6 +lon_0=-122 +x_0=2000000 +y_0=500000 +datum=NAD83 +units=us-ft +no_defs")
	if err != nil {
		t.Fatal(err)
	}
	name := called(1, 1, 0, 0, "")
	name.Ref = foot.FromUnits(6_005_000, 2_015_000)
	s, err = l.SquareOf(Naming{Names: []Name{name}, SquareM: 1524, System: foot})
	if err != nil || math.Abs(s.SideM-5000*foot.Unit().Metres) > 1e-9 {
		t.Errorf("5,000 ft, written as 1524 m: got %+v, %v", s, err)
	}
	name.Ref = foot.FromUnits(6_005_400, 2_015_000)
	if _, err = l.SquareOf(Naming{Names: []Name{name}, SquareM: 1524, System: foot}); err == nil || !strings.Contains(err.Error(), "400 ft east of that") {
		t.Errorf("400 ft beside a line of a grid in feet: %v, want the offset in feet", err)
	}
}

// A name that contradicts the lines or the side of a square is refused, and both
// readings of a reference finer than the lines are offered.
func TestNamesOffTheLines(t *testing.T) {
	t.Parallel()
	l := turnedLines(100)
	system, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what    string
		names   []Name
		squareM float64
		want    string
	}{
		{"six figures", []Name{called(1, 1, 28_400, 744_000, "NL284440")}, 1000, "NL284440 is not at an intersection of lines 1 km apart. If you mean the intersection, type NL 28 44. If you mean a feature, 400 m east of"},
		{"six figures and another name", []Name{called(0, 0, 27_000, 743_000, "NL 27 43"), called(1, 1, 28_400, 744_000, "NL284440")}, 0, "check the digits of both"},
		{"off 1 km by 100 m", []Name{called(1, 1, 28_900, 744_900, "NL289449")}, 1000, "900 m east and 900 m north"},
		{"a line too far", []Name{called(0, 0, 26_000, 742_000, "NL 26 42"), called(1, 1, 28_000, 743_000, "NL 28 43")}, 1000, "in the picture it is 1 line to the right and 1 line up"},
		{"no printed side", []Name{called(0, 0, 20_000, 740_000, "NL 20 40"), called(1, 1, 27_000, 747_000, "NL 27 47")}, 0, "no map prints such squares"},
		{"side ten times out", []Name{called(0, 0, 26_000, 742_000, "NL 26 42"), called(2, 2, 28_000, 744_000, "NL 28 44")}, 10_000, "with squares of 10 km"},
		{"a metre beside the line", []Name{called(1, 1, 28_001, 744_000, "NL 28001 44000")}, 0, "1 m east"},
	} {
		_, err := l.Named(Naming{Names: c.names, SquareM: c.squareM, System: system})
		if !errors.Is(err, ErrDisagree) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %q", c.what, err, c.want)
		}
	}
}

// Lines whose cells are not square are refused: the frame is among the
// lines, or they are latitude and longitude. Paper may stretch by 2 %, a sheet
// that a program drew by nothing.
func TestUnequalSquares(t *testing.T) {
	t.Parallel()
	oblong := turnedLines(100)
	oblong.Oblong = true
	framed := turnedLines(100) // the topmost line is the frame, 5 px beyond where a line would be
	for k, c := range framed.Intersections {
		if c.J == 3 {
			framed.Intersections[k].Row -= 5
		}
	}
	askew := turnedLines(100) // a perspective, squares of 100 px in its middle
	for k, c := range askew.Intersections {
		w := 1 + 2e-4*(c.Row-300)
		askew.Intersections[k].Col, askew.Intersections[k].Row = 200+(c.Col-200)/w, 300+(c.Row-300)/w
	}
	for _, c := range []struct {
		what   string
		l      *Lattice
		medium calib.Medium
		want   error
		photo  bool // it is a photograph's slant that makes them unequal
	}{
		{"squares", turnedLines(100), calib.Drawn, nil, false},
		{"587 to 617", turnedLines(100 * 617. / 587), calib.Scan, ErrNoSquares, false},
		{"stretched paper", turnedLines(101.5), calib.Scan, nil, false},
		{"stretched, though drawn", turnedLines(101.6), calib.Drawn, ErrNoSquares, false},
		{"latitude and longitude", oblong, calib.Scan, ErrNoSquares, false},
		{"a frame among the lines", framed, calib.Scan, ErrNoSquares, false},
		{"held askew", askew, calib.Scan, ErrNoSquares, true},
		{"drawn, held askew", askew, calib.Drawn, ErrNoSquares, true},
		{"a photograph held askew", askew, calib.Photograph, nil, false},
	} {
		_, err := c.l.Named(Naming{Names: []Name{called(1, 1, 28_000, 744_000, "")}, SquareM: 1000, Medium: c.medium})
		if !errors.Is(err, c.want) {
			t.Errorf("%s: got %v, want %v", c.what, err, c.want)
		}
		if c.want != nil && strings.Contains(err.Error(), "choose photograph") != c.photo {
			t.Errorf("%s: %q, want the advice to call it a photograph: %v", c.what, err, c.photo)
		}
	}
}
