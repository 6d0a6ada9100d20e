package overlay

import (
	"image"
	"math"

	"legwright/canvas/view"
)

// Named is a mark near the line being dragged: its name is not to be written over.
type Named struct {
	Text string
	At   view.ScreenPt
}

// nameOff is how far a name begins from the middle of its mark, in
// device-independent pixels.
const (
	nameOff = 12
	endOff  = 8 // of the letter of an end from its dot
)

// boxes are where the names may stand: to the right of their marks, where they
// are written first, and to the left, where they go next.
func (l *textRenderer) boxes(names []Named, px float64) (right, left []image.Rectangle) {
	for _, n := range names {
		if n.Text == "" {
			continue
		}
		width, half := l.width(words{text: n.Text, size: nameSize * px, bold: true}), nameSize*px*0.5
		box := func(x float64) image.Rectangle {
			y := n.At.Y - nameOff*px*0.5
			return image.Rect(int(x), int(y-half), int(math.Ceil(x+width)), int(math.Ceil(y+half)))
		}
		right = append(right, box(n.At.X+nameOff*px))
		left = append(left, box(n.At.X-nameOff*px-width))
	}
	return right, left
}

// covers reports whether a text with its middle at mid lies over any of the
// boxes. It looks at points of the text a quarter of its height apart.
func covers(mid view.ScreenPt, angle, width, height float64, boxes []image.Rectangle) bool {
	sin, cos := math.Sincos(angle)
	x, y := math.Abs(cos)*width/2+math.Abs(sin)*height/2, math.Abs(sin)*width/2+math.Abs(cos)*height/2
	reach := image.Rect(int(mid.X-x)-1, int(mid.Y-y)-1, int(mid.X+x)+2, int(mid.Y+y)+2)
	for _, r := range boxes {
		if !r.Overlaps(reach) {
			continue
		}
		for along := -width / 2; along <= width/2; along += height / 4 {
			for across := -height / 2; across <= height/2; across += height / 4 {
				if p := mid.Add(along*cos-across*sin, along*sin+across*cos); image.Pt(int(p.X), int(p.Y)).In(r) {
					return true
				}
			}
		}
	}
	return false
}
