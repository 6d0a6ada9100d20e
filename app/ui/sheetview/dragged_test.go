package sheetview_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/ui/sheetview"
	"legwright/canvas/overlay"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// The panel that holds the tool hears of each event of a drag with the reading that
// the dial shows, of its end, and of one that is cancelled. Each event paints dial,
// foot line and the layers once and nothing else: the plan is not drawn anew.
func TestThePanelHearsOfADrag(t *testing.T) {
	b := newBench(t)
	var told []sheetview.Drag
	b.view.SetTool(sheetview.Tool{Kind: tool.Sight, Drag: func(d sheetview.Drag) { told = append(told, d) }})
	b.to(100, 200)
	b.Press()
	b.to(120, 180) // the drag begins
	for i := range 4 {
		told = nil
		n := b.during(func() { b.to(150+20*float64(i), 150) })
		if want := (painted{dial: 1, foot: 1, scene: 1}); n != want {
			t.Errorf("event %d painted %+v, want %+v", i, n, want)
		}
		if len(told) != 1 || !told[0].Read || told[0].Released || told[0].B.Dist(view.PicPt{X: 150 + 20*float64(i), Y: 150}) > 1 {
			t.Fatalf("event %d: told %+v", i, told)
		}
	}
	b.Release()
	last := told[len(told)-1]
	if !last.Released || !last.Read || last.Reading.Grid != b.view.Offer().Reading().Grid || !b.view.Offer().On() {
		t.Errorf("at the release: told %+v, offered %+v", last, b.view.Offer().Reading())
	}
	told = nil
	b.view.Area().Cancel()
	if len(told) != 0 {
		t.Errorf("told %+v of a drag that was over", told)
	}
	b.to(100, 200)
	b.Press()
	b.to(150, 150)
	b.view.Area().Cancel()
	b.Release()
	if last = told[len(told)-1]; last.Read || !last.Released || last.From != last.To {
		t.Errorf("after a cancelled drag: told %+v", last)
	}
}

// What the layers add is drawn anew over the plan as it was, and a drawing that is
// under way keeps what it was given.
func TestLayersAreDrawnAloneOverThePlan(t *testing.T) {
	b, _, _ := withALeg(t)
	n := 0
	redraw := b.view.AddLayer(func(s *overlay.Scene) {
		n++
		s.Marks = append(s.Marks, overlay.Mark{At: view.PicPt{X: float64(n)}})
	})
	b.view.Redraw()
	b.Drain()
	first := b.view.Scene()
	redraw()
	b.Drain()
	second := b.view.Scene()
	if len(first.Marks) != 2 || len(second.Marks) != 2 || len(second.Legs) != 1 {
		t.Fatalf("marks %d and %d, legs %d, want 2, 2 and 1", len(first.Marks), len(second.Marks), len(second.Legs))
	}
	if first.Marks[1].At.X == second.Marks[1].At.X {
		t.Error("a later drawing wrote into an earlier one")
	}
}

// A panel takes keys before the sheet zooms by them; letters go to the window.
func TestThePanelTakesKeysFirst(t *testing.T) {
	b := newBench(t)
	var taken []fyne.KeyName
	b.view.SetTool(sheetview.Tool{Kind: tool.Sight, Key: func(e *fyne.KeyEvent) bool {
		taken = append(taken, e.Name)
		return e.Name == fyne.KeyPageDown
	}})
	before := b.view.Area().View()
	b.view.Area().TypedKey(&fyne.KeyEvent{Name: fyne.KeyPageDown})
	if b.view.Area().View() != before {
		t.Error("a key that the panel took zoomed the sheet")
	}
	b.view.Area().TypedKey(&fyne.KeyEvent{Name: fyne.KeyPageUp})
	b.view.Area().TypedKey(&fyne.KeyEvent{Name: fyne.KeyF12}) // another key ends the glide
	if len(taken) != 3 || b.view.Area().View().Scale() <= before.Scale() {
		t.Errorf("the panel was shown %v, the scale went from %v to %v", taken, before.Scale(), b.view.Area().View().Scale())
	}
}
