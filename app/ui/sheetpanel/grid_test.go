package sheetpanel_test

import (
	"image"
	"image/color"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/calib"
	"legwright/app/ui/uitest"
	"legwright/canvas/overlay"
)

// Escape cancels the search, and discards the grid found; the sheet is as
// before.
func TestGridFoundIsDiscarded(t *testing.T) {
	d := calibrated(t)
	before := d.s.Plan()
	d.panel.Grid().Found(uitest.Lattice())
	if len(d.scene().Found.Lines) == 0 || !d.offers("Use the intersections") {
		t.Fatal("the grid found is not shown")
	}
	if !d.panel.Escape() || d.panel.Grid().Has() || len(d.scene().Found.Lines) != 0 || d.s.Plan() != before {
		t.Errorf("after Esc: found %v, %d lines drawn", d.panel.Grid().Has(), len(d.scene().Found.Lines))
	}
	d.panel.Grid().Find()
	if !d.panel.Grid().Waits() || d.offers("Use the intersections") {
		t.Fatal("no search is under way, or its result is offered")
	}
	if !d.panel.Escape() || d.panel.Grid().Waits() {
		t.Error("the search goes on")
	}
}

// A search that ends while an intersection is being named leaves what is typed, and the
// letters that follow, where they are.
func TestGridFoundStealsNoKeys(t *testing.T) {
	d := calibrated(t)
	d.click(150, 120)
	d.Type("NL ")
	d.panel.Grid().Found(uitest.Lattice())
	d.Type("24 44")
	d.Key(fyne.KeyReturn)
	if p := d.sheet().Points; len(p) != 3 || p[2].Text != "NL 24 44" {
		t.Errorf("points %+v: %s", p, d.line.Message())
	}
}

// Return on the map uses the intersections once one is named.
func TestReturnUsesTheGrid(t *testing.T) {
	d := calibrated(t)
	if d.panel.FirstAct() {
		t.Error("there is a first act without a grid")
	}
	d.panel.Grid().Found(uitest.Lattice())
	d.view.Focus()
	d.Key(fyne.KeyReturn)
	if d.asks.Open() != 1 {
		t.Fatalf("%d questions, want the one about the intersections: %s", d.asks.Open(), d.line.Message())
	}
	d.Key(fyne.KeyReturn) // the two names give the width of a square
	if s := d.sheet(); len(s.Points) != 6 || d.panel.Grid().Has() || !d.onMap() {
		t.Errorf("%d points, %q", len(s.Points), d.line.Message())
	}
	d.s.Undo()
	if n := len(d.sheet().Points); n != 2 {
		t.Errorf("one undo left %d points", n)
	}
}

// Without a name nothing is used.
func TestGridNeedsAName(t *testing.T) {
	d := newDesk(t)
	d.panel.Grid().Found(uitest.Lattice())
	d.panel.Grid().Take()
	if d.asks.Open() != 0 || len(d.sheet().Points) != 0 {
		t.Errorf("%d questions, %d points", d.asks.Open(), len(d.sheet().Points))
	}
}

// A reference that lies on no line of such squares is refused; one that leaves the width
// open is asked for it; names that contradict each other, and squares that are none, are
// never used.
func TestGridRefusals(t *testing.T) {
	d := newDesk(t)
	d.panel.Grid().Found(uitest.Lattice())
	d.point(101, 199, "NL284440")
	if d.asks.Open() != 1 {
		t.Fatalf("%d questions: %s", d.asks.Open(), d.line.Message())
	}
	d.Key(fyne.KeyReturn)
	if len(d.sheet().Points) != 1 || d.asks.Open() != 1 {
		t.Errorf("with no width chosen: %d points, %d questions", len(d.sheet().Points), d.asks.Open())
	}
	d.choose(t, "choose", "1 km")
	if !d.Shows("NL 28 44") { // what to type if the intersection is meant
		t.Errorf("the question says %q", d.Texts())
	}
	d.Key(fyne.KeyReturn)
	if len(d.sheet().Points) != 1 || !d.line.Failed() || !d.panel.Grid().Has() {
		t.Errorf("it was used: %d points, %q", len(d.sheet().Points), d.line.Message())
	}
	d.point(301, 101, "NL 30 45") // contradicts NL284440
	if len(d.sheet().Points) != 2 || !d.line.Failed() || d.asks.Open() != 1 {
		t.Errorf("%d questions, %d points: %q", d.asks.Open(), len(d.sheet().Points), d.line.Message())
	}
	d.asks.Escape()
	unequal := uitest.Lattice()
	unequal.HeightPx = 105
	d.panel.Grid().Found(unequal)
	d.panel.Grid().Take()
	if len(d.sheet().Points) != 2 || !d.line.Failed() {
		t.Errorf("cells of 100 × 105 px: %q", d.line.Message())
	}
}

