package ui

import (
	"errors"
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"

	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/ui/look"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// A reading that cannot be trusted is marked in the strip, in the lists and in
// the ledger's sum; one that can is not.
func TestDoubtfulReadingsAreMarkedEverywhere(t *testing.T) {
	t.Parallel()
	doubt := []leg.Flag{{Code: leg.SheetUnproved, Text: "unproved"}}
	for _, flags := range [][]leg.Flag{nil, doubt} {
		want := len(flags) > 0
		r := leg.Reading{Flags: flags, GroundM: 100}
		for name, text := range map[string]string{
			"strip": stripFigures(r, 0)[0], "narrow strip": stripFigures(r, 0)[2], "narrowest strip": stripFigures(r, 0)[3],
			"list": thing{note: "NL 2745 4314", flags: flags}.shown(),
			"sum":  totals([]leg.Row{{Reading: r}, {Reading: leg.Reading{GroundM: 50}}}),
		} {
			if got := strings.Contains(text, "!"); got != want {
				t.Errorf("%s: %q, marked %v, want %v", name, text, got, want)
			}
		}
	}
	if hint := (thing{name: "Cairn", flags: doubt}).hint(); !strings.Contains(hint, "sheet unproved") {
		t.Errorf("the hint says %q, not why", hint)
	}
	if text := totals([]leg.Row{{Err: errors.New("no bearing")}, {Reading: leg.Reading{GroundM: 50}}}); !strings.Contains(text, "1 leg without a reading left out") {
		t.Errorf("a leg that cannot be read is left out of %q without a word", text)
	}
}

// The reference under the pointer is marked where the control points do not
// reach, and copying it says why.
func TestThePointerBeyondTheControlPoints(t *testing.T) {
	b := calibrated(t)
	sheet, _ := b.s.Sheet()
	inside := view.PicPt{X: float64(sheet.Width) / 2, Y: float64(sheet.Height) / 2}
	b.goTo(postRoute)
	if astray(b.placeFlags(inside)) {
		t.Errorf("amid the sheet: %v", b.placeFlags(inside))
	}
	b.footNow.Ref = "NL 2745 4314"
	for _, doubt := range []bool{false, true} {
		b.footNow.Doubt = doubt
		b.foot.show(b.footNow)
		ref := test.WidgetRenderer(b.foot).(*footRenderer).parts[footRef]
		if got := strings.HasSuffix(ref.Text, "!") && ref.Color == look.Current().Caution; got != doubt {
			t.Errorf("doubt %v: %q in %v", doubt, ref.Text, ref.Color)
		}
	}
	if !astray([]leg.Flag{{Code: leg.OutsidePoints}}) || astray([]leg.Flag{{Code: leg.SheetUnproved}}) {
		t.Error("what concerns the place and what the whole sheet are mixed up")
	}
	pos, err := b.s.PositionAt(picturePt(inside), 0.5)
	if err != nil || pos.Origin != plan.Picked {
		t.Fatal(pos, err)
	}
	b.copyPlace("NL 2745 4314", inside)
	if want := len(flagWords(b.placeFlags(inside))) > 0; strings.Contains(b.footNow.Message, "Mind:") != want {
		t.Errorf("copied with %q, flags %v", b.footNow.Message, b.placeFlags(inside))
	}
}

// The reference under a pointer that rests follows the calibration: none of the
// one before stands in the foot line.
func TestThePointersReferenceFollowsTheCalibration(t *testing.T) {
	b := opened(t)
	b.goTo(postSheet)
	at := view.PicPt{X: 200, Y: 150}
	b.hover(tool.Spot{At: at}, true)
	if !strings.HasPrefix(b.footNow.Ref, "col ") {
		t.Fatalf("without a calibration the foot line says %q", b.footNow.Ref)
	}
	point(b, 100, 100, "NL 21 43")
	point(b, 300, 200, "NL 23 42")
	before := b.footNow.Ref
	if want, _ := b.placeWords(at); before != want || strings.HasPrefix(want, "col ") {
		t.Errorf("calibrated, the foot line says %q, want %q", before, want)
	}
	b.undo()
	point(b, 300, 200, "NL 24 41")
	if want, _ := b.placeWords(at); b.footNow.Ref != want || want == before {
		t.Errorf("calibrated otherwise, the foot line says %q, want %q", b.footNow.Ref, want)
	}
	b.hover(tool.Spot{}, false)
	b.refreshAll()
	if b.footNow.Ref != "" {
		t.Errorf("the pointer has left, and the foot line says %q", b.footNow.Ref)
	}
}
