package ui

import "fyne.io/fyne/v2"

// around is the window around a card or a small panel that lies over the map.
type around interface {
	arrange()             // gives everything its place again
	focus(fyne.Focusable) // gives the keys to something; nil is the map
	changed()             // brings the menus up to date
}

// windowAround is around for the parts of the bench.
type windowAround struct{ b *Bench }

func (w windowAround) arrange() { w.b.frame.arrange() }

func (w windowAround) focus(f fyne.Focusable) {
	if f == nil {
		w.b.view.Focus()
		return
	}
	w.b.window.Canvas().Focus(f)
}

func (w windowAround) changed() {
	w.b.refreshMenus()
	w.b.program.probe.touch()
}
