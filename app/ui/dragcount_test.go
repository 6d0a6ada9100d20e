package ui_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/session"
	"legwright/app/ui/benchtest"
)

// While an end is dragged neither the ledger nor the menus are shown again; at its end
// both show what came of it.
func TestADragLeavesTheLedgerAlone(t *testing.T) {
	b := benchtest.WithALeg(t)
	b.Choose("Move marks and ends by dragging")
	b.Settle()
	l := b.Scene().Legs[0]
	b.Session().Select(l.ID)
	grid := func() string { text, _ := b.Ledger.Cell(0, "grid"); return text }
	undo := func() string { return b.Entry("Undo").Label }
	before, last := grid(), undo()
	moves := 0
	b.Session().OnChange(func(c session.Change) {
		if !c.Moving {
			return
		}
		if moves++; grid() != before || undo() != last {
			t.Errorf("move %d: the ledger has %q, the menu %q", moves, grid(), undo())
		}
	})
	at := b.Mouse.At(l.To.X, l.To.Y)
	b.Mouse.Press(l.To.X, l.To.Y)
	for i := range 5 {
		to := at
		to.Position = to.Position.AddXY(float32(12*(i+1)), float32(9*(i+1)))
		to.AbsolutePosition = to.AbsolutePosition.AddXY(float32(12*(i+1)), float32(9*(i+1)))
		b.Sheet().Dragged(&fyne.DragEvent{PointEvent: to})
		b.Settle()
	}
	if moves != 5 {
		t.Fatalf("%d moves, want 5: the test tries nothing", moves)
	}
	b.Sheet().DragEnd()
	if grid() == before || undo() == last {
		t.Errorf("after the drag the ledger has %q, the menu %q", grid(), undo())
	}
}
