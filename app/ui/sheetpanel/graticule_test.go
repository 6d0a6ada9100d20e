package sheetpanel_test

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/calib"
	"legwright/app/calib/lattice"
	"legwright/app/geodesy"
	"legwright/app/units"
)

// overLatLon is a desk whose picture shows lines each 5′ of latitude and 10′ of
// longitude from 56° N 6° W, 100 m a pixel, found, with one intersection named and the
// question about the rest open.
func overLatLon(t *testing.T) *desk {
	t.Helper()
	d := newDesk(t)
	if err := d.s.SetGrid(geodesy.EPSG(27700)); err != nil {
		t.Fatal(err)
	}
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	l := &lattice.Lattice{SquarePx: 96, Oblong: true}
	for i := range 4 {
		for j := range 3 {
			g, _, _, err := sys.FromWGS84(geodesy.LatLon{Lat: units.Degrees(56 + float64(j)/12), Lon: units.Degrees(-6 + float64(i)/6)})
			if err != nil {
				t.Fatal(err)
			}
			l.Intersections = append(l.Intersections, lattice.Intersection{Col: (g.E - 145_000) / 100, Row: (725_000 - g.N) / 100, I: i, J: j, Quality: 0.9})
		}
	}
	at := func(n int) lattice.Intersection { return l.Intersections[n] }
	l.HeightPx = math.Hypot(at(1).Col-at(0).Col, at(1).Row-at(0).Row)
	l.WidthPx = math.Hypot(at(3).Col-at(0).Col, at(3).Row-at(0).Row)
	d.panel.Grid().Found(l)
	d.point(at(5).Col+1, at(5).Row-1, "56°10'N 5°50'W")
	if d.asks.Open() != 1 || len(d.sheet().Points) != 1 {
		t.Fatalf("%d questions, %d points: %s", d.asks.Open(), len(d.sheet().Points), d.line.Message())
	}
	return d
}

// middleOf is where the middle of the picture lies.
func middleOf(t *testing.T, d *desk) geodesy.Grid {
	t.Helper()
	c, err := d.s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	return c.ToGrid(calib.PicturePt{Col: 200, Row: 150})
}

// readsAgain compares the references of the control points with where they lie.
func readsAgain(t *testing.T, d *desk, withinM float64) {
	t.Helper()
	for _, p := range d.sheet().Points {
		if r, err := d.s.CheckReference(p.Text); err != nil || math.Hypot(r.Grid.E-p.Ref.E, r.Grid.N-p.Ref.N) > withinM {
			t.Errorf("%q is read again as %v, %v, want %v", p.Text, r.Grid, err, p.Ref)
		}
	}
}

// One intersection named in latitude and longitude names all, once the step of latitude
// is chosen: that of longitude follows from the cells' shape. The grid's own datum puts
// all elsewhere, by what the shift is there.
func TestLinesOfLatitudeAreUsed(t *testing.T) {
	d := overLatLon(t)
	d.choose(t, "choose", lattice.MinuteWords(5))
	d.Key(fyne.KeyReturn)
	if n := len(d.sheet().Points); n != 12 || d.s.Verdict().Checked {
		t.Fatalf("%d points: %s", n, d.line.Message())
	}
	got := middleOf(t, d)
	if off := math.Hypot(got.E-165_000, got.N-710_000); off > 5 {
		t.Errorf("the middle is %.1f m off", off)
	}
	readsAgain(t, d, 0.2)
	name := d.sheet().Points[4].Ref
	d.s.Undo()
	if n := len(d.sheet().Points); n != 1 {
		t.Fatalf("one undo left %d points", n)
	}
	own := overLatLon(t)
	own.choose(t, "choose", lattice.MinuteWords(5))
	own.lists()[2].SetSelected("the grid's own datum")
	own.Key(fyne.KeyReturn)
	sys := own.s.Reader().System()
	at, _, err := sys.ToWGS84(name)
	if err != nil {
		t.Fatal(err)
	}
	a, _, _ := sys.Project(at)
	w, _, _, _ := sys.FromWGS84(at)
	moved := middleOf(t, own)
	if want, by := math.Hypot(a.E-w.E, a.N-w.N), math.Hypot(moved.E-got.E, moved.N-got.N); want < 50 || math.Abs(by-want) > 2 {
		t.Errorf("on the grid's own datum it is moved by %.1f m, want %.1f", by, want)
	}
	readsAgain(t, own, 0.02)
}

// Steps that do not fit the cells' shape are refused.
func TestWrongStepsOfLatitude(t *testing.T) {
	d := overLatLon(t)
	d.choose(t, "choose", lattice.MinuteWords(5))
	d.lists()[1].SetSelected(lattice.MinuteWords(5))
	d.Key(fyne.KeyReturn)
	if len(d.sheet().Points) != 1 || !d.line.Failed() {
		t.Errorf("5′ and 5′ apart: %d points, %q", len(d.sheet().Points), d.line.Message())
	}
}
