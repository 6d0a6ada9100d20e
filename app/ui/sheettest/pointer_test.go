package sheettest

import (
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/plan"
	"legwright/app/ui/benchtest"
	"legwright/app/ui/foot"
	"legwright/app/ui/look"
	"legwright/app/ui/sheetview"
	"legwright/canvas/view"
)

// The reference under the pointer is marked where the control points do not
// reach, and copying it says why.
func TestThePointerBeyondTheControlPoints(t *testing.T) {
	b := benchtest.Calibrated(t)
	sheet, _ := b.Session().Sheet()
	inside := view.PicPt{X: float64(sheet.Width) / 2, Y: float64(sheet.Height) / 2}
	b.GoTo("Route")
	pointed := func(at view.PicPt) bool {
		b.Mouse.Hover(at.X, at.Y)
		return b.Foot.Pointer().Stopped
	}
	if pointed(inside) || !pointed(view.PicPt{X: -1e6, Y: -1e6}) {
		t.Error("the middle of the sheet is stopped, or the ground far off it is not")
	}
	for _, stop := range []bool{false, true} {
		b.Foot.SetPointer(foot.Pointer{Ref: "NL 2745 4314", Stopped: stop})
		ref := b.Foot.Drawn(foot.PartRef)
		if got := ref.Text == "! NL 2745 4314" && ref.Color == look.Current()[look.Fault]; got != stop {
			t.Errorf("stop %v: %q in %v", stop, ref.Text, ref.Color)
		}
	}
	pos, err := b.Session().PositionAt(sheetview.PicturePt(inside), 0.5)
	if err != nil || pos.Origin != plan.Picked {
		t.Fatal(pos, err)
	}
	if got := b.Mouse.CopyReference(inside.X, inside.Y); !strings.Contains(b.Foot.Message(), got) || !strings.HasPrefix(got, "NL ") || !strings.Contains(got, caution.Of(caution.Unchecked).Short()) {
		t.Errorf("copied %q with %q", b.App.Clipboard().Content(), b.Foot.Message())
	}
	beyond := view.PicPt{X: -1e6, Y: -1e6}
	stops := caution.Lead([]caution.Caution{caution.Of(caution.OutsidePoints), caution.Of(caution.OutsideArea)}, caution.All)
	if got := b.Mouse.CopyReference(beyond.X, beyond.Y); !strings.HasPrefix(got, stops) {
		t.Errorf("far outside the grid's area the clipboard has %q", got)
	}
}

// The reference under a pointer that rests follows the calibration: none of the
// one before stands in the foot line.
func TestThePointersReferenceFollowsTheCalibration(t *testing.T) {
	b := benchtest.Opened(t)
	b.GoTo("Sheet")
	at := view.PicPt{X: 200, Y: 150}
	b.Mouse.Hover(at.X, at.Y)
	if !strings.HasPrefix(b.Foot.Pointer().Ref, "col ") {
		t.Fatalf("without a calibration the foot line says %q", b.Foot.Pointer().Ref)
	}
	b.Sheets.Point(100, 100, "NL 21 43")
	b.Sheets.Point(300, 200, "NL 23 42")
	before := b.Foot.Pointer().Ref
	if before == "" || strings.HasPrefix(before, "col ") {
		t.Errorf("calibrated, the foot line says %q", before)
	}
	b.Undo()
	b.Sheets.Point(300, 200, "NL 24 41")
	if b.Foot.Pointer().Ref == before {
		t.Errorf("calibrated otherwise, the foot line still says %q", before)
	}
	b.Sheet().MouseOut()
	b.Undo()
	if b.Foot.Pointer().Ref != "" {
		t.Errorf("the pointer has left, and the foot line says %q", b.Foot.Pointer().Ref)
	}
}
