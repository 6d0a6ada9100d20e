package housing

import (
	"image/color"
	"math"
)

// The needle's measures as fractions of the face.
const (
	needleTip   = 0.47  // north end, along
	needleEnd   = -0.47 // south end, along
	needleWaist = 0.046 // half its width at the hub
	eyeOuter    = 0.052 // ring at the south end
	eyeInner    = 0.027
	hubOuter    = 0.03
	hubInner    = 0.014
)

// drawNeedle paints the needle with its north end at an angle clockwise from
// the head of the face: a slender lozenge, its north half solid in the accent,
// its south half a stem that tapers into an eye.
func (f *Face) drawNeedle(angle float64) {
	p := f.pen
	stem := max(1.6, p.Radius()*0.02) / 2 / p.Radius()
	root := needleEnd + 2*eyeOuter - 0.008
	f.turned(angle, f.ink.Tail, func() {
		p.Polygon(angle, [][2]float64{{0, -needleWaist}, {root, -stem}, {root, stem}, {0, needleWaist}})
	})
	f.turned(angle, f.ink.Tail, func() { p.Ring(needleEnd+eyeOuter, 0, eyeInner, eyeOuter, angle) })
	f.turned(angle, f.ink.Needle, func() {
		p.Polygon(angle, [][2]float64{{needleTip, 0}, {0, needleWaist}, {0, -needleWaist}})
	})
	f.hub(hubOuter, f.ink.Plate)
	f.hub(hubInner, f.ink.Letter)
}

// turned fills what add adds within the box that the needle takes at an angle.
func (f *Face) turned(angle float64, ink color.NRGBA, add func()) {
	sin, cos := math.Sincos(angle)
	const margin = 0.06
	f.pen.Begin(0, 0, needleTip*math.Abs(sin)+margin, needleTip*math.Abs(cos)+margin)
	add()
	f.pen.Fill(f.out, ink)
}

func (f *Face) hub(r float64, ink color.NRGBA) {
	f.pen.Begin(0, 0, r, r)
	f.pen.Disc(0, 0, r, 0)
	f.pen.Fill(f.out, ink)
}

// drawIndex paints the index at an angle clockwise from the head of the face: a wedge that bites into the rim, a hairline
// from its point down through the graduations, and a smaller wedge that rises
// from the plate to meet the figure from below.
func (f *Face) drawIndex(angle float64) {
	p := f.pen
	p.Begin(0.83, angle, 0.22, 0.22)
	p.Polygon(angle, [][2]float64{{0.998, -0.075}, {0.998, 0.075}, {tickOuter - 0.005, 0}})
	p.Polygon(angle, [][2]float64{{ringInner - 0.05, 0.042}, {ringInner - 0.05, -0.042}, {ringInner + 0.022, 0}})
	p.Line(tickFigure-0.012, tickOuter-0.005, 0, angle, max(1.2, p.Radius()*0.013))
	p.Fill(f.out, f.ink.Index)
}
