package ui

import (
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/ui/foot"
	"legwright/app/ui/look"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// A reading that nobody may walk on is marked in the strip and in the lists; one with a
// note alone, or with what concerns latitude and longitude,
// is not.
func TestStoppedReadingsAreMarkedEverywhere(t *testing.T) {
	t.Parallel()
	note, stop := []caution.Caution{caution.Of(caution.Unchecked)}, []caution.Caution{caution.Of(caution.PoorFit)}
	for _, list := range [][]caution.Caution{nil, note, stop, {caution.Of(caution.ShiftUnknown)}} {
		want := len(list) > 0 && list[0] == stop[0]
		r := leg.Reading{Cautions: list, GroundM: 100}
		for name, text := range map[string]string{
			"strip": stripFigures(r, 0)[0], "narrow strip": stripFigures(r, 0)[2], "narrowest strip": stripFigures(r, 0)[3],
			"list": thing{note: "NL 2745 4314", cautions: list}.shown(),
		} {
			if got := strings.Contains(text, "!") || strings.Contains(text, "STOP"); got != want {
				t.Errorf("%s: %q, marked %v, want %v", name, text, got, want)
			}
		}
	}
	if hint := (thing{name: "Cairn", cautions: note}).hint(); !strings.Contains(hint, "sheet unchecked") {
		t.Errorf("the hint says %q, not why", hint)
	}
}

// The reference under the pointer is marked where the control points do not
// reach, and copying it says why.
func TestThePointerBeyondTheControlPoints(t *testing.T) {
	b := calibrated(t)
	sheet, _ := b.s.Sheet()
	inside := view.PicPt{X: float64(sheet.Width) / 2, Y: float64(sheet.Height) / 2}
	b.goTo(postRoute)
	pointed := func(at view.PicPt) bool {
		b.pointed = true
		b.readPointer(at)
		return b.foot.Pointer().Stopped
	}
	if pointed(inside) || !pointed(view.PicPt{X: -1e6, Y: -1e6}) {
		t.Errorf("amid the sheet: %v", b.cautionsAt(inside))
	}
	for _, stop := range []bool{false, true} {
		b.foot.SetPointer(foot.Pointer{Ref: "NL 2745 4314", Stopped: stop})
		ref := b.foot.Drawn(foot.PartRef)
		if got := ref.Text == "! NL 2745 4314" && ref.Color == look.Current().Fault; got != stop {
			t.Errorf("stop %v: %q in %v", stop, ref.Text, ref.Color)
		}
	}
	pos, err := b.s.PositionAt(picturePt(inside), 0.5)
	if err != nil || pos.Origin != plan.Picked {
		t.Fatal(pos, err)
	}
	b.copyPlace("NL 2745 4314", inside)
	if got := b.app.Clipboard().Content(); !strings.Contains(b.foot.Message(), got) || !strings.HasPrefix(got, "NL 2745 4314 (") || !strings.Contains(got, "sheet unchecked") {
		t.Errorf("copied %q with %q", b.app.Clipboard().Content(), b.foot.Message())
	}
	beyond := view.PicPt{X: -1e6, Y: -1e6}
	b.copyPlace("NL 2745 4314", beyond)
	if got := b.app.Clipboard().Content(); !strings.HasPrefix(got, "STOP: outside the control points, outside the grid's area") || !strings.Contains(got, "; NL 2745 4314") {
		t.Errorf("far outside the grid's area the clipboard has %q", got)
	}
}

// The reference under a pointer that rests follows the calibration: none of the
// one before stands in the foot line.
func TestThePointersReferenceFollowsTheCalibration(t *testing.T) {
	b := opened(t)
	b.goTo(postSheet)
	at := view.PicPt{X: 200, Y: 150}
	b.hover(tool.Spot{At: at}, true)
	if !strings.HasPrefix(b.foot.Pointer().Ref, "col ") {
		t.Fatalf("without a calibration the foot line says %q", b.foot.Pointer().Ref)
	}
	point(b, 100, 100, "NL 21 43")
	point(b, 300, 200, "NL 23 42")
	before := b.foot.Pointer().Ref
	if want, _ := b.placeWords(at); before != want || strings.HasPrefix(want, "col ") {
		t.Errorf("calibrated, the foot line says %q, want %q", before, want)
	}
	b.undo()
	point(b, 300, 200, "NL 24 41")
	if want, _ := b.placeWords(at); b.foot.Pointer().Ref != want || want == before {
		t.Errorf("calibrated otherwise, the foot line says %q, want %q", b.foot.Pointer().Ref, want)
	}
	b.hover(tool.Spot{}, false)
	b.refreshAll()
	if b.foot.Pointer().Ref != "" {
		t.Errorf("the pointer has left, and the foot line says %q", b.foot.Pointer().Ref)
	}
}
