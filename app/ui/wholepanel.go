package ui

import (
	"legwright/app/ui/widgets"
	"legwright/canvas/mapview"
)

// wholePanel shows the whole sheet small over a corner of the sheet, with a frame
// around the part in view. Dragging in it moves the view.
type wholePanel struct {
	around around
	set    *settings
	body   *widgets.Surface
	whole  *mapview.Whole
}

func newWholePanel(set *settings, sheet *mapview.MapView, w around) *wholePanel {
	p := &wholePanel{around: w, set: set, whole: mapview.NewWhole(sheet)}
	p.body = widgets.NewStrip(p.whole)
	visible(p.body, set.whole())
	return p
}

// toggle shows or hides the whole sheet in the corner, and remembers which.
func (p *wholePanel) toggle() {
	on := !p.set.whole()
	p.set.setWhole(on)
	visible(p.body, on)
	p.around.arrange()
	p.around.changed()
	if on {
		p.around.focus(p.whole)
	} else {
		p.around.focus(nil)
	}
}
