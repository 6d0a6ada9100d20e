package sheetview_test

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/units"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// A drag reads a bearing, the release offers to keep it, and each answer does what it
// says. What is kept is where it was dragged.
func TestADragIsOfferedAndKept(t *testing.T) {
	b := newBench(t)
	b.drag(100, 200, 200, 100)
	if !b.view.Offer().On() || !b.view.Strip().Visible() || b.dial.Figures().Empty {
		t.Fatalf("offered %v, strip %v, dial empty %v", b.view.Offer().On(), b.view.Strip().Visible(), b.dial.Figures().Empty)
	}
	if r := b.view.Offer().Reading(); r.Grid.Angle().Deg() < 44.5 || r.Grid.Angle().Deg() > 45.5 {
		t.Errorf("read %v°, want 45", r.Grid.Angle().Deg())
	}
	b.view.Offer().KeepLeg()
	b.drag(200, 100, 300, 100)
	b.view.Offer().KeepSight()
	b.drag(200, 100, 300, 200)
	b.view.Discard()
	p := b.s.Plan()
	if len(p.Legs) != 1 || len(p.Sights) != 1 || b.view.Offer().On() || b.view.Strip().Visible() {
		t.Fatalf("%d legs, %d sights, offered %v: want 1, 1 and none", len(p.Legs), len(p.Sights), b.view.Offer().On())
	}
	if at := p.Legs[0].To.Position.At; !b.near(at, 200, 100) {
		t.Errorf("the leg ends at %+v, want 200, 100", at)
	}
	if p.Sights[0].From != p.Legs[0].To {
		t.Errorf("the sight begins at %+v, not at the end of the leg that the press snapped to", p.Sights[0].From)
	}
	if sel := b.s.Selection(); sel.Kind != plan.OfSight || b.dial.Figures().Empty {
		t.Errorf("selected %+v, dial empty %v: what was kept last is shown", sel, b.dial.Figures().Empty)
	}
}

// Two clicks on an end without a mark make one there, and on a mark find it.
func TestTwoClicksMarkAnEnd(t *testing.T) {
	b := newBench(t)
	b.drag(100, 200, 200, 100)
	b.view.Offer().KeepLeg()
	leg := b.s.Plan().Legs[0]
	end := tool.Target{Part: tool.Point, Kind: plan.OfLeg, ID: leg.ID, Index: int(plan.ToEnd)}
	b.view.DoubleClick(tool.Spot{At: view.PicPt{X: 200, Y: 100}, Target: end})
	p := b.s.Plan()
	if len(p.Marks) != 1 || p.Legs[0].To.Mark != p.Marks[0].ID || b.s.Selection().ID != p.Marks[0].ID {
		t.Fatalf("marks %+v, the leg ends at %+v, selected %v", p.Marks, p.Legs[0].To, b.s.Selection().ID)
	}
	b.view.DoubleClick(tool.Spot{Target: tool.Target{Part: tool.Point, Kind: plan.OfMark, ID: p.Marks[0].ID}})
	if b.s.Plan() != p {
		t.Error("two clicks on a mark changed the plan")
	}
}

// The offer names where a reading ends before it is kept.
func TestTheEndIsNamedBeforeItIsKept(t *testing.T) {
	b := newBench(t)
	b.drag(100, 200, 200, 100)
	to := b.view.Offer().Reading().ToRef
	if to == "" || !b.Shows(to) {
		t.Errorf("the end at %q is not said: %q", to, b.view.Strip().Text())
	}
}

// A leg is kept once the cautions have been understood, and not if the reading was
// discarded meanwhile.
func TestKeepingWaitsForTheCautions(t *testing.T) {
	b := newBench(t)
	b.hold = true
	b.drag(100, 200, 200, 100)
	b.view.Offer().KeepLeg()
	if len(b.s.Plan().Legs) != 0 || !b.view.Offer().On() || len(b.held) != 1 {
		t.Fatalf("%d legs, offered %v, asked %d times", len(b.s.Plan().Legs), b.view.Offer().On(), len(b.held))
	}
	b.held[0]()
	if len(b.s.Plan().Legs) != 1 {
		t.Error("the leg was not kept")
	}
	b.drag(100, 200, 200, 200)
	b.view.Offer().KeepLeg()
	b.view.Discard()
	b.held[1]()
	if len(b.s.Plan().Legs) != 1 {
		t.Error("a reading that was discarded was kept")
	}
}

// A reading is discarded when what it was read from changes, and stays when the title
// does.
func TestAnOfferEndsWithWhatItWasReadFrom(t *testing.T) {
	b := newBench(t)
	b.drag(100, 200, 200, 100)
	if err := b.s.SetTitle("Round"); err != nil || !b.view.Offer().On() {
		t.Errorf("%v: a title discards the reading", err)
	}
	if err := b.s.MoveControlPoint(0, calib.PicturePt{Col: 101, Row: 200}); err != nil || b.view.Offer().On() {
		t.Errorf("%v: the calibration changed, offered %v", err, b.view.Offer().On())
	}
}

// Nothing is read or set while the picture may only be looked at, and a drag moves it.
func TestAPreviewIsOnlyLookedAt(t *testing.T) {
	b := newBench(t)
	before := b.s.Plan()
	b.view.ShowPicture(b.tiles, true)
	b.drag(100, 200, 200, 100)
	b.to(200, 150)
	if b.view.Offer().On() || b.line.Pointer().Ref != "" || b.view.Area().Tool() != tool.Pan || b.line.Scale() != 0 {
		t.Errorf("offered %v, foot line %+v, scale %v", b.view.Offer().On(), b.line.Pointer(), b.line.Scale())
	}
	b.view.DoubleClick(tool.Spot{At: view.PicPt{X: 200, Y: 150}})
	if b.s.Plan() != before {
		t.Error("a mark was set on a preview")
	}
	seen := b.view.Area().View()
	b.view.ShowPicture(b.tiles, false)
	if b.view.Area().View() != seen || b.view.Wanted() != "" || b.view.Area().Tool() != tool.Sight {
		t.Error("the picture that may now be worked on does not stay as it is seen")
	}
}

