package ui

import "fyne.io/fyne/v2"

// addKeys takes the keys that no widget with the focus takes, and those that
// the sheet passes on.
func (b *Bench) addKeys() {
	b.frame.menus = newMenuBar(b)
	b.window.SetMainMenu(b.frame.menus.main)
	c := b.window.Canvas()
	c.SetOnTypedRune(b.rune)
	c.SetOnTypedKey(b.key)
}

// rune takes single letters: answers to the strip, and acts of a lesson.
func (b *Bench) rune(r rune) {
	if b.dialogs.Waiting() {
		return
	}
	if b.teach.panel.Rune(r) {
		return
	}
	switch r {
	case 'l', 'L':
		b.view.Offer().KeepLeg()
	case 's', 'S':
		b.view.Offer().KeepSight()
	case 'e', 'E':
		b.view.Offer().KeepEscape()
	case '+', '=':
		b.view.Area().ZoomBy(zoomStep)
	case '-':
		b.view.Area().ZoomBy(1 / zoomStep)
	}
}

// key takes the keys of the bench as a whole.
func (b *Bench) key(e *fyne.KeyEvent) {
	if e.Name == fyne.KeyEscape {
		b.escape()
		return
	}
	if b.dialogs.Waiting() {
		b.dialogs.Key(e.Name)
		return
	}
	if b.teach.panel.Key(e) || b.escapeP.Key(e) {
		return
	}
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		if b.frame.welcome.body.Visible() {
			b.frame.welcome.close()
		}
	case fyne.KeyDelete, fyne.KeyBackspace:
		if b.frame.panel.front == panelSheet && b.sheetP.Points().Chosen() >= 0 {
			b.sheetP.Points().RemoveChosen()
			return
		}
		b.removeSelected()
	}
}

// escape cancels the nearest thing: the work whose progress is shown, the dialog,
// the drag, the turning of a guess, the offer, the proposal, the aim, the selection.
func (b *Bench) escape() {
	defer b.releaseKeys()
	switch {
	case b.dialogs.Escape():
	case b.view.Area().Cancel():
	case b.frame.look.body.Visible():
		b.frame.look.hide()
	case b.teach.panel.Key(&fyne.KeyEvent{Name: fyne.KeyEscape}):
	case b.offered():
		b.view.Discard()
	case b.frame.panel.moving:
		b.toggleMoving()
	case b.frame.relief.Escape():
	case b.sheetP.Escape():
	case b.escapeP.Escape():
	case b.frame.welcome.body.Visible():
		b.frame.welcome.close()
	default:
		b.s.Select("")
	}
}
