package ui

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/canvas/view"
)

// The arrow keys move the aim by a tenth of a pixel; a letter typed there goes
// to the reference, and Return keeps the point.
func TestAimByKeyboard(t *testing.T) {
	b := opened(t)
	clickAt(b, view.PicPt{X: 100, Y: 200})
	if b.window.Canvas().Focused() != b.sheetP.aim {
		t.Fatal("the aim has not the focus after a click")
	}
	for range 3 {
		b.sheetP.aim.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	}
	b.sheetP.aim.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	b.sheetP.aim.TypedRune('N')
	if b.window.Canvas().Focused() != b.sheetP.ref {
		t.Fatal("a letter does not lead to the reference")
	}
	for _, r := range "L 21 42" {
		b.sheetP.ref.TypedRune(r)
	}
	if !strings.Contains(b.sheetP.check.Text(), "south-west corner") {
		t.Errorf("while typing it says %q", b.sheetP.check.Text())
	}
	b.sheetP.ref.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	sheet, _ := b.s.Plan().Sheet()
	if len(sheet.Points) != 1 {
		t.Fatalf("%d points, want one: %s", len(sheet.Points), b.foot.Message())
	}
	if p := sheet.Points[0].At; math.Abs(p.Col-100.3) > 1e-9 || math.Abs(p.Row-199.9) > 1e-9 {
		t.Errorf("the point lies at %+v, want 100.3, 199.9", p)
	}
}

// Escape lets go of the place aimed at, wherever the focus is.
func TestEscapeLetsGoOfTheAim(t *testing.T) {
	b := calibrated(t)
	for range 2 {
		clickAt(b, view.PicPt{X: 150, Y: 150})
		b.window.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
		if b.sheetP.on {
			t.Fatal("the place is still aimed at")
		}
	}
}

// A chosen point that an undo moves is followed, and one that it removes is
// let go.
func TestChosenPointAfterUndo(t *testing.T) {
	b := calibrated(t)
	point(b, 300, 100, "NL 23 43")
	b.sheetP.choose(2)
	b.sheetP.aim.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if at := b.sheetP.at.X; math.Abs(at-300.1) > 1e-9 {
		t.Fatalf("the aim is at col %v, want 300.1", at)
	}
	b.undo()
	if b.sheetP.at.X != 300 || b.sheetP.chosen != 2 {
		t.Errorf("after undo the aim is at col %v on point %d, want 300 on 2", b.sheetP.at.X, b.sheetP.chosen)
	}
	b.undo()
	if b.sheetP.chosen >= 0 || b.sheetP.on {
		t.Errorf("point %d is still chosen of %d", b.sheetP.chosen+1, points(b))
	}
}

// A control point can be changed by its row, and removed.
func TestControlPointIsChangedAndRemoved(t *testing.T) {
	b := calibrated(t)
	b.sheetP.choose(1)
	b.sheetP.ref.SetText("NL 24 42")
	b.sheetP.keepPoint()
	c, err := b.s.Calibration()
	if err != nil || math.Abs(c.MetresPerPixel()-15) > 1e-6 {
		t.Fatalf("calibration %v, %v, want 15 m a pixel", c, err)
	}
	b.sheetP.choose(1)
	b.removePoint()
	if points(b) != 1 || !strings.Contains(b.sheetP.hint.Text(), "second grid intersection") {
		t.Errorf("%d points, hint %q", points(b), b.sheetP.hint.Text())
	}
	b.removePoint()
	if points(b) != 1 {
		t.Error("a point was removed without being chosen")
	}
}

// A feature that does not agree stops the sheet; none that cannot be read changes it.
func TestEvidenceThatDisagrees(t *testing.T) {
	b := calibrated(t)
	before := b.s.Plan()
	useAsCheck(b, 200, 150, "a published list", "")
	if b.s.Plan() != before || !b.foot.Failed() {
		t.Errorf("no reference: plan changed %v, fault told %v", b.s.Plan() != before, b.foot.Failed())
	}
	b.sheetP.forgetAndRefresh()
	useAsCheck(b, 205.5, 154.5, "a published list", "NL 2305 4245")
	if b.s.Verdict().Checked || !b.foot.Quality().Stopped || !strings.Contains(said(b), "from where the calibration puts it") {
		t.Errorf("a kilometre out: %q, %q", said(b), b.foot.Quality().Check)
	}
	if len(b.sheetNow().Evidence) != 1 {
		t.Errorf("%d pieces of evidence are listed", len(b.sheetNow().Evidence))
	}
}
