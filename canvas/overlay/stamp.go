package overlay

import (
	"image"
	"math"

	"legwright/canvas/view"
)

// shape is a symbol that is drawn once and then stamped.
type shape int

const (
	markShape    shape = iota // a lozenge around a place and a dot on it
	chosenShape               // the same, chosen
	faintShape                // the same, standing back
	dotShape                  // the end of a leg or sight
	ringShape                 // around an intersection found: well seen
	brokenShape               // partly seen
	strokesShape              // faintly seen
	spotShape                 // a feature that nobody judged
	wellShape                 // one that fits well
	barelyShape               // one that fits barely
	cannotShape               // one that cannot fit
	ledShape                  // the end of a wrong bearing
	crossShape                // where two sightings cross
	controlShape              // a control point: a cross that leaves its middle free
	cornersShape              // the same, within four corners
)

// parts is how finely a stamp is placed: a symbol is drawn parts × parts times,
// shifted by fractions of a pixel.
const parts = 4

// stampKey names a drawn symbol.
type stampKey struct {
	shape  shape
	fx, fy int      // shift in 1/parts pixels
	pass   *profile // of a control point, whose casing lies beneath the ink of all others
}

// stampAt is a symbol and where its corner lies.
type stampAt struct {
	img  *image.RGBA
	x, y int
}

// rect is the square that the symbol lies in.
func (s stampAt) rect() image.Rectangle { return s.img.Rect.Add(image.Pt(s.x, s.y)) }

// stamp finds or draws the symbol for a place.
func (p *Painter) stamp(sh shape, at view.ScreenPt) stampAt { return p.stampPass(sh, nil, at) }

// stampPass is stamp for the casing or the ink of a control point.
func (p *Painter) stampPass(sh shape, pass *profile, at view.ScreenPt) stampAt {
	x, y := math.Floor(at.X*parts+0.5)/parts, math.Floor(at.Y*parts+0.5)/parts
	ix, iy := math.Floor(x), math.Floor(y)
	k := stampKey{sh, int((x - ix) * parts), int((y - iy) * parts), pass}
	img := p.stamps[k]
	if img == nil {
		img = p.drawStamp(k)
		p.stamps[k] = img
	}
	half := img.Rect.Dx() / 2
	return stampAt{img, int(ix) - half, int(iy) - half}
}

func (p *Painter) drawStamp(k stampKey) *image.RGBA {
	if k.shape >= controlShape {
		return p.drawControl(k)
	}
	if k.shape >= spotShape {
		return p.drawFit(k)
	}
	if k.shape >= ringShape {
		return p.drawRing(k)
	}
	half := int(math.Ceil(pick(k.shape == dotShape, 4, 13.0) * p.px))
	s := &strip{img: image.NewRGBA(image.Rect(0, 0, 2*half, 2*half)), y1: 2 * half}
	at := view.ScreenPt{X: float64(half) + float64(k.fx)/parts, Y: float64(half) + float64(k.fy)/parts}
	line := pick(k.shape == chosenShape, markChosen, markLine)
	passes := []*profile{&p.casing[line], &p.ink[line]}
	if k.shape == faintShape {
		passes = []*profile{&p.faint[line]}
	}
	for _, pr := range passes {
		s.segment(pr, at, at, true)
		if k.shape == dotShape {
			continue
		}
		r := 8 * p.px
		ring := [5]view.ScreenPt{at.Add(0, -r), at.Add(r, 0), at.Add(0, r), at.Add(-r, 0), at.Add(0, -r)}
		for i := range 4 {
			s.segment(pr, ring[i], ring[i+1], true)
		}
	}
	return s.img
}

// drawControl draws the casing or the ink of a control point.
func (p *Painter) drawControl(k stampKey) *image.RGBA {
	px := p.px
	half := int(math.Ceil(11*px+k.pass.reach)) + 1
	s := &strip{img: image.NewRGBA(image.Rect(0, 0, 2*half, 2*half)), y1: 2 * half}
	at := view.ScreenPt{X: float64(half) + float64(k.fx)/parts, Y: float64(half) + float64(k.fy)/parts}
	for _, q := range [4][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
		s.segment(k.pass, at.Add(q[0]*3*px, q[1]*3*px), at.Add(q[0]*9*px, q[1]*9*px), false)
	}
	if k.shape != cornersShape {
		return s.img
	}
	for _, q := range [4][2]float64{{1, 1}, {-1, 1}, {1, -1}, {-1, -1}} {
		c := at.Add(q[0]*11*px, q[1]*11*px)
		s.segment(k.pass, c, c.Add(-q[0]*5*px, 0), true)
		s.segment(k.pass, c, c.Add(0, -q[1]*5*px), true)
	}
	return s.img
}
