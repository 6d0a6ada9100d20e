package ui

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/ui/dial"
	"legwright/app/ui/sheetview"
)

// The demo on the bench, its parts one after another on one window: opening
// its scan is what costs.
func TestDemo(t *testing.T) {
	b := stand(t)
	b.files.Opener.Demo()
	until(t, b, "the demo's scan", func() bool { return whole(b) })
	t.Run("readings", func(t *testing.T) { demoReads(t, b) })
	t.Run("first drag", func(t *testing.T) { demoFirstDrag(t, b) })
	t.Run("places", func(t *testing.T) { demoFits(t, b) })
	t.Run("export and import", func(t *testing.T) { demoGoesRound(t, b) })
	t.Run("menus", func(t *testing.T) { chooseAll(t, b) })
}

// The demo opens with its legs, saved, and every figure of the ledger closes:
// printed magnetic = printed grid − printed angle.
func demoReads(t *testing.T, b *Bench) {
	rows := b.s.Rows()
	if len(rows) != 6 || len(b.s.Plan().Marks) != 8 || len(b.s.Plan().Sights) != 3 || b.s.Dirty() {
		t.Fatalf("%d legs, %d marks, %d sights, dirty %v, want 6, 8, 3 and not",
			len(rows), len(b.s.Plan().Marks), len(b.s.Plan().Sights), b.s.Dirty())
	}
	for i, r := range rows {
		if r.Reading.Stopped() {
			t.Errorf("%s carries a stop: %v", r.Name, r.Reading.Cautions)
		}
		b.s.Select(r.ID)
		f := b.frame.dial.Figures()
		grid, mag := degrees(t, f.Texts[dial.Grid]), degrees(t, f.Texts[dial.Magnetic])
		gma := degrees(t, f.Texts[dial.GMA])
		if strings.Contains(f.Texts[dial.GMA], "west") {
			gma = -gma
		}
		if math.Mod(grid-gma-mag+720, 360) != 0 {
			t.Errorf("%s: %q − %q is not %q", r.Name, f.Texts[dial.Grid], f.Texts[dial.GMA], f.Texts[dial.Magnetic])
		}
		row := i
		for _, e := range b.s.Escapes().Escapes {
			if e.Leg <= i { // it stands above this leg
				row++
			}
		}
		lineGrid, _ := b.ledger.Cell(row, "grid")
		lineMag, _ := b.ledger.Cell(row, "magnetic")
		if lineGrid == "" || lineMag == "" || !strings.HasPrefix(f.Texts[dial.Grid], lineGrid) || !strings.HasPrefix(f.Texts[dial.Magnetic], lineMag) {
			t.Errorf("%s: dial %q %q, ledger %q %q", r.Name, f.Texts[dial.Grid], f.Texts[dial.Magnetic], lineGrid, lineMag)
		}
	}
}

