package ui

import (
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/plan"
	"legwright/app/ui/foot"
	"legwright/app/ui/look"
	"legwright/app/ui/sheetview"
	"legwright/canvas/view"
)

// The reference under the pointer is marked where the control points do not
// reach, and copying it says why.
func TestThePointerBeyondTheControlPoints(t *testing.T) {
	b := calibrated(t)
	sheet, _ := b.s.Sheet()
	inside := view.PicPt{X: float64(sheet.Width) / 2, Y: float64(sheet.Height) / 2}
	b.goTo(panelRoute)
	pointed := func(at view.PicPt) bool {
		hoverAt(b, at)
		return b.foot.Pointer().Stopped
	}
	if pointed(inside) || !pointed(view.PicPt{X: -1e6, Y: -1e6}) {
		t.Error("the middle of the sheet is stopped, or the ground far off it is not")
	}
	for _, stop := range []bool{false, true} {
		b.foot.SetPointer(foot.Pointer{Ref: "NL 2745 4314", Stopped: stop})
		ref := b.foot.Drawn(foot.PartRef)
		if got := ref.Text == "! NL 2745 4314" && ref.Color == look.Current()[look.Fault]; got != stop {
			t.Errorf("stop %v: %q in %v", stop, ref.Text, ref.Color)
		}
	}
	pos, err := b.s.PositionAt(sheetview.PicturePt(inside), 0.5)
	if err != nil || pos.Origin != plan.Picked {
		t.Fatal(pos, err)
	}
	b.view.CopyReference(inside)
	if got := b.program.app.Clipboard().Content(); !strings.Contains(b.foot.Message(), got) || !strings.HasPrefix(got, "NL ") || !strings.Contains(got, caution.Of(caution.Unchecked).Short()) {
		t.Errorf("copied %q with %q", b.program.app.Clipboard().Content(), b.foot.Message())
	}
	beyond := view.PicPt{X: -1e6, Y: -1e6}
	b.view.CopyReference(beyond)
	stops := caution.Lead([]caution.Caution{caution.Of(caution.OutsidePoints), caution.Of(caution.OutsideArea)}, caution.All)
	if got := b.program.app.Clipboard().Content(); !strings.HasPrefix(got, stops) {
		t.Errorf("far outside the grid's area the clipboard has %q", got)
	}
}

// The reference under a pointer that rests follows the calibration: none of the
// one before stands in the foot line.
func TestThePointersReferenceFollowsTheCalibration(t *testing.T) {
	b := opened(t)
	b.goTo(panelSheet)
	at := view.PicPt{X: 200, Y: 150}
	hoverAt(b, at)
	if !strings.HasPrefix(b.foot.Pointer().Ref, "col ") {
		t.Fatalf("without a calibration the foot line says %q", b.foot.Pointer().Ref)
	}
	point(b, 100, 100, "NL 21 43")
	point(b, 300, 200, "NL 23 42")
	before := b.foot.Pointer().Ref
	if before == "" || strings.HasPrefix(before, "col ") {
		t.Errorf("calibrated, the foot line says %q", before)
	}
	b.undo()
	point(b, 300, 200, "NL 24 41")
	if b.foot.Pointer().Ref == before {
		t.Errorf("calibrated otherwise, the foot line still says %q", before)
	}
	b.view.Area().MouseOut()
	b.undo()
	if b.foot.Pointer().Ref != "" {
		t.Errorf("the pointer has left, and the foot line says %q", b.foot.Pointer().Ref)
	}
}
