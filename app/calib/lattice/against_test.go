package lattice

import (
	"math"
	"testing"

	"legwright/app/calib"
)

// judged is a lattice of 5 × 4 intersections 100 pixels apart, and the matrix that
// puts them on whole kilometres: 10 m a pixel, line (0, 0) at E 21, N 42 km.
func judged() (*Lattice, [6]float64) {
	l := &Lattice{SquarePx: 100}
	for i := range 5 {
		for j := range 4 {
			l.Intersections = append(l.Intersections, Intersection{Col: 50 + 100*float64(i), Row: 450 - 100*float64(j), I: i, J: j, Quality: 1})
		}
	}
	return l, [6]float64{10, 0, 20500, 0, -10, 46500}
}

func given(t *testing.T, m [6]float64) *calib.Calibration {
	t.Helper()
	c, err := calib.FromMatrix(m, 7, 0)
	if err != nil {
		t.Fatal(err)
	}
	return c
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
		if a.SquareM != c.square || math.Abs(a.MedianPx-c.medianPx) > 1e-6 || a.Agrees() != c.agrees || a.Intersections != 20 || a.WorstPx < a.MedianPx {
			t.Errorf("%s: got %+v, agrees %v; want squares of %v m, median %v px, %v", c.name, *a, a.Agrees(), c.square, c.medianPx, c.agrees)
		}
	}
	if a, why := l.Against(given(t, scaled(1.3))); a != nil || why == "" {
		t.Errorf("squares of 1300 m: got %+v, %q", a, why)
	}
	bent := *l
	bent.Intersections = append([]Intersection(nil), l.Intersections...)
	bent.Intersections[3].Col += 4
	if a, _ := bent.Against(given(t, m)); a == nil || math.Abs(a.WorstPx-4) > 1e-6 || a.MedianPx > 1e-6 {
		t.Errorf("one intersection 4 px off: got %+v", a)
	}
}

// What is kept as evidence is spread over the lattice and says no more than which
// multiples the lines lie on.
func TestUnnamed(t *testing.T) {
	t.Parallel()
	l, _ := judged()
	list := l.Unnamed(1000)
	if len(list) != 20 || list[0].At == list[19].At || list[0].SquareM != 1000 || list[0].Fault() != "" {
		t.Errorf("got %d, %+v", len(list), list[0])
	}
	for range 4 {
		l.Intersections = append(l.Intersections, l.Intersections...)
	}
	if n := len(l.Unnamed(1000)); n != mostUnnamed {
		t.Errorf("%d of %d kept, want %d", n, len(l.Intersections), mostUnnamed)
	}
}
