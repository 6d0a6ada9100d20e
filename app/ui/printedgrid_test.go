package ui

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"legwright/app/ui/sheetview"

	"fyne.io/fyne/v2"

	"legwright/app/calib"
	"legwright/assets/demo"
)

// TestPrintedGridNamesItself opens the demo's scan without a plan, has the
// printed grid found, names one crossing and takes the rest.
func TestPrintedGridNamesItself(t *testing.T) {
	b := stand(t)
	b.openDemo()
	until(t, "the demo's scan", func() bool { return b.picture.pyramid != nil && b.picture.pyramid.Ready(0) })
	sheet, _ := b.s.Plan().Sheet()
	for range sheet.Points {
		if err := b.s.RemoveControlPoint(0); err != nil {
			t.Fatal(err)
		}
	}
	b.findPrintedGrid()
	until(t, "the printed grid", func() bool { return b.printed.found != nil })
	if n := len(b.printed.found.Crossings); n < 110 {
		t.Fatalf("got %d crossings, want 110 of 126", n)
	}
	if !strings.Contains(b.sheetP.hint.Text(), "do the blue dashes lie on the printed lines?") {
		t.Errorf("the panel says %q", b.sheetP.hint.Text())
	}
	if s := sceneNow(b); len(s.Found.Lines) < 20 || len(s.Found.Crossings) != len(b.printed.found.Crossings) || len(s.Grid) != 0 {
		t.Errorf("drawn: %d lines, %d crossings, want those found", len(s.Found.Lines), len(s.Found.Crossings))
	}
	b.takeFound()
	if len(b.asked) != 0 || !strings.Contains(b.foot.Message(), "type its reference") {
		t.Errorf("taken without a name: foot %q", b.foot.Message())
	}
	c := b.printed.found.Crossings[60]
	m := demo.ScanTruth().Matrix
	e := 1000 * math.Round((m[0]*c.Col+m[1]*c.Row+m[2])/1000)
	n := 1000 * math.Round((m[3]*c.Col+m[4]*c.Row+m[5])/1000)
	b.sheetP.on, b.sheetP.at = true, sheetview.ViewPt(calib.PicturePt{Col: c.Col + 1.5, Row: c.Row - 1})
	b.sheetP.ref.SetText(fmt.Sprintf("%.0f %.0f", e, n))
	b.sheetP.keepPoint()
	if len(b.asked) != 1 {
		t.Fatalf("%d questions, want the offer; foot %q", len(b.asked), b.foot.Message())
	}
	if b.foot.Message() != "The printed grid was found." {
		t.Errorf("under the offer the foot line says %q", b.foot.Message())
	}
	strong := &fyne.KeyEvent{Name: fyne.KeyReturn}
	b.window.Canvas().Focused().TypedKey(strong)
	if points(b) != 1 || len(b.asked) != 1 || !strings.Contains(b.foot.Message(), "Choose how wide a square is") {
		t.Fatalf("with no width chosen: %d points, %d questions, foot %q", points(b), len(b.asked), b.foot.Message())
	}
	b.printed.choice.SetSelected("1 km")
	b.window.Canvas().Focused().TypedKey(strong)
	sheet, _ = b.s.Plan().Sheet()
	fit, err := b.s.Calibration()
	if err != nil || len(sheet.Points) < 110 || fit.RMSPx() > 0.3 {
		t.Fatalf("%d points, %v", len(sheet.Points), err)
	}
	got := fit.ToGrid(calib.PicturePt{Col: 3000, Row: 2000})
	if d := math.Hypot(got.E-(m[0]*3000+m[1]*2000+m[2]), got.N-(m[3]*3000+m[4]*2000+m[5])); d > 0.5 {
		t.Errorf("the calibration is off by %.2f m", d)
	}
	if b.s.Verdict().Checked {
		t.Error("the printed grid checked itself")
	}
	b.undo()
	if sheet, _ = b.s.Plan().Sheet(); len(sheet.Points) != 1 {
		t.Errorf("one undo left %d points, want the one before", len(sheet.Points))
	}
}

// A search that ends while a crossing is being named leaves what is typed, and
// the letters that follow, where they are.
func TestFoundGridStealsNoFocus(t *testing.T) {
	b := calibrated(t)
	b.goTo(postSheet)
	clickAt(b, picAt(150, 120))
	write := func(text string) {
		for _, r := range text {
			b.window.Canvas().Focused().TypedRune(r)
		}
	}
	write("NL ")
	b.foundGrid(madeLattice())
	write("21 42")
	if got := b.sheetP.ref.Text; got != "NL 21 42" {
		t.Errorf("typed before and after the search: %q", got)
	}
	b.sheetP.forgetAndRefresh()
	b.foundGrid(madeLattice())
	if b.window.Canvas().Focused() != b.sheet {
		t.Error("with nothing being typed Esc is not heard by the sheet")
	}
}

// A reference that lies on no line of such squares is refused, with both
// readings; one that leaves the width open is asked for it with what it makes of
// the sheet; squares that are none are never named.
func TestPrintedGridRefusals(t *testing.T) {
	b := calibrated(t)
	b.goTo(postSheet)
	for points(b) > 0 {
		if err := b.s.RemoveControlPoint(0); err != nil {
			t.Fatal(err)
		}
	}
	b.foundGrid(madeLattice())
	point(b, 101, 199, "NL284440")
	if len(b.asked) != 1 || b.printed.choice == nil {
		t.Fatalf("%d questions: %s", len(b.asked), b.foot.Message())
	}
	n := b.naming(b.crossingNames())
	for side, want := range map[float64]string{
		100:  "400 m wide",
		1000: "If you mean the intersection, type NL 28 44. If you mean a feature, 400 m east of that intersection",
	} {
		n.SquareM = side
		if text, _ := b.squareWords(n); !strings.Contains(text, want) {
			t.Errorf("squares of %g m: %q, want %q", side, text, want)
		}
	}
	b.printed.choice.SetSelected("1 km")
	b.window.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if points(b) != 1 || !b.foot.Failed() || b.printed.found == nil {
		t.Errorf("it was taken: %d points, %q", points(b), b.foot.Message())
	}
	point(b, 301, 101, "NL 30 45") // contradicts NL284440
	if len(b.asked) != 1 || !strings.Contains(b.foot.Message(), "check the digits of both") || points(b) != 2 {
		t.Errorf("%d questions, %d points: %q", len(b.asked), points(b), b.foot.Message())
	}
	b.escape()
	unequal := madeLattice()
	unequal.HeightPx = 105
	b.foundGrid(unequal)
	b.takeFound()
	if points(b) != 2 || !strings.Contains(b.foot.Message(), "make no squares: they are 100 × 105 px") {
		t.Errorf("squares of 100 × 105 px: %q", b.foot.Message())
	}
}
