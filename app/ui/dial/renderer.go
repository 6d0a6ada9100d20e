package dial

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"legwright/app/ui/widgets"
)

// The panel's measures in units of the window. Heights do not depend on the
// figures, so that nothing below the dial jumps while a bearing is dragged.
const (
	leastWidth   = 300
	faceLeast    = 190 // on low windows
	faceTight    = 96  // where else not all below it would be seen
	faceMost     = 520
	edge         = 12 // left and right of everything
	topGap       = 8
	setLabelHigh = 14
	setHigh      = 50
	pointAbove   = 19 // the point's line over that of the distance
	hairHigh     = 6
	cellLabel    = 14 // depth of a cell's label above its figure
	cellHigh     = 36
	ruleHigh     = 18

	// belowInput is the height of what stands under the face of an input: its figure.
	belowInput = topGap + setLabelHigh + setHigh + topGap
)

// renderer shows the picture with the one button over it.
type renderer struct {
	d       *Dial
	objects []fyne.CanvasObject
}

func (r *renderer) Destroy()                     {}
func (r *renderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *renderer) MinSize() fyne.Size           { return r.d.least() }

// Layout gives the picture all the room, and the button the corner beside the
// face.
func (r *renderer) Layout(size fyne.Size) {
	r.d.raster.Resize(size)
	tool := r.d.truth.MinSize()
	r.d.truth.Move(fyne.NewPos(size.Width-tool.Width-4, 4))
	r.d.truth.Resize(tool)
	r.placeRing()
}

// placeRing lays the ring over the face.
func (r *renderer) placeRing() {
	size := r.d.Size()
	side, _ := r.d.faceSide(size)
	widgets.Put(r.d.ring, (size.Width-side)/2, topGap, side, side)
}

// Refresh draws the picture again; Fyne calls it for another theme too.
func (r *renderer) Refresh() {
	r.d.raster.Refresh()
	if r.d.ring.Visible() {
		r.placeRing()
	}
	if least := r.d.least(); least != r.d.lastLeast {
		r.d.lastLeast = least
		canvas.Refresh(r.d) // the parent asks for the height anew
	}
}

// Within says how much of the panel's height is seen, 0 where all of it is. In
// a window too low for the whole dial its face gives way, for what is written
// under it, a reading's cautions last, must not be out of sight.
func (d *Dial) Within(high float32) {
	if d.within == high {
		return
	}
	d.within = high
	d.lastLeast = d.least()
}

// Comfortable is the height of the panel with a face of the usual least size and room for
// three lines of cautions: the face gives way to the third, not what stands below.
func (d *Dial) Comfortable() float32 {
	below, chips := heights(d, max(leastWidth, d.Size().Width))
	return topGap + faceLeast + below + max(3*chipHigh+2*chipGap, chips)
}

// Wish is the height of the panel with the largest face that its width takes, for
// readings, or for a dial that is turned all the time.
func (d *Dial) Wish(turned bool) float32 {
	width := max(leastWidth, d.Size().Width)
	below := d.below(width)
	if turned {
		below = belowInput
	}
	return topGap + min(width-2*edge, faceMost) + below
}

// Bare is the height of the panel without room for a reading, with the same face.
func (d *Dial) Bare() float32 {
	return topGap + d.leastFace(max(leastWidth, d.Size().Width)) + belowInput
}

// least is the panel's least size: two lines of cautions always, so that the face
// keeps its size.
func (d *Dial) least() fyne.Size {
	width := max(leastWidth, d.Size().Width)
	return fyne.NewSize(leastWidth, topGap+d.leastFace(width)+d.below(width))
}

// leastFace is the least side of the face.
func (d *Dial) leastFace(width float32) float32 {
	if d.within <= 0 {
		return faceLeast
	}
	return min(faceLeast, max(faceTight, d.within-topGap-d.below(width)))
}

// below is the height of everything under the face.
func (d *Dial) below(width float32) float32 {
	below, chips := heights(d, width)
	return below + max(2*chipHigh+chipGap, chips)
}

// heights are those of what stands under the face without the cautions, and of the cautions.
func heights(d *Dial, width float32) (below, chips float32) {
	seen := d.seen()
	rows := (len(seen.cells(d.showTrue)) + 1) / 2
	chips = (&writer{letters: d.picture.letters, width: width}).chipsHigh(seen)
	return topGap + setLabelHigh + setHigh + hairHigh + float32(rows)*cellHigh + ruleHigh + topGap, chips
}

// faceSide is the side of the face in a panel's size, and where what is
// written below it begins. An input has no readings below its figure.
func (d *Dial) faceSide(size fyne.Size) (side, below float32) {
	below = d.below(size.Width)
	if d.input != nil { // the larger the ring, the finer it turns
		below = belowInput
	}
	side = min(size.Width-2*edge, max(d.leastFace(size.Width), size.Height-topGap-below), faceMost)
	return side, topGap + side + topGap
}
