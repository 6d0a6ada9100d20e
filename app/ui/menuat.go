package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// showMenu opens a menu at a place of the window.
func showMenu(c fyne.Canvas, m *fyne.Menu, at fyne.Position) {
	widget.ShowPopUpMenuAtPosition(m, c, at)
}
