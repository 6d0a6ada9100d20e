package overlay

import (
	"image"
	"math"

	"legwright/canvas/view"
)

// fitReach is how far the symbols of a lesson reach, in device-independent pixels.
const fitReach = 22

// fitReaches is how far each symbol round a feature reaches, in device-independent pixels.
var fitReaches = map[shape]float64{spotShape: 9, wellShape: 19, barelyShape: 16, cannotShape: 15}

// drawFit draws a symbol of a lesson. Its middle stays free, so that the feature there
// is seen.
func (p *Painter) drawFit(k stampKey) *image.RGBA {
	half := int(math.Ceil(fitReach * p.px))
	s := &strip{img: image.NewRGBA(image.Rect(0, 0, 2*half, 2*half)), y1: 2 * half}
	at := view.ScreenPt{X: float64(half) + float64(k.fx)/parts, Y: float64(half) + float64(k.fy)/parts}
	line := map[shape]kind{
		spotShape: markLine, wellShape: fitsWellLine, barelyShape: fitsBarelyLine,
		cannotShape: cannotFitLine, ledShape: ledLine, crossShape: crossingLine,
	}[k.shape]
	for _, pr := range []*profile{&p.casing[line], &p.ink[line]} {
		for _, q := range fitStrokes(k.shape) {
			s.segment(pr, at.Add(q[0]*p.px, q[1]*p.px), at.Add(q[2]*p.px, q[3]*p.px), true)
		}
	}
	return s.img
}

// fitStrokes are the strokes of a symbol, from x, y to x, y around its middle.
func fitStrokes(sh shape) [][4]float64 {
	switch sh {
	case wellShape:
		return append(ringStrokes(13, 0xffff), ringStrokes(18, 0xffff)...)
	case barelyShape:
		return ringStrokes(15, 0x6666)
	case cannotShape:
		return [][4]float64{{7, 7, 14, 14}, {-7, 7, -14, 14}, {7, -7, 14, -14}, {-7, -7, -14, -14}}
	case ledShape:
		return ringStrokes(5, 0xffff)
	case crossShape:
		return [][4]float64{{4, 0, 13, 0}, {-4, 0, -13, 0}, {0, 4, 0, 13}, {0, -4, 0, -13}}
	}
	const r = 8
	return [][4]float64{{-r, -r, r, -r}, {r, -r, r, r}, {r, r, -r, r}, {-r, r, -r, -r}}
}

// ringStrokes are those of sixteen strokes of a ring whose bit is set.
func ringStrokes(r float64, drawn uint) [][4]float64 {
	var out [][4]float64
	for i := range 16 {
		if drawn>>i&1 != 0 {
			s0, c0 := math.Sincos(float64(i) * math.Pi / 8)
			s1, c1 := math.Sincos(float64(i+1) * math.Pi / 8)
			out = append(out, [4]float64{r * c0, r * s0, r * c1, r * s1})
		}
	}
	return out
}
