package ui

import "legwright/app/plan"

// ledgerHost is the window as the ledger needs it.
type ledgerHost struct{ b *Bench }

// Find brings a leg into sight on the sheet.
func (h ledgerHost) Find(id plan.ID) { h.b.route.Find(id) }

// FocusSheet goes to the sheet.
func (h ledgerHost) FocusSheet() { h.b.view.Focus() }

// Arrange lays the window out again.
func (h ledgerHost) Arrange() {
	if h.b.frame.root != nil { // nil while the window is being built
		h.b.frame.root.Refresh()
	}
}
