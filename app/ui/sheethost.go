package ui

import (
	"fyne.io/fyne/v2"

	"legwright/app/plan"
)

// hostOf is the window as the sheet's room needs it.
type hostOf struct{ b *Bench }

// Find brings a thing into view.
func (h hostOf) Find(id plan.ID) { h.b.route.Find(id) }

// NameMark goes to the name of the mark that was just set.
func (h hostOf) NameMark() {
	h.b.route.FocusName()
}

// MayKeep lets a reading be kept once the cautions have been read.
func (h hostOf) MayKeep(keep func()) {
	if h.b.program.set.welcomed() {
		keep()
		return
	}
	h.b.frame.help.readCautions(keep)
}

// Typed takes what was typed on the sheet and means nothing there.
func (h hostOf) Typed(r rune, e *fyne.KeyEvent) {
	if e != nil {
		h.b.key(e)
		return
	}
	h.b.rune(r)
}

// takeTool gives the sheet to the panel in front.
func (b *Bench) takeTool() { b.view.SetTool(b.frame.panel.entries[b.frame.panel.front].tool()) }

// viewChanged follows a pan, zoom or turn of the sheet.
func (b *Bench) viewChanged() {
	b.sheetP.ViewChanged()
	b.program.probe.touch()
}

// offerChanged makes room for the strip, or takes it back.
func (b *Bench) offerChanged() {
	b.frame.arrange(b.view.Strip())
	b.refreshMenus()
	b.program.probe.touch()
}

// offered reports whether a reading waits to be kept.
func (b *Bench) offered() bool { return b.view.Offer().On() }
