package ui

import (
	"legwright/app/ui/widgets"
	"legwright/canvas/mapview"
)

// wholePanel shows the whole sheet small over a corner of the sheet, with a frame
// around the part in view. Dragging in it moves the view.
type wholePanel struct {
	body  *widgets.Surface
	whole *mapview.Whole
}

func newWholePanel(b *Bench) *wholePanel {
	p := &wholePanel{whole: mapview.NewWhole(b.sheet)}
	p.body = widgets.NewStrip(p.whole)
	visible(p.body, b.set.whole())
	return p
}

// toggleWhole shows or hides the whole sheet in the corner, and remembers which.
func (b *Bench) toggleWhole() {
	on := !b.set.whole()
	b.set.setWhole(on)
	visible(b.whole.body, on)
	b.root.Refresh()
	b.refreshMenus()
	if on {
		b.window.Canvas().Focus(b.whole.whole)
	} else {
		b.focusSheet()
	}
}
