package ui

import (
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/session"
)

// While an end is dragged neither the ledger nor the menus are shown again; at its end
// both show what came of it.
func TestADragLeavesTheLedgerAlone(t *testing.T) {
	b := withALeg(t)
	b.toggleMoving()
	settle(b)
	l := b.view.Scene().Legs[0]
	b.s.Select(l.ID)
	grid := func() string { text, _ := b.ledger.Cell(0, "grid"); return text }
	undo := func() string { return b.frame.menus.undo.Label }
	before, last := grid(), undo()
	moves := 0
	b.s.OnChange(func(c session.Change) {
		if !c.Moving {
			return
		}
		if moves++; grid() != before || undo() != last {
			t.Errorf("move %d: the ledger has %q, the menu %q", moves, grid(), undo())
		}
	})
	at := eventAt(b, l.To)
	b.view.Area().MouseDown(mouse(b, l.To))
	for i := range 5 {
		to := at
		to.Position = to.Position.AddXY(float32(12*(i+1)), float32(9*(i+1)))
		to.AbsolutePosition = to.AbsolutePosition.AddXY(float32(12*(i+1)), float32(9*(i+1)))
		b.view.Area().Dragged(&fyne.DragEvent{PointEvent: to})
		settle(b)
	}
	if moves != 5 {
		t.Fatalf("%d moves, want 5: the test tries nothing", moves)
	}
	b.view.Area().DragEnd()
	if grid() == before || undo() == last {
		t.Errorf("after the drag the ledger has %q, the menu %q", grid(), undo())
	}
}
