package overlay

import (
	"math"
	"strconv"

	"legwright/canvas/view"
)

const (
	// residualPx is about how long the longest residual is drawn, in
	// device-independent pixels.
	residualPx = 40
	// mostTimes is the most by which residuals are lengthened unasked: what is
	// shorter still is not a miss.
	mostTimes = 1000
	// leastArrowPx is the length below which an arrow is none, in the same
	// pixels.
	leastArrowPx = 1
	// leastResidualPx is the residual in pixels of the picture below which no
	// arrow is drawn: nobody clicks more exactly, and an arrow would look like an
	// error.
	leastResidualPx = 0.5
	// residualRim is how far from its intersection an arrow begins, so that the
	// intersection is seen: outside the control point's corners.
	residualRim = 14
)

// Magnified is how many times longer than life the residuals are drawn in a
// view, px pixels to a device-independent one: what the scene asks for, or the
// round figure with which the longest is about 40 device-independent pixels
// long. It is 0 where nothing of any of them would be seen.
func (s Scene) Magnified(v view.View, px float64) float64 {
	i := s.longest()
	if i < 0 || v.IsZero() {
		return 0
	}
	if s.ResidualTimes > 0 {
		return s.ResidualTimes
	}
	long := v.Scale() * s.Residuals[i].From.Dist(s.Residuals[i].To)
	times := min(max(RoundFigure(residualPx*px/long), 1), mostTimes)
	if times*long < leastArrowPx*px {
		return 0
	}
	return times
}

// longest is the number of the longest residual, or −1 where none is drawn.
func (s Scene) longest() int {
	best, most := -1, 0.0
	for i, r := range s.Residuals {
		if l := r.From.Dist(r.To); l > most && l >= leastResidualPx && !math.IsInf(l, 0) {
			best, most = i, l
		}
	}
	return best
}

// RoundFigure is the one of 1, 2 and 5 times a power of ten that is nearest to
// a figure in proportion; 0 for what is not a figure above 0.
func RoundFigure(v float64) float64 {
	if !(v > 0) || math.IsInf(v, 0) {
		return 0
	}
	tens := math.Pow(10, math.Floor(math.Log10(v)))
	switch m := v / tens; {
	case m < math.Sqrt2:
		return tens
	case m < math.Sqrt(10):
		return 2 * tens
	case m < math.Sqrt(50):
		return 5 * tens
	}
	return 10 * tens
}

// residual is where an arrow begins and ends on the screen: it starts outside
// the intersection's rim and has the lengthened miss's length and direction.
func (d *drawing) residual(r Residual) (from, to view.ScreenPt) {
	at, end := d.v.ToScreen(r.From), d.v.ToScreen(r.To)
	long := at.Dist(end)
	if !(long > 0) || math.IsInf(long, 0) || r.From.Dist(r.To) < leastResidualPx {
		return at, at
	}
	ux, uy := (end.X-at.X)/long, (end.Y-at.Y)/long
	rim, reach := residualRim*d.p.px, residualRim*d.p.px+d.times*long
	return at.Add(ux*rim, uy*rim), at.Add(ux*reach, uy*reach)
}

// residualText writes by how much the arrows are lengthened at the head of the
// longest in sight.
func (d *drawing) residualText() {
	best, most := -1, 1.0
	for i, r := range d.scene.Residuals {
		a, b := d.residual(r)
		if l := a.Dist(b); l > most && d.sees(b, b) {
			best, most = i, l
		}
	}
	if best < 0 {
		return
	}
	a, b := d.residual(d.scene.Residuals[best])
	w := words{text: TimesWords(d.times), size: controlSize * d.p.px, bold: true, ink: black}
	off := d.p.letters.width(w)/2 + 8*d.p.px
	d.put(w, b.Add((b.X-a.X)/most*off, (b.Y-a.Y)/most*off))
}

// TimesWords writes a magnification, such as "× 50".
func TimesWords(times float64) string { return "× " + strconv.FormatFloat(times, 'g', -1, 64) }
