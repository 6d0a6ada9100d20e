package menutest

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/ui/benchtest"
	"legwright/app/ui/dial"
	"legwright/app/ui/sheetview"
)

// The demo on the bench, its parts one after another on one window: opening
// its scan is what costs.
func TestDemo(t *testing.T) {
	b := benchtest.Open(t)
	b.Choose("Open the demo")
	b.Until("the demo's scan", func() bool { return b.Whole() })
	t.Run("readings", func(t *testing.T) { demoReads(t, b) })
	t.Run("first drag", func(t *testing.T) { demoFirstDrag(t, b) })
	t.Run("places", func(t *testing.T) { demoFits(t, b) })
	t.Run("export and import", func(t *testing.T) { demoGoesRound(t, b) })
	t.Run("menus", func(t *testing.T) { chooseAll(t, b) })
}

// The demo opens with its legs, saved, and every figure of the ledger closes:
// printed magnetic = printed grid − printed angle.
func demoReads(t *testing.T, b *benchtest.Bench) {
	rows := b.Session().Rows()
	if len(rows) != 6 || len(b.Plan().Marks) != 8 || len(b.Plan().Sights) != 3 || b.Session().Dirty() {
		t.Fatalf("%d legs, %d marks, %d sights, dirty %v, want 6, 8, 3 and not",
			len(rows), len(b.Plan().Marks), len(b.Plan().Sights), b.Session().Dirty())
	}
	for i, r := range rows {
		if r.Reading.Stopped() {
			t.Errorf("%s carries a stop: %v", r.Name, r.Reading.Cautions)
		}
		b.Session().Select(r.ID)
		f := b.Dial.Figures()
		grid, mag := degrees(t, f.Texts[dial.Grid]), degrees(t, f.Texts[dial.Magnetic])
		gma := degrees(t, f.Texts[dial.GMA])
		if strings.Contains(f.Texts[dial.GMA], "west") {
			gma = -gma
		}
		if math.Mod(grid-gma-mag+720, 360) != 0 {
			t.Errorf("%s: %q − %q is not %q", r.Name, f.Texts[dial.Grid], f.Texts[dial.GMA], f.Texts[dial.Magnetic])
		}
		row := i
		for _, e := range b.Session().Escapes().Escapes {
			if e.Leg <= i { // it stands above this leg
				row++
			}
		}
		lineGrid, _ := b.Ledger.Cell(row, "grid")
		lineMag, _ := b.Ledger.Cell(row, "magnetic")
		if lineGrid == "" || lineMag == "" || !strings.HasPrefix(f.Texts[dial.Grid], lineGrid) || !strings.HasPrefix(f.Texts[dial.Magnetic], lineMag) {
			t.Errorf("%s: dial %q %q, ledger %q %q", r.Name, f.Texts[dial.Grid], f.Texts[dial.Magnetic], lineGrid, lineMag)
		}
	}
}

// The first drag that the welcome asks for, from the quay to the cairn, carries no
// stop anywhere on the bench: who meets one there learns to overlook it.
func demoFirstDrag(t *testing.T, b *benchtest.Bench) {
	quay, _ := b.Plan().MarkByName("Skelvig quay")
	cairn, ok := b.Plan().MarkByName("Cairn")
	c, err := b.Session().Calibration()
	if !ok || err != nil {
		t.Fatal("the demo has no cairn, or no calibration", err)
	}
	from, to := c.ToPicture(quay.Position.Grid), c.ToPicture(cairn.Position.Grid)
	b.Mouse.Drag(from.Col, from.Row, to.Col, to.Row)
	if !b.Offered() || b.Dial.Figures().Stop != "" || b.Dial.Figures().Empty || strings.Contains(b.Strip.Text(), "STOP") || len(b.Parts.Faults()) > 0 {
		t.Errorf("offered %v, dial %q, strip %q, panel %q", b.Offered(), b.Dial.Figures().Stop, b.Strip.Text(), b.Parts.Faults())
	}
	kept := len(b.Plan().Legs)
	b.Letters("l")
	if len(b.Plan().Legs) != kept+1 {
		t.Fatal("the reading was not kept")
	}
	if end := b.Plan().Legs[kept].To; math.Hypot(end.Position.Grid.E-cairn.Position.Grid.E, end.Position.Grid.N-cairn.Position.Grid.N) > 20 && end.Mark != cairn.ID {
		t.Fatalf("dragged to %+v", end)
	}
	b.Undo()
}

// degrees reads the figure before the sign of the degree.
func degrees(t *testing.T, text string) float64 {
	t.Helper()
	figure, _, ok := strings.Cut(text, "°")
	if !ok {
		t.Fatalf("%q has no degrees", text)
	}
	v := 0.0
	for _, r := range strings.TrimSpace(figure) {
		if r < '0' || r > '9' {
			t.Fatalf("%q is not in whole degrees", text)
		}
		v = 10*v + float64(r-'0')
	}
	return v
}

