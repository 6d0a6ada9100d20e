package sheetview_test

import (
	"testing"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/ui/sheetview"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// withALeg is a bench with a mark at 100, 200 and a leg from it to 200, 100, with the
// tool that moves things.
func withALeg(t *testing.T) (b *bench, mark, leg plan.ID) {
	t.Helper()
	b = newBench(t)
	b.view.DoubleClick(tool.Spot{At: view.PicPt{X: 100, Y: 200}})
	if b.named != 1 || len(b.s.Plan().Marks) != 1 {
		t.Fatalf("%d marks, asked for %d names", len(b.s.Plan().Marks), b.named)
	}
	b.drag(100, 200, 200, 100)
	b.view.Offer().KeepLeg()
	p := b.s.Plan()
	if len(p.Legs) != 1 || p.Legs[0].From.Mark != p.Marks[0].ID {
		t.Fatalf("legs %+v, want one from the mark", p.Legs)
	}
	b.view.SetTool(sheetview.Tool{Kind: tool.Move})
	b.Drain()
	return b, p.Marks[0].ID, p.Legs[0].ID
}

// A mark and an end go where they are dragged, each in one step of undo, and read no
// bearing.
func TestThingsAreMovedByDragging(t *testing.T) {
	b, mark, leg := withALeg(t)
	before := b.s.Plan()
	b.drag(100, 200, 120, 240)
	moved, _ := b.s.Plan().MarkByID(mark)
	if !b.near(moved.Position.At, 120, 240) || b.view.Offer().On() {
		t.Errorf("the mark is at %+v, offered %v", moved.Position.At, b.view.Offer().On())
	}
	b.drag(200, 100, 260, 140)
	if l, _ := b.s.Plan().LegByID(leg); !b.near(l.To.Position.At, 260, 140) {
		t.Errorf("the leg ends at %+v", l.To.Position.At)
	}
	b.s.Undo()
	b.s.Undo()
	if b.s.Plan() != before {
		t.Error("two undos do not lead back over two drags")
	}
}

// Escape in the midst of a drag puts the thing back; nothing is dragged beyond the
// picture's edge.
func TestADragCanBeCancelled(t *testing.T) {
	b, mark, _ := withALeg(t)
	before := b.s.Plan()
	b.to(100, 200)
	b.Press()
	b.to(150, 150)
	if m, _ := b.s.Plan().MarkByID(mark); !b.near(m.Position.At, 150, 150) || !b.view.Dragging() {
		t.Fatal("the mark does not follow the pointer: the test tries nothing")
	}
	b.view.Area().Cancel()
	b.Release()
	if b.s.Plan() != before || b.view.Dragging() {
		t.Error("the mark is not back")
	}
	b.drag(100, 200, -60, 200)
	if m, _ := b.s.Plan().MarkByID(mark); m.Position.At.Col < 0 || !b.line.Failed() {
		t.Errorf("dragged beyond the edge to %+v: %q", m.Position.At, b.line.Message())
	}
}

// Each event of a drag and each nudge paints dial, foot line and drawing once at the
// most, and sends one notification. So does each act.
func TestOneEventPaintsOnce(t *testing.T) {
	b, _, leg := withALeg(t)
	b.s.Select(leg)
	once := func(what string, event func()) {
		t.Helper()
		if n := b.during(event); n.dial > 1 || n.foot > 1 || n.scene > 1 || n.told > 1 {
			t.Errorf("%s: painted %+v", what, n)
		}
	}
	moves := func(what string, x0, y0, x1, y1 float64) {
		t.Helper()
		b.to(x0, y0)
		b.Press()
		for i := range 8 {
			f := float64(i+1) / 8
			once(what, func() { b.to(x0+f*(x1-x0), y0+f*(y1-y0)) })
			if what != "a control point" && b.painted.foot != 1 { // whose reference stays under the pointer
				t.Errorf("%s: the reference in the foot line was shown %d times in an event, want once", what, b.painted.foot)
			}
		}
		b.Release()
		b.Drain()
	}
	moves("an end", 200, 100, 280, 180)
	moves("a mark", 100, 200, 60, 260)
	b.view.SetTool(sheetview.Tool{Kind: tool.Sight})
	moves("a bearing", 300, 250, 380, 60)
	if n := b.painted; n.scene > 0 {
		t.Errorf("a bearing that is dragged has the plan drawn %d times", n.scene)
	}
	b.view.Discard()
	b.view.SetTool(sheetview.Tool{Kind: tool.Calibrate, Calibrating: true})
	moves("a control point", 300, 100, 360, 60)
	once("a nudge", func() { _ = b.s.NudgeControlPoint(0, calib.PicturePt{Col: 100.2, Row: 200}) })
	once("the end of nudges", b.s.EndNudge)
	once("a title", func() { _ = b.s.SetTitle("Round") })
	once("a selection", func() { b.s.Select("") })
	once("an undo", func() { b.s.Undo() })
	once("asking for a drawing twice", func() { b.view.Redraw(); b.view.Redraw() })
}

// The reference in the foot line follows the pointer while it hovers, drags a bearing
// and drags a thing; it goes with the pointer.
func TestTheReferenceFollowsThePointer(t *testing.T) {
	b, _, _ := withALeg(t)
	for _, kind := range []tool.Kind{tool.Sight, tool.Move} {
		b.view.SetTool(sheetview.Tool{Kind: kind})
		b.to(200, 100)
		start := b.line.Pointer().Ref
		b.Press()
		b.to(150, 150)
		b.to(250, 150)
		end := b.line.Pointer().Ref
		b.Release()
		b.view.Discard()
		b.to(250, 150)
		if there := b.line.Pointer().Ref; end == start || end != there {
			t.Errorf("tool %v: %q at the press, %q at the end of the drag, want %q", kind, start, end, there)
		}
	}
	b.Leave()
	if got := b.line.Pointer().Ref; got != "" {
		t.Errorf("the pointer has left, and the foot line says %q", got)
	}
}
