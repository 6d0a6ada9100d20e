package widgets_test

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

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
	w.Content().(*fyne.Container).Objects[1] = other
	icon.MouseIn(nil)
	icon.MouseOut()
	other.MouseIn(nil)
	queue.Until(t, "the next tip", func() bool { return tips.Text() == "Undo" })
}
