package ui

import (
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/teach"
	"legwright/app/ui/uitest"
	"legwright/canvas/view"
)

// A field that is hidden does not keep the keys: Undo would go to it and do nothing.
func TestHiddenFieldsReleaseTheKeys(t *testing.T) {
	escape := &fyne.KeyEvent{Name: fyne.KeyEscape}
	for _, c := range []struct {
		name string
		hide func(*Bench)
	}{
		{"a reference begun and Esc pressed", func(b *Bench) {
			clickAt(b, view.PicPt{X: 150, Y: 150})
			typeReference(b, "NL 2")
			b.window.Canvas().Focused().TypedKey(escape)
		}},
		{"a reference begun and another panel chosen", func(b *Bench) {
			clickAt(b, view.PicPt{X: 150, Y: 150})
			typeReference(b, "NL 2")
			b.goTo(panelRoute)
		}},
		{"a name begun and another panel chosen", func(b *Bench) {
			b.view.NewMark(picAt(120, 120))
			b.goTo(panelSheet)
			b.s.Undo()
		}},
		{"the name of a mark that is deleted", func(b *Bench) {
			b.view.NewMark(picAt(120, 120))
			b.removeSelected()
			b.s.Undo()
			b.s.Undo()
		}},
		{"a guess begun and another job chosen", func(b *Bench) {
			b.teach.panel.Acts().SetAsk(teach.AskBearing)
			win := &uitest.Window{Window: b.window}
			win.FocusOn(t, "040 055 70")
			win.Type("1")
			win.Tap(t, "Compass")
		}},
	} {
		b := calibrated(t)
		c.hide(b)
		if got := b.window.Canvas().Focused(); got != fyne.Focusable(b.view.Area()) {
			t.Errorf("%s: the keys are at %T, not on the map", c.name, got)
		}
		before := points(b)
		b.undo()
		if points(b) != before-1 {
			t.Errorf("%s: %d points after undo, want %d", c.name, points(b), before-1)
		}
	}
}