// However narrow the window, the strip says what to set and where the reading ends as
// long as its answers have room, and is never wider than its room.
func TestANarrowStripSaysWhatToSetAndWhere(t *testing.T) {
	b := newBench(t)
	b.drag(100, 200, 200, 100)
	r, strip := b.view.Offer().Reading(), b.view.Strip()
	widest := strip.MinSize().Width
	strip.Fit(0)
	answers := strip.MinSize().Width
	for _, room := range []float32{widest, widest - 1, (widest + answers) / 2, answers} {
		strip.Fit(room)
		if w := strip.MinSize().Width; w > room {
			t.Errorf("the strip is %v wide, its room is %v", w, room)
		}
		if text := strip.Text(); !strings.Contains(text, r.SetFigure(units.WholeDegrees)) || !strings.Contains(text, r.ToRef) {
			t.Errorf("with a room of %v the strip says %q", room, text)
		}
	}
}

// From a mark that is recognisable in cloud, and on from the end of an escape, a drag can
// be kept as an escape; from anywhere else it cannot.
func TestADragIsKeptAsAWayOff(t *testing.T) {
	b := newBench(t)
	pos, err := b.view.PositionAt(view.PicPt{X: 100, Y: 200})
	if err != nil {
		t.Fatal(err)
	}
	mark, err := b.s.AddMark("Cairn", pos)
	if err != nil {
		t.Fatal(err)
	}
	offers := func() bool { return b.view.Strip().Answers()[3].Visible() }
	b.drag(100, 200, 200, 100)
	b.view.Offer().KeepEscape()
	if offers() || len(b.s.Plan().Escapes) != 0 {
		t.Error("an escape begins at a mark that nobody called recognisable in cloud")
	}
	b.view.Discard()
	if err := b.s.SetInCloud(mark, true); err != nil {
		t.Fatal(err)
	}
	for i, c := range [][4]float64{{100, 200, 200, 100}, {200, 100, 300, 100}} {
		b.drag(c[0], c[1], c[2], c[3])
		if !offers() {
			t.Fatalf("drag %d is not offered as an escape", i+1)
		}
		b.view.Offer().KeepEscape()
	}
	p := b.s.Plan()
	if len(p.Escapes) != 1 || len(p.Escapes[0].Legs) != 2 || len(p.Legs) != 0 || p.Escapes[0].Start.Mark != mark {
		t.Fatalf("kept %+v", p.Escapes)
	}
	b.drag(300, 200, 250, 150)
	if offers() {
		t.Error("an escape begins at no mark")
	}
	b.view.Discard()
	b.s.Undo()
	b.s.Undo()
	if len(b.s.Plan().Escapes) != 0 {
		t.Error("two legs kept are not two steps of undo")
	}
}

// With all four answers the strip still has room for what stops a reading, in the sheet of
// the smallest window.
func TestFourAnswersLeaveRoomForAStop(t *testing.T) {
	b := newBench(t)
	pos, err := b.view.PositionAt(view.PicPt{X: 100, Y: 200})
	if err != nil {
		t.Fatal(err)
	}
	mark, err := b.s.AddMark("Cairn", pos)
	if err == nil {
		err = b.s.SetInCloud(mark, true)
	}
	if err != nil {
		t.Fatal(err)
	}
	b.drag(100, 200, 200, 100)
	const room = 853 - 328 - 36 // of 1280 × 800 at scale 1.5
	b.view.Strip().Fit(room)
	if w := b.view.Strip().MinSize().Width; w > room || b.view.Strip().Text() == "" {
		t.Errorf("the strip is %v wide in a room of %v and says %q", w, room, b.view.Strip().Text())
	}
}

// What is kept of a line is seen all the time: the line that was dragged stays until the sheet
// with the leg has been drawn, and a line that is dragged meanwhile stays too.
func TestTheLineStaysUntilTheLegIsDrawn(t *testing.T) {
	b := newBench(t)
	b.drag(100, 200, 200, 100)
	b.view.Offer().KeepLeg()
	if !b.lineDragged() {
		t.Fatal("the line goes before the leg is drawn")
	}
	b.Until(t, "the line goes", func() bool { return !b.lineDragged() })
	if len(b.view.Scene().Legs) != 1 {
		t.Errorf("%d legs are drawn, want 1", len(b.view.Scene().Legs))
	}
	b.drag(200, 100, 300, 100)
	b.view.Offer().KeepLeg()
	b.to(300, 100)
	b.Press()
	b.to(300, 200)
	b.Until(t, "both legs are drawn", func() bool { return len(b.view.Scene().Legs) == 2 && b.view.Area().Settled() })
	if !b.lineDragged() {
		t.Error("the next line goes when the leg before it is drawn")
	}
}

// lineDragged reports whether the map area shows a line that is dragged.
func (b *bench) lineDragged() bool {
	for _, o := range test.WidgetRenderer(b.view.Area()).Objects() {
		layer, ok := o.(*fyne.Container)
		if ok && slices.ContainsFunc(layer.Objects, func(o fyne.CanvasObject) bool { _, line := o.(*canvas.Line); return line }) {
			return true
		}
	}
	return false
}
