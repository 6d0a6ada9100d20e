package ui

import (
	"legwright/app/ui/widgets"
	"legwright/canvas/mapview"
)

// wholePanel is the whole sheet in small over the sheet's corner, with a frame
// around what is seen; dragging in it moves the view.
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

// toggleWhole shows the whole sheet in the corner, or puts it away, and
// remembers which.
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
