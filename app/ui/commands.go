package ui

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
	"legwright/assets/notices"
)

// undo takes the last act back; in a field, the last typing.
func (b *Bench) undo() {
	if f, ok := b.typingIn(b.s.UndoName()); ok {
		f.TypedShortcut(&fyne.ShortcutUndo{})
		return
	}
	b.step("Undone", b.s.UndoName(), b.s.Undo)
}

// redo makes the act again that was taken back; in a field, the typing.
func (b *Bench) redo() {
	if f, ok := b.typingIn(b.s.RedoName()); ok {
		f.TypedShortcut(&fyne.ShortcutRedo{})
		return
	}
	b.step("Redone", b.s.RedoName(), b.s.Redo)
}

// typingIn returns the field that undo and redo are meant for: the one with
// the focus. A field of the plan that nothing was typed into gives way to the
// plan's own step, such as the mark that was set just now; the focus leaves
// it then, for the step may take the field away.
func (b *Bench) typingIn(step string) (fyne.Shortcutable, bool) {
	focused := b.window.Canvas().Focused()
	if e, ok := focused.(*widgets.EditField); ok && !e.Changed() && step != "" {
		b.focusSheet()
		return nil, false
	}
	f, ok := focused.(fyne.Shortcutable)
	return f, ok
}

// step goes one step back or forth. What is being dragged is let go first, and
// where the step leads to another picture, that is shown.
func (b *Bench) step(done, name string, move func() bool) {
	if b.sheet.Cancel() {
		return
	}
	b.view.Discard()
	if !move() {
		return
	}
	b.say(done + ": " + name + ".")
}

// removeSelected removes the selected mark, leg or sight.
func (b *Bench) removeSelected() {
	if id := b.selectedID(); id != "" {
		b.try(b.s.Remove(id), "Removed. Undo brings it back.")
	}
}

func (b *Bench) toggleTrue() {
	on := !b.dial.ShowsTrue()
	b.dial.ShowTrue(on)
	b.set.setShowTrue(on)
	b.refreshMenus()
}

// setMode changes between light and dark.
func (b *Bench) setMode(m look.Mode) {
	b.set.setMode(m)
	b.app.Settings().SetTheme(look.New(m))
	b.refreshMenus()
}

// gridNorthUp turns the sheet so that grid north is up.
func (b *Bench) gridNorthUp() {
	c, err := b.s.Calibration()
	if err != nil {
		b.fail(err)
		return
	}
	b.sheet.RotateTo(-c.Rotation().Rad())
}

// showKeys lists the keys that no menu can show.
func (b *Bench) showKeys() {
	rows := [][2]string{
		{"Drag", "read a bearing from a position to a feature"},
		{"L, S, Esc", "keep the reading as a leg, as a sight, or discard it"},
		{"Wheel", "zoom in and out at the pointer"},
		{"Middle button, or Space and drag", "move the sheet"},
		{"Double click", "set a mark; on a leg, show all of it"},
		{"Arrow keys", "move the keyboard's cursor on the sheet, with Shift ten times as far"},
		{"Return on the sheet", "begin a line at the cursor, and end it: a bearing without a mouse"},
		{"Arrow keys in the enlargement", "a tenth of a pixel, with Shift a whole one"},
		{"Tab, Shift+Tab", "from one control to the next"},
		{"Ledger: arrows, Return, Delete", "choose a cell, edit it, delete the leg; Alt with Up or Down moves it"},
		{"Ctrl+1, Ctrl+2", "go to the Sheet panel, to the Route panel"},
		{"Ctrl+L, Ctrl+J", "go to the ledger, to the sheet"},
	}
	grid := container.New(&keysLayout{})
	for _, r := range rows {
		k := widgets.NewWrapped(r[0])
		k.TextStyle.Bold = true
		grid.Add(k)
		grid.Add(widgets.NewWrapped(r[1]))
	}
	b.dialogs.Show("Keys", container.NewVScroll(grid), fyne.NewSize(640, 470))
}

// keysLayout sets pairs side by side, the first of each a third as wide.
type keysLayout struct{}

// MinSize is as high as the pairs in their widths.
func (l *keysLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	h := float32(0)
	for i := 0; i+1 < len(o); i += 2 {
		h += max(o[i].MinSize().Height, o[i+1].MinSize().Height)
	}
	return fyne.NewSize(420, h)
}

// Layout places the pairs.
func (l *keysLayout) Layout(o []fyne.CanvasObject, size fyne.Size) {
	y, left := float32(0), size.Width*0.38
	for i := 0; i+1 < len(o); i += 2 {
		h := max(o[i].MinSize().Height, o[i+1].MinSize().Height)
		widgets.Put(o[i], 0, y, left, h)
		widgets.Put(o[i+1], left, y, size.Width-left, h)
		y += h
	}
}

// showNotices shows the notices of data and fonts carried in the program.
func (b *Bench) showNotices() {
	text := widget.NewLabel(strings.Join(notices.All(), "\n\n— — —\n\n"))
	text.Wrapping = fyne.TextWrapWord
	b.dialogs.Show("Sources and licences", container.NewVScroll(text), fyne.NewSize(720, 560))
}

// showAbout shows the version.
func (b *Bench) showAbout() {
	text := "Legwright " + b.app.Metadata().Version + "\nA bench for people who walk on a compass.\n\n" +
		"A planning aid: the ground, the weather and a qualified leader overrule it."
	b.dialogs.Tell("About", text)
}
