package ui

import (
	"fyne.io/fyne/v2"

	"legwright/app/plan"
)

// ledgerHost is the window as the ledger needs it.
type ledgerHost struct{ b *Bench }

// Find brings a leg into sight on the sheet.
func (h ledgerHost) Find(id plan.ID) { h.b.route.Find(id) }

// FocusSheet goes to the sheet.
func (h ledgerHost) FocusSheet() { h.b.view.Focus() }

// Takes gives a lesson its letters and a presenter's keys: who clicked on a leg goes on
// from there.
func (h ledgerHost) Takes(r rune, e *fyne.KeyEvent) bool {
	switch {
	case h.b.frame.panel.front != panelTeach:
		return false
	case e == nil:
		return h.b.teach.panel.Rune(r)
	}
	return (e.Name == fyne.KeyPageDown || e.Name == fyne.KeyPageUp) && h.b.teach.panel.Key(e)
}

// Arrange lays the window out again.
func (h ledgerHost) Arrange() { h.b.frame.arrange(h.b.ledger) }