// Of two named intersections one lies 20 px off: the question says which and how far,
// knows the width of a square all the same, and does with the point what is chosen.
func TestPointOffItsIntersection(t *testing.T) {
	for _, tc := range []struct {
		choose string
		col    float64 // where the second point lies then
	}{{"", 300}, {"Leave in place, and skip the intersection", 320}} {
		d := newDesk(t)
		d.point(100, 200, "NL 21 42")
		d.point(320, 200, "NL 23 42")
		d.panel.Grid().Found(uitest.Lattice())
		d.panel.Grid().Take()
		if !d.Shows("Control point 2, NL 23 42, is 20.0 px off") || d.Shows("name a second intersection") || len(d.sheet().Points) != 2 {
			t.Fatalf("the question says %q", d.Texts())
		}
		if tc.choose != "" {
			d.lists()[1].SetSelected(tc.choose)
		}
		d.Key(fyne.KeyReturn)
		points := d.sheet().Points
		if len(points) != 6 || d.line.Failed() {
			t.Fatalf("%d points: %q", len(points), d.line.Message())
		}
		for _, c := range points {
			if c.Text == "NL 23 42" && c.At.Col != tc.col {
				t.Errorf("%q: the point lies at column %g, want %g", tc.choose, c.At.Col, tc.col)
			}
		}
	}
}

// What the foot line counts, what the panel counts and what becomes control points are
// one number.
func TestIntersectionsAreCountedOnce(t *testing.T) {
	d := calibrated(t)
	d.panel.Grid().Found(uitest.Lattice())
	if !d.Shows("6 intersections: 6 clear") || len(d.scene().Found.Intersections) != 6 {
		t.Errorf("%d are marked; the panel says %q, the foot line %q", len(d.scene().Found.Intersections), d.Texts(), d.line.Message())
	}
	d.panel.Grid().Take()
	if !d.Shows("6 intersections become") {
		t.Errorf("the question says %q", d.Texts())
	}
}

// The printed lines of a picture are found, and the search leaves nothing running.
func TestGridIsFound(t *testing.T) {
	d := newDesk(t)
	img := blank(900, 700)
	for i := range 9 {
		for k := range 700 {
			img.Set(50+100*i, k, color.Gray{Y: 60})
			img.Set(51+100*i, k, color.Gray{Y: 60})
		}
		for k := range 900 {
			if y := 50 + 100*i; y < 700 {
				img.Set(k, y, color.Gray{Y: 60})
				img.Set(k, y+1, color.Gray{Y: 60})
			}
		}
	}
	for y := 0; y < 700; y += 3 { // some ground between the lines
		for x := (y * 7) % 11; x < 900; x += 11 {
			img.Set(x, y, color.Gray{Y: uint8(180 + (x*y)%60)})
		}
	}
	d.show(t, "grid.png", img, d.s.OpenSheet)
	d.panel.Grid().Find()
	d.Until(t, "the search", func() bool { return d.panel.Grid().Has() || !d.panel.Grid().Waits() })
	if n := len(d.scene().Found.Intersections); n < 40 {
		t.Fatalf("%d intersections are marked, want most of 63: %s", n, d.line.Message())
	}
	d.point(150, 550, "NL 21 42") // pulled onto the intersection beside it
	d.choose(t, "choose", "1 km")
	d.Key(fyne.KeyReturn)
	c, err := d.s.Calibration()
	if err != nil || len(d.sheet().Points) < 40 {
		t.Fatalf("%d points, %v: %s", len(d.sheet().Points), err, d.line.Message())
	}
	if got := c.ToGrid(calib.PicturePt{Col: 651, Row: 51}); got.E < 25990 || got.E > 26010 || got.N < 746990 || got.N > 747010 {
		t.Errorf("E 26 000 N 747 000 lies at %+v", got)
	}
}

// Beside the intersections a click is pulled onto, one elsewhere stays.
func TestClicksArePulledOntoIntersections(t *testing.T) {
	d := calibrated(t)
	d.panel.Grid().Found(uitest.Lattice())
	for _, c := range [][2]image.Point{{{205, 196}, {200, 200}}, {{150, 150}, {150, 150}}} {
		d.click(float64(c[0].X), float64(c[0].Y))
		spots := d.scene().Spots
		if len(spots) != 1 || spots[0].Kind != overlay.Aimed || spots[0].At.X != float64(c[1].X) || spots[0].At.Y != float64(c[1].Y) {
			t.Errorf("a click at %v: %+v, want %v", c[0], spots, c[1])
		}
		d.panel.Points().Cancel()
	}
}