// The first drag that the welcome asks for, from the quay to the cairn, carries no
// stop anywhere on the bench: who meets one there learns to overlook it.
func demoFirstDrag(t *testing.T, b *Bench) {
	quay, _ := b.s.Plan().MarkByName("Skelvig quay")
	cairn, ok := b.s.Plan().MarkByName("Cairn")
	c, err := b.s.Calibration()
	if !ok || err != nil {
		t.Fatal("the demo has no cairn, or no calibration", err)
	}
	from, to := c.ToPicture(quay.Position.Grid), c.ToPicture(cairn.Position.Grid)
	drag(b, from.Col, from.Row, to.Col, to.Row)
	defer b.view.Discard()
	if _, end := b.view.Offer().Ends(); math.Hypot(end.Position.Grid.E-cairn.Position.Grid.E, end.Position.Grid.N-cairn.Position.Grid.N) > 20 && end.Mark != cairn.ID {
		t.Fatalf("dragged to %+v", end)
	}
	if on, r := b.view.Offer().On(), b.view.Offer().Reading(); !on || r.Stopped() || b.frame.dial.Figures().Stop != "" || strings.Contains(b.view.Strip().Text(), "STOP") {
		t.Errorf("offered %v, cautions %v, dial %q, strip %q", on, r.Cautions, b.frame.dial.Figures().Stop, b.view.Strip().Text())
	}
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
func demoFits(t *testing.T, b *Bench) {
	for _, size := range []fyne.Size{fyne.NewSize(1280, 760), fyne.NewSize(1400, 900)} {
		b.window.Resize(size)
		if need := b.frame.root.MinSize(); need.Width > 1280 || need.Height > 760 {
			t.Fatalf("the bench needs %v", need)
		}
		for _, p := range []panelID{panelSheet, panelRoute, panelTeach} {
			b.goTo(p)
			whole := b.frame.root.Size()
			area := float32(0)
			for _, o := range []fyne.CanvasObject{b.view.Area(), b.frame.panel.body, b.ledger, b.foot} {
				s, at := o.Size(), o.Position()
				area += s.Width * s.Height
				if at.X < 0 || at.Y < 0 || at.X+s.Width > whole.Width+0.5 || at.Y+s.Height > whole.Height+0.5 {
					t.Errorf("%v: a part at %v of %v lies outside %v", size, at, s, whole)
				}
			}
			if want := whole.Width * whole.Height; math.Abs(float64(area-want)) > 1 {
				t.Errorf("%v: the parts cover %v of %v", size, area, want)
			}
			if s := b.view.Area().Size(); s.Width < whole.Width*0.6 || s.Height < whole.Height*0.6 {
				t.Errorf("%v: the sheet has %v of %v", size, s, whole)
			}
		}
	}
	p := b.s.Plan()
	c, err := b.s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	id := p.Legs[5].ID
	b.route.Find(id)
	l, _ := p.LegByID(id)
	w, h := b.view.Area().View().Viewport()
	at := b.view.Area().View().ToScreen(sheetview.ViewPt(c.ToPicture(p.Resolve(l.To).Grid)))
	if at.X < 0 || at.Y < 0 || at.X > float64(w) || at.Y > float64(h) {
		t.Errorf("the end of the leg that was to be found is at %v, outside %d × %d", at, w, h)
	}
	b.gridNorthUp()
	north := b.view.Area().View().ToScreen(sheetview.ViewPt(c.ToPicture(shift(p.Resolve(l.To).Grid, 1000))))
	south := b.view.Area().View().ToScreen(sheetview.ViewPt(c.ToPicture(p.Resolve(l.To).Grid)))
	if d := north.X - south.X; math.Abs(d) > 0.5 || north.Y >= south.Y {
		t.Errorf("with grid north up, a kilometre north lies at %v of %v", north, south)
	}
	b.view.Area().RotateTo(0)
	b.view.Area().Fit()
}

// What the demo writes as GPX it can bring in again: the same marks and legs
// on the same ground, and nothing twice.
func demoGoesRound(t *testing.T, b *Bench) {
	path := filepath.Join(t.TempDir(), "demo.gpx")
	exportTo(t, b, path)
	if raw, err := os.ReadFile(path); err != nil || strings.Count(string(raw), "<wpt") != 8 {
		t.Fatalf("%d waypoints, %v, want 8", strings.Count(string(raw), "<wpt"), err)
	}
	before := b.s.Rows()
	b.files.Opener.New() // the demo was not changed: nothing asks
	b.files.Opener.Demo()
	until(t, b, "the demo's scan", func() bool { return whole(b) })
	for _, l := range b.s.Plan().Legs {
		if err := b.s.Remove(l.ID); err != nil {
			t.Fatal(err)
		}
	}
	b.files.Exchange.Import(path)
	until(t, b, "the import", func() bool { return !b.files.Exchange.Importing() })
	after := b.s.Rows()
	if b.foot.Failed() || len(after) != len(before) {
		t.Fatalf("%d legs came of %d: %s", len(after), len(before), b.foot.Message())
	}
	for i := range after {
		if d := sameReading(before[i], after[i]); d != "" {
			t.Errorf("leg %d: %s", i+1, d)
		}
	}
	for b.s.UndoName() != "" {
		b.undo()
	}
	if len(b.s.Rows()) != len(before) {
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