// In the smallest window it is made for, in both panels, the parts of the bench
// fill the window and do not lie over one another.
func demoFits(t *testing.T, b *benchtest.Bench) {
	for _, size := range []fyne.Size{fyne.NewSize(1280, 760), fyne.NewSize(1400, 900)} {
		b.Resize(size)
		if need := b.Content().MinSize(); need.Width > 1280 || need.Height > 760 {
			t.Fatalf("the bench needs %v", need)
		}
		for _, p := range []string{"Sheet", "Route", "Teach"} {
			b.GoTo(p)
			whole := b.Content().Size()
			area := float32(0)
			for _, o := range []fyne.CanvasObject{b.Sheet(), b.Parts.Column().Body, b.Ledger, b.Foot} {
				s, at := o.Size(), o.Position()
				area += s.Width * s.Height
				if at.X < 0 || at.Y < 0 || at.X+s.Width > whole.Width+0.5 || at.Y+s.Height > whole.Height+0.5 {
					t.Errorf("%v: a part at %v of %v lies outside %v", size, at, s, whole)
				}
			}
			if want := whole.Width * whole.Height; math.Abs(float64(area-want)) > 1 {
				t.Errorf("%v: the parts cover %v of %v", size, area, want)
			}
			if s := b.Sheet().Size(); s.Width < whole.Width*0.6 || s.Height < whole.Height*0.6 {
				t.Errorf("%v: the sheet has %v of %v", size, s, whole)
			}
		}
	}
	p := b.Plan()
	c, err := b.Session().Calibration()
	if err != nil {
		t.Fatal(err)
	}
	id := p.Legs[5].ID
	b.Route.Find(id)
	l, _ := p.LegByID(id)
	w, h := b.Sheet().View().Viewport()
	at := b.Sheet().View().ToScreen(sheetview.ViewPt(c.ToPicture(p.Resolve(l.To).Grid)))
	if at.X < 0 || at.Y < 0 || at.X > float64(w) || at.Y > float64(h) {
		t.Errorf("the end of the leg that was to be found is at %v, outside %d × %d", at, w, h)
	}
	b.Choose("Turn grid north up")
	north := b.Sheet().View().ToScreen(sheetview.ViewPt(c.ToPicture(shift(p.Resolve(l.To).Grid, 1000))))
	south := b.Sheet().View().ToScreen(sheetview.ViewPt(c.ToPicture(p.Resolve(l.To).Grid)))
	if d := north.X - south.X; math.Abs(d) > 0.5 || north.Y >= south.Y {
		t.Errorf("with grid north up, a kilometre north lies at %v of %v", north, south)
	}
	b.Sheet().RotateTo(0)
	b.Sheet().Fit()
}

// What the demo writes as GPX it can bring in again: the same marks and legs
// on the same ground, and nothing twice.
func demoGoesRound(t *testing.T, b *benchtest.Bench) {
	path := filepath.Join(t.TempDir(), "demo.gpx")
	b.Files.Export(path)
	if raw, err := os.ReadFile(path); err != nil || strings.Count(string(raw), "<wpt") != 8 {
		t.Fatalf("%d waypoints, %v, want 8", strings.Count(string(raw), "<wpt"), err)
	}
	before := b.Session().Rows()
	b.Choose("New plan") // the demo was not changed: nothing asks
	b.Choose("Open the demo")
	b.Until("the demo's scan", func() bool { return b.Whole() })
	for _, l := range b.Plan().Legs {
		if err := b.Session().Remove(l.ID); err != nil {
			t.Fatal(err)
		}
	}
	b.Files.Import(path)
	after := b.Session().Rows()
	if b.Foot.Failed() || len(after) != len(before) {
		t.Fatalf("%d legs came of %d: %s", len(after), len(before), b.Foot.Message())
	}
	for i := range after {
		if d := sameReading(before[i], after[i]); d != "" {
			t.Errorf("leg %d: %s", i+1, d)
		}
	}
	for b.Session().UndoName() != "" {
		b.Undo()
	}
	if len(b.Session().Rows()) != len(before) {
		t.Error("undo did not bring the legs back")
	}
}

// sameReading says what differs between a leg and the same leg come back
// through a file whose coordinates have nine decimals.
func sameReading(a, b leg.Row) string {
	if d := math.Abs((a.Reading.Grid.Angle() - b.Reading.Grid.Angle()).Signed().Deg()); d > 1e-3 {
		return "the bearing differs by more than a thousandth of a degree"
	}
	if d := math.Abs(a.Reading.GroundM - b.Reading.GroundM); d > 0.01 {
		return "the distance differs by more than a centimetre"
	}
	return ""
}

// shift moves a position north.
func shift(g geodesy.Grid, northM float64) geodesy.Grid { return geodesy.Grid{E: g.E, N: g.N + northM} }
