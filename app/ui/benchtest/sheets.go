package benchtest

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
)

// Opened is a bench with a small picture on it.
func Opened(t testing.TB) *Bench {
	t.Helper()
	b := Open(t)
	b.Files.Show(Picture(t))
	return b
}

// Calibrated is a bench with a small picture calibrated by two points: a pixel is ten
// metres, from NL 20 44 down to the south.
func Calibrated(t testing.TB) *Bench {
	t.Helper()
	b := Opened(t)
	b.Sheets.Point(100, 200, "NL 21 42")
	b.Sheets.Point(300, 200, "NL 23 42")
	if n := b.Points(); n != 2 {
		t.Fatalf("%d control points, want 2: %s", n, b.Foot.Message())
	}
	return b
}

// WithALeg is a calibrated bench at the Route panel with a mark, a leg that is selected,
// and a sight.
func WithALeg(t testing.TB) *Bench {
	t.Helper()
	b := Calibrated(t)
	b.GoTo("Route")
	b.Mouse.NewMark(50, 50)
	b.Mouse.Drag(100, 200, 200, 200)
	b.Type("s")
	b.Mouse.Drag(100, 200, 200, 100)
	b.Type("l")
	if b.Session().Selection().Kind != plan.OfLeg {
		t.Fatal("the kept leg is not selected")
	}
	return b
}

// Saved is a calibrated bench whose plan has a file.
func Saved(t testing.TB) (b *Bench, path string) {
	t.Helper()
	b = Calibrated(t)
	path = t.TempDir() + "/walk.legplan"
	if err := b.Session().SaveAs(path); err != nil {
		t.Fatal(err)
	}
	return b, path
}

// referenceAsked stands in the field for the reference of the position aimed at.
const referenceAsked = "grid reference, such as NN 123 456"

// Sheets are the acts of the Sheet panel.
type Sheets struct{ b *Bench }

// Aim clicks a point of the picture in the Sheet panel and types its reference.
func (s *Sheets) Aim(col, row float64, ref string) {
	s.b.t.Helper()
	s.b.Mouse.Click(col, row)
	s.b.FocusOn(s.b.t, referenceAsked)
	s.b.Replace(ref)
}

// Cancel ends aiming at a position.
func (s *Sheets) Cancel() { s.b.Tap(s.b.t, "Cancel") }

// Aiming reports whether a position is aimed at in the Sheet panel.
func (s *Sheets) Aiming() bool {
	_, ok := uitest.Find[*widgets.Tool](s.b.Window, "Keep point")
	return ok
}

// Point makes a point of the picture a control point.
func (s *Sheets) Point(col, row float64, ref string) {
	s.b.t.Helper()
	s.Aim(col, row, ref)
	s.b.Tap(s.b.t, "Keep point")
}

// Check uses a point of the picture as a check of the sheet, with a reference that comes
// from somewhere; "" leaves open where from.
func (s *Sheets) Check(col, row float64, from, ref string) {
	s.b.t.Helper()
	s.Aim(col, row, ref)
	if from != "" {
		s.choose(from)
	}
	s.b.Tap(s.b.t, "Use as check")
}

// choose chooses an option of the field that offers it in the panel in front.
func (s *Sheets) choose(option string) {
	s.b.t.Helper()
	for _, s := range uitest.All[*widgets.Select](s.b.Window) {
		for _, o := range s.Options {
			if o == option {
				s.SetSelected(option)
				return
			}
		}
	}
	s.b.t.Fatalf("nothing offers %q", option)
}

// PlaceOf is where an object stands in the window.
func PlaceOf(o fyne.CanvasObject) fyne.Position {
	return fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
}

// Placed is a bench whose picture of 400 × 300 pixels says itself where it lies: 10 m a
// pixel, the intersection of uitest.Lattice at 21 and 42 km, shiftM metres too far east.
func Placed(t testing.TB, shiftM float64) *Bench {
	t.Helper()
	path := Picture(t)
	beside := strings.TrimSuffix(path, ".png")
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	grid, err := sys.WKT1()
	if err != nil {
		t.Fatal(err)
	}
	for file, text := range map[string]string{
		beside + ".pgw": fmt.Sprintf("10\n0\n0\n-10\n%f\n%f\n", 20005+shiftM, 743995.0), // of the first pixel's middle
		beside + ".prj": grid,
	} {
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	b := Open(t)
	b.Files.Show(path)
	if !b.InHand().ByMatrix() {
		t.Fatalf("the sheet is not positioned: %s", b.Foot.Message())
	}
	return b
}

// CompareWithLines compares the sheet with printed lines as uitest.Lattice has them.
func (s *Sheets) CompareWithLines() {
	s.b.t.Helper()
	if _, _, err := s.b.Session().CompareWithLines(uitest.Lattice()); err != nil {
		s.b.t.Fatal(err)
	}
}
