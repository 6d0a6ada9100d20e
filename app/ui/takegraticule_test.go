package ui

import (
	"math"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/calib/lattice"
	"legwright/app/geodesy"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// overLatLon lays lines each 5′ of latitude and 10′ of longitude from 56° N 6° W
// over the picture of opened, 400 pixels wide, and has them found.
func overLatLon(t *testing.T) *Bench {
	t.Helper()
	b := opened(t)
	if err := b.s.SetGrid(geodesy.EPSG(27700)); err != nil {
		t.Fatal(err)
	}
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	l := &lattice.Lattice{SquarePx: 96, Oblong: true}
	place := func(i, j int) (col, row float64) {
		g, _, _, err := sys.FromWGS84(geodesy.LatLon{Lat: units.Degrees(56 + float64(j)/12), Lon: units.Degrees(-6 + float64(i)/6)})
		if err != nil {
			t.Fatal(err)
		}
		return (g.E - 145_000) / 100, (725_000 - g.N) / 100
	}
	for i := range 4 {
		for j := range 3 {
			col, row := place(i, j)
			l.Crossings = append(l.Crossings, lattice.Crossing{Col: col, Row: row, I: i, J: j, Quality: 0.9})
		}
	}
	at := func(n int) lattice.Crossing { return l.Crossings[n] }
	l.HeightPx = math.Hypot(at(1).Col-at(0).Col, at(1).Row-at(0).Row)
	l.WidthPx = math.Hypot(at(3).Col-at(0).Col, at(3).Row-at(0).Row)
	b.foundGrid(l)
	if !strings.Contains(b.sheetP.hint.Text(), "latitude and longitude") {
		t.Errorf("the panel says %q", b.sheetP.hint.Text())
	}
	c := at(4) // 56° 5′ N 5° 50′ W
	point(b, c.Col+1, c.Row-1, "56°05'N 5°50'W")
	if len(b.asked) != 1 || points(b) != 1 {
		t.Fatalf("%d questions, %d points: %s", len(b.asked), points(b), b.foot.Message())
	}
	b.escape()
	return b
}

// One crossing named in latitude and longitude names all; the wrong steps are
// refused by the shape of the meshes; the grid's own datum puts all elsewhere,
// by what the shift is there.
func TestLinesOfLatitudeAreTaken(t *testing.T) {
	b := overLatLon(t)
	names, sys := b.graticuleNames()
	g := graticule{names: names, sys: sys, lat: 5, lon: 5}
	if text, tone := b.graticuleWords(g); tone != widgets.Caution || !strings.Contains(text, "how far apart they are") {
		t.Errorf("lines 5′ and 5′ apart: %q", text)
	}
	b.takeGraticule(g)
	if points(b) != 1 || !b.foot.Failed() {
		t.Errorf("they were taken: %d points, %s", points(b), b.foot.Message())
	}
	if g.lon = g.likelyLon(b.printed.found); g.lon != 10 {
		t.Fatalf("by the meshes' shape: lines of longitude %v′ apart, want 10′", g.lon)
	}
	if text, tone := b.graticuleWords(g); tone != widgets.Note || !strings.Contains(text, "a pixel 100 m.") || !strings.Contains(text, "every position would move") {
		t.Errorf("lines 5′ and 10′ apart: %q", text)
	}
	before := b.s.Plan()
	b.takeGraticule(g)
	c, err := b.s.Calibration()
	if err != nil || points(b) != 12 || b.s.Verdict().Checked {
		t.Fatalf("%d points, %v: %s", points(b), err, b.foot.Message())
	}
	at := calib.PicturePt{Col: 200, Row: 150}
	got := c.ToGrid(at)
	if d := math.Hypot(got.E-165_000, got.N-710_000); d > 5 {
		t.Errorf("the middle is %.1f m off", d)
	}
	for _, p := range b.sheetNow().Points {
		r, err := b.s.CheckReference(p.Text)
		if err != nil || math.Hypot(r.Grid.E-p.Ref.E, r.Grid.N-p.Ref.N) > 0.2 {
			t.Errorf("%q is read again as %v, %v, want %v", p.Text, r.Grid, err, p.Ref)
		}
	}
	b.undo()
	if b.s.Plan() != before {
		t.Fatal("one undo did not bring the one point back")
	}
	foundAgain(b, t)
	g.own = true
	b.takeGraticule(g)
	if c, err = b.s.Calibration(); err != nil {
		t.Fatal(err)
	}
	own := c.ToGrid(at)
	a, _, _ := sys.Project(names[0].Ref)
	w, _, _, _ := sys.FromWGS84(names[0].Ref)
	want, moved := math.Hypot(a.E-w.E, a.N-w.N), math.Hypot(own.E-got.E, own.N-got.N)
	if want < 50 || math.Abs(moved-want) > 2 {
		t.Errorf("on the grid's own datum it is moved by %.1f m, want %.1f", moved, want)
	}
	for _, p := range b.sheetNow().Points {
		if r, err := b.s.CheckReference(p.Text); err != nil || math.Hypot(r.Grid.E-p.Ref.E, r.Grid.N-p.Ref.N) > 0.02 {
			t.Errorf("%q is read again as %v, %v, want %v", p.Text, r.Grid, err, p.Ref)
		}
	}
}

// foundAgain has the lines of overLatLon found again.
func foundAgain(b *Bench, t *testing.T) {
	t.Helper()
	if b.printed.found != nil {
		t.Fatal("the lines were kept after they were taken")
	}
	l := overLatLon(t).printed.found
	b.foundGrid(l)
}
