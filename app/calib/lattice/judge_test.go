package lattice

import (
	"errors"
	"math"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// judged is a lattice of 5 × 4 crossings 100 pixels apart, and the matrix that
// puts them on whole kilometres: 10 m a pixel, line (0, 0) at E 21, N 42 km.
func judged() (*Lattice, [6]float64) {
	l := &Lattice{SquarePx: 100}
	for i := range 5 {
		for j := range 4 {
			l.Crossings = append(l.Crossings, Crossing{Col: 50 + 100*float64(i), Row: 450 - 100*float64(j), I: i, J: j, Quality: 1})
		}
	}
	return l, [6]float64{10, 0, 20500, 0, -10, 46500}
}

func given(t *testing.T, m [6]float64) *calib.Calibration {
	t.Helper()
	c, err := calib.FromMatrix(m, 7)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// name names crossing (i, j) as a person reads it off the map.
func name(i, j int) Name {
	return Name{
		At:  calib.PicturePt{Col: 52 + 100*float64(i), Row: 449 - 100*float64(j)},
		Ref: geodesy.Grid{E: 21000 + 1000*float64(i), N: 42000 + 1000*float64(j)},
	}
}

func TestAgainst(t *testing.T) {
	t.Parallel()
	l, m := judged()
	shifted := func(de float64) [6]float64 { n := m; n[2] += de; return n }
	scaled := func(k float64) [6]float64 {
		n := m
		for i := range n {
			n[i] *= k
		}
		return n
	}
	for _, c := range []struct {
		name     string
		m        [6]float64
		square   float64
		medianPx float64
		agrees   bool
	}{
		{"right", m, 1000, 0, true},
		{"a whole square off", shifted(1000), 1000, 0, true},
		{"twice as large", scaled(2), 2000, 0, true},
		{"13 m off", shifted(13), 1000, 1.3, true},
		{"15 m off", shifted(15), 1000, 1.5, false},
		{"60 m off", shifted(60), 1000, 6, false},
	} {
		a, why := l.Against(given(t, c.m))
		if a == nil {
			t.Errorf("%s: not compared: %s", c.name, why)
			continue
		}
		if a.SquareM != c.square || math.Abs(a.MedianPx-c.medianPx) > 1e-6 || a.Agrees() != c.agrees || a.Crossings != 20 || a.WorstPx < a.MedianPx {
			t.Errorf("%s: got %+v, agrees %v; want squares of %v m, median %v px, %v", c.name, *a, a.Agrees(), c.square, c.medianPx, c.agrees)
		}
	}
	if a, why := l.Against(given(t, scaled(1.3))); a != nil || why == "" {
		t.Errorf("meshes of 1300 m: got %+v, %q", a, why)
	}
	bent := *l
	bent.Crossings = append([]Crossing(nil), l.Crossings...)
	bent.Crossings[3].Col += 4
	if a, _ := bent.Against(given(t, m)); a == nil || math.Abs(a.WorstPx-4) > 1e-6 || a.MedianPx > 1e-6 {
		t.Errorf("one crossing 4 px off: got %+v", a)
	}
}

// Only three named crossings that are not in one line prove, and never a
// picture that the file mirrors, turns, shifts or scales by whole squares.
func TestProves(t *testing.T) {
	t.Parallel()
	l, m := judged()
	around := m // turned by half about crossing (1, 1)
	around[0], around[4], around[2], around[5] = -m[0], -m[4], 2*22000-m[2], 2*43000-m[5]
	mirror := m // in the line of easting 22
	mirror[0], mirror[2] = -m[0], 2*22000-m[2]
	mirrorNames := []Name{{At: name(1, 0).At, Ref: name(1, 0).Ref}, {At: name(1, 2).At, Ref: name(1, 2).Ref}, {At: name(2, 1).At, Ref: geodesy.Grid{E: 21000, N: 43000}}}
	shift := m
	shift[2] += 1000
	off := m
	off[2] += 60
	for _, c := range []struct {
		name    string
		m       [6]float64
		names   []Name
		proves  bool
		differs int // of the name that differs, from 0; −1 for none
	}{
		{"three", m, []Name{name(0, 0), name(3, 0), name(1, 2)}, true, -1},
		{"none", m, nil, false, -1},
		{"two", m, []Name{name(0, 0), name(3, 2)}, false, -1},
		{"three in one line", m, []Name{name(0, 0), name(1, 1), name(2, 2)}, false, -1},
		{"one three times", m, []Name{name(0, 0), name(0, 0), name(0, 0)}, false, -1},
		{"a whole square off", shift, []Name{name(0, 0), name(3, 0), name(1, 2)}, false, 0},
		{"turned about a named one", around, []Name{name(1, 1), name(3, 0)}, false, 1},
		{"mirrored, named along the line", mirror, []Name{name(1, 0), name(1, 2)}, false, -1},
		{"mirrored, named as the file has it", mirror, mirrorNames, false, -1},
		{"lines that do not agree", off, nil, false, -1},
	} {
		got, err := l.Proves(given(t, c.m), c.names)
		var d *Differs
		at := -1
		if errors.As(err, &d) {
			at = d.I
		}
		if got != c.proves || at != c.differs || (err != nil) != (at >= 0) {
			t.Errorf("%s: got %v, %v; want %v and number %d to differ", c.name, got, err, c.proves, c.differs)
		}
	}
	if _, err := l.Proves(given(t, m), []Name{{At: calib.PicturePt{Col: 100, Row: 400}}}); !errors.Is(err, ErrNoCrossing) {
		t.Errorf("amid a square: got %v, want ErrNoCrossing", err)
	}
}
