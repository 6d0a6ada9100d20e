package ui_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/ui/benchtest"
)

// A field that is hidden does not keep the keys: Undo would go to it and do nothing.
func TestHiddenFieldsReleaseTheKeys(t *testing.T) {
	escape := &fyne.KeyEvent{Name: fyne.KeyEscape}
	for _, c := range []struct {
		name string
		hide func(*benchtest.Bench)
	}{
		{"a reference begun and Esc pressed", func(b *benchtest.Bench) {
			b.Sheets.Aim(150, 150, "NL 2")
			b.Canvas().Focused().TypedKey(escape)
		}},
		{"a reference begun and another panel chosen", func(b *benchtest.Bench) {
			b.Sheets.Aim(150, 150, "NL 2")
			b.GoTo("Route")
		}},
		{"a name begun and another panel chosen", func(b *benchtest.Bench) {
			b.Mouse.NewMark(120, 120)
			b.GoTo("Sheet")
			b.Session().Undo()
		}},
		{"the name of a mark that is deleted", func(b *benchtest.Bench) {
			b.Mouse.NewMark(120, 120)
			b.Choose("Delete selection")
			b.Session().Undo()
			b.Session().Undo()
		}},
		{"a guess begun and another job chosen", func(b *benchtest.Bench) {
			b.Choose("Guess the bearing")
			b.FocusOn(t, "040 055 70")
			b.Letters("1")
			b.Tap(t, "Compass")
		}},
	} {
		b := benchtest.Calibrated(t)
		c.hide(b)
		if got := b.Canvas().Focused(); got != fyne.Focusable(b.Sheet()) {
			t.Errorf("%s: the keys are at %T, not on the map", c.name, got)
		}
		before := b.Points()
		b.Undo()
		if b.Points() != before-1 {
			t.Errorf("%s: %d points after undo, want %d", c.name, b.Points(), before-1)
		}
	}
}
