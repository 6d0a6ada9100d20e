package overlay

import (
	"image"
	"math"

	"legwright/canvas/view"
)

// nameOff is how far a name begins from the middle of its mark, in
// device-independent pixels.
const (
	nameOff = 12
	endOff  = 8 // of the letter of an end from its dot
)

// covers is how many of the boxes a text with its middle at mid lies over. It looks at
// points of the text a quarter of its height apart.
func covers(mid view.ScreenPt, angle, width, height float64, boxes []image.Rectangle) (n int) {
	sin, cos := math.Sincos(angle)
	x, y := math.Abs(cos)*width/2+math.Abs(sin)*height/2, math.Abs(sin)*width/2+math.Abs(cos)*height/2
	reach := image.Rect(int(mid.X-x)-1, int(mid.Y-y)-1, int(mid.X+x)+2, int(mid.Y+y)+2)
	for _, r := range boxes {
		if r.Overlaps(reach) && touches(mid, sin, cos, width, height, r) {
			n++
		}
	}
	return n
}

func touches(mid view.ScreenPt, sin, cos, width, height float64, r image.Rectangle) bool {
	for along := -width / 2; along <= width/2; along += height / 4 {
		for across := -height / 2; across <= height/2; across += height / 4 {
			if p := mid.Add(along*cos-across*sin, along*sin+across*cos); image.Pt(int(p.X), int(p.Y)).In(r) {
				return true
			}
		}
	}
	return false
}
