package ui

import (
	"fyne.io/fyne/v2"

	"legwright/app/ui/look"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
)

// undo takes the last act back; in a field, the last typing.
func (b *Bench) undo() {
	if f, ok := b.typingIn(b.s.UndoName()); ok {
		f.TypedShortcut(&fyne.ShortcutUndo{})
		return
	}
	b.step("Undone", "Nothing to undo.", b.s.UndoName(), b.s.Undo)
}

// redo makes the act again that was taken back; in a field, the typing.
func (b *Bench) redo() {
	if f, ok := b.typingIn(b.s.RedoName()); ok {
		f.TypedShortcut(&fyne.ShortcutRedo{})
		return
	}
	b.step("Redone", "Nothing to redo.", b.s.RedoName(), b.s.Redo)
}

// typingIn returns the field that undo and redo are meant for: the one with
// the focus. A field of the plan that nothing was typed into gives way to the
// plan's own step, such as the mark that was set just now; the focus leaves
// it then, for the step may take the field away.
func (b *Bench) typingIn(step string) (fyne.Shortcutable, bool) {
	focused := b.window.Canvas().Focused()
	if e, ok := focused.(*widgets.EditField); ok && !e.Changed() && step != "" {
		b.view.Focus()
		return nil, false
	}
	f, ok := focused.(fyne.Shortcutable)
	return f, ok
}

// step goes one step back or forth, and says done or that there is none. A drag that is not finished is cancelled first, and
// where the step leads to another picture, that is shown.
func (b *Bench) step(done, none, name string, move func() bool) {
	if b.view.Area().Cancel() {
		return
	}
	b.view.Discard()
	if !move() {
		b.foot.Say(none)
		return
	}
	b.foot.Say(done + ": " + name + ".")
}

// removeSelected removes the selected mark, leg or sight.
func (b *Bench) removeSelected() {
	if id := b.selectedID(); id != "" {
		sheetview.Remove(b.s, b.foot, id)
	}
}

func (b *Bench) toggleTrue() {
	on := !b.frame.dial.ShowsTrue()
	b.frame.dial.ShowTrue(on)
	b.program.set.setShowTrue(on)
	b.refreshMenus()
}

// setMode changes between light and dark.
func (b *Bench) setMode(m look.Mode) {
	b.program.set.setMode(m)
	b.program.app.Settings().SetTheme(look.New(m))
	b.refreshMenus()
}

// gridNorthUp turns the sheet so that grid north is up.
func (b *Bench) gridNorthUp() {
	c, err := b.s.Calibration()
	if err != nil {
		b.foot.Fail(err)
		return
	}
	b.turnSheet(-c.Rotation().Rad())
}
