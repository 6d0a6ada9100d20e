package baseplate

import (
	"image/color"
	"math"

	"legwright/app/units"
)

// Measures of the plate and of the walker.
const (
	headCut   = 0.15 // of the corners at the head
	tailCut   = 0.05
	edgeWidth = 0.011
	arrowTip  = plateHead - 0.045
	arrowRoot = arrowTip - 0.17
	arrowHalf = 0.042
	shoulder  = 0.085
	headSize  = 0.034
)

// plate draws the clear plate with its edges and the two lines beside its arrow.
func (d *Drawing) plate(angle float64) {
	corners := turned(angle, [][2]float64{
		{plateHead, -plateHalf + headCut},
		{plateHead, plateHalf - headCut},
		{plateHead - headCut, plateHalf},
		{plateTail + tailCut, plateHalf},
		{plateTail, plateHalf - tailCut},
		{plateTail, -plateHalf + tailCut},
		{plateTail + tailCut, -plateHalf},
		{plateHead - headCut, -plateHalf},
	})
	d.shape(d.ink.Plate, corners...)
	for i, c := range corners {
		d.segment(c, corners[(i+1)%len(corners)], edgeWidth, d.ink.Edge)
	}
}

// arrow draws the plate's arrow: a line from the housing, and a slender point in the form
// of the needle's.
func (d *Drawing) arrow(angle float64) {
	ink := d.ink.Housing.Needle
	d.shape(ink, turned(angle, [][2]float64{
		{faceRadius, -lineWidth / 2}, {arrowRoot, -lineWidth / 2}, {arrowRoot, lineWidth / 2}, {faceRadius, lineWidth / 2},
	})...)
	d.shape(ink, turned(angle, [][2]float64{{arrowTip, 0}, {arrowRoot, arrowHalf}, {arrowRoot + 0.035, 0}, {arrowRoot, -arrowHalf}})...)
}

// walker draws somebody from above: shoulders across the way that is faced, the head, and
// two arms that reach for the compass.
func (d *Drawing) walker(v View) {
	ink, at := d.ink.Edge, along(v.Body, -v.Stand, 0)
	for _, side := range []float64{-1, 1} {
		elbow := at.plus(along(v.Body, 0.01, side*shoulder))
		hand := at.plus(along(v.Body, 0.075, side*shoulder*0.55))
		d.round(elbow, hand, 0.016, ink)
	}
	d.round(at.plus(along(v.Body, 0, -shoulder)), at.plus(along(v.Body, 0, shoulder)), 0.03, ink)
	d.spot(at, headSize+0.008, d.ink.Map)
	d.spot(at, headSize, ink)
}

// round draws a line with round ends.
func (d *Drawing) round(a, b Point, r float64, ink color.NRGBA) {
	d.segment(a, b, 2*r, ink)
	d.spot(a, r, ink)
	d.spot(b, r, ink)
}

// turned turns pairs of along and across to an angle.
func turned(angle float64, pairs [][2]float64) []Point {
	out := make([]Point, len(pairs))
	for i, p := range pairs {
		out[i] = along(units.Angle(angle), p[0], p[1])
	}
	return out
}

// upper reports on which side of the picture's head the plate leaves room: 1 is the right.
func upper(plate units.Angle) float64 {
	if a := plate.Signed().Rad(); a <= 0 || a > math.Pi {
		return 1
	}
	return -1
}
