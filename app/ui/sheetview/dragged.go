package sheetview

import (
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// Drag is one event of a bearing that is being dragged over the sheet.
type Drag struct {
	From, To plan.End
	A, B     view.PicPt  // where they lie in the picture
	Reading  leg.Reading // between them
	// Read is false where nothing can be read, as on a sheet that is not calibrated, and
	// at the end of a drag that was cancelled: then From, To and Reading are zero.
	Read     bool
	Released bool // the drag is over
}

// dragged tells the panel that holds the tool of drags.
type dragged struct {
	scene *scene
	offer *Offer
	tell  func(Drag) // of the panel; may be nil
	last  Drag
	on    bool // a drag is under way
}

// live tells of an event of a drag that the offer has read.
func (d *dragged) live(from, to tool.Spot) {
	o := d.offer
	d.send(Drag{From: o.from, To: o.to, A: from.At, B: to.At, Reading: o.read, Read: o.from != o.to})
}

// released ends the drag at its last position.
func (d *dragged) released() {
	d.last.Released = true
	d.send(d.last)
}

// cancelled tells that a drag ended without effect.
func (d *dragged) cancelled() {
	if d.on {
		d.send(Drag{Released: true})
	}
}

func (d *dragged) send(e Drag) {
	if d.tell == nil {
		return
	}
	d.last, d.on = e, !e.Released
	d.tell(e)
	d.scene.askLayers()
}
