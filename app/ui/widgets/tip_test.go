package widgets_test

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
)

// The hint of an icon appears beside it while the pointer rests there, inside the
// window; one with words has none, and a pointer that only passes sees none.
func TestTipOfAnIcon(t *testing.T) {
	queue := uitest.NewQueue()
	tips := widgets.NewTipLayer(queue.Later)
	icon := widgets.NewTool(look.IconFit, "Show the whole sheet", func() {})
	words := widgets.NewTextTool(look.IconFit, "Fit", "Show the whole sheet", func() {})
	w := uitest.NewWindow(t, container.NewWithoutLayout(icon, words, tips))
	for _, at := range []fyne.Position{{X: 10, Y: 10}, {X: 1260, Y: 780}} {
		icon.Move(at)
		icon.Resize(icon.MinSize())
		words.Resize(words.MinSize())
		icon.MouseIn(nil)
		queue.Until(t, "the tip", func() bool { return tips.Text() == icon.Hint() })
		end := tips.Position().Add(tips.Size())
		if end.X > w.Canvas().Size().Width || end.Y > w.Canvas().Size().Height {
			t.Errorf("icon at %v: the tip ends at %v, outside the window", at, end)
		}
		if y := tips.Position().Y; y < at.Y+icon.Size().Height && y+tips.Size().Height > at.Y {
			t.Errorf("icon at %v: the tip at %v lies over it", at, tips.Position())
		}
		icon.MouseOut()
		if tips.Text() != "" {
			t.Error("the pointer has left, and the tip stays")
		}
		words.MouseIn(nil)
		icon.MouseIn(nil)
		icon.Tapped(nil)
		icon.MouseIn(nil)
		icon.MouseOut()
	}
	other := widgets.NewTool(look.IconUndo, "Undo", func() {})
	other.Move(fyne.NewPos(60, 10)) // nothing stands in the corner of the window
	w.Content().(*fyne.Container).Objects[1] = other
	icon.MouseIn(nil)
	icon.MouseOut()
	other.MouseIn(nil)
	queue.Until(t, "the next tip", func() bool { return tips.Text() == "Undo" })
}

// A tip goes with the icon it belongs to: when that is hidden, taken away, moved, or lies
// under a dialog, though the pointer does not move.
func TestATipGoesWithItsIcon(t *testing.T) {
	for name, away := range map[string]func(w *uitest.Window, box *fyne.Container, icon *widgets.Tool){
		"hidden":             func(_ *uitest.Window, _ *fyne.Container, icon *widgets.Tool) { icon.Hide() },
		"with what holds it": func(_ *uitest.Window, box *fyne.Container, _ *widgets.Tool) { box.Hide() },
		"taken away":         func(_ *uitest.Window, box *fyne.Container, _ *widgets.Tool) { box.RemoveAll() },
		"moved":              func(_ *uitest.Window, _ *fyne.Container, icon *widgets.Tool) { icon.Move(fyne.NewPos(300, 40)) },
		"under a dialog": func(w *uitest.Window, _ *fyne.Container, _ *widgets.Tool) {
			widget.ShowModalPopUp(widget.NewLabel("Sure?"), w.Canvas())
		},
	} {
		queue := uitest.NewQueue()
		tips := widgets.NewTipLayer(queue.Later)
		icon := widgets.NewTool(look.IconFit, "Show the whole sheet", func() {})
		icon.Resize(icon.MinSize())
		icon.Move(fyne.NewPos(10, 10))
		box := container.NewWithoutLayout(icon)
		w := uitest.NewWindow(t, container.NewWithoutLayout(box, tips))
		icon.MouseIn(nil)
		queue.Until(t, "the tip", func() bool { return tips.Text() != "" })
		away(w, box, icon)
		queue.Until(t, "the end of the tip of an icon "+name, func() bool { return tips.Text() == "" })
	}
}

// An icon that went before its tip appeared gets none.
func TestNoTipOfAnIconThatWent(t *testing.T) {
	queue := uitest.NewQueue()
	tips := widgets.NewTipLayer(queue.Later)
	gone := widgets.NewTool(look.IconFit, "Show the whole sheet", func() {})
	uitest.NewWindow(t, container.NewWithoutLayout(gone, tips))
	gone.MouseIn(nil)
	gone.Hide()
	(<-queue)()
	if tips.Text() != "" {
		t.Errorf("the tip %q stands alone", tips.Text())
	}
}
