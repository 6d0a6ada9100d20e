package check

import (
	"math"

	"legwright/app/calib"
	"legwright/app/calib/slips"
)

// Result is how one piece of evidence compares with where the sheet has it.
type Result struct {
	Counts bool    // it is compared; what is unreadable or rests on an unchecked sheet is not
	OffM   float64 // how far it lies from there, in metres
	MostM  float64 // how far sound evidence may lie from there, in metres
}

// Agrees reports whether the evidence lies no farther off than it may.
func (r Result) Agrees() bool { return r.Counts && r.OffM <= r.MostM }

// results returns the result of each piece of evidence, in the order in which the
// sheet has them.
func (c *held) results() []Result {
	out := make([]Result, len(c.s.Evidence))
	for i := range c.s.Evidence {
		if c.s.Evidence[i].Source == calib.FromTerrain {
			out[i] = c.heights.result(i)
			continue
		}
		for _, r := range c.rows {
			if r.Evidence == &c.s.Evidence[i] {
				off, sigma := c.off(r)
				out[i] = Result{Counts: true, OffM: off, MostM: sigma * c.allowed()}
			}
		}
	}
	return out
}

// next is the point where an unchecked sheet is best looked at next.
type next struct {
	at    calib.PicturePt
	open  []slips.Slip // the open slips of points and lines,
	shown int          // and how many of them a control point there would show
}

// next returns the point where a further control point would show most open slips of
// points and lines or, without such slips, the corner farthest from the control points.
func (c *held) next(open []slips.Slip) next {
	var mine []slips.Slip
	for _, s := range open {
		if s.Kind == slips.OfPoint || s.Kind == slips.OfLine {
			mine = append(mine, s)
		}
	}
	if len(mine) > 0 {
		at, shown := c.best(mine)
		return next{at, mine, shown}
	}
	w, h := float64(c.s.Width), float64(c.s.Height)
	var far calib.PicturePt
	most := -1.0
	const in, out = 0.08, 0.92 // of the picture: maps have a border
	for _, part := range [][2]float64{{out, in}, {out, out}, {in, out}, {in, in}} {
		at := calib.PicturePt{Col: part[0] * w, Row: part[1] * h}
		if near := c.nearest(at); near > most {
			far, most = at, near
		}
	}
	return next{at: far}
}

// best is the further intersection that would show most of the slips, and
// how many. Of points that show as many it is the one farthest from the control
// points.
func (c *held) best(open []slips.Slip) (at calib.PicturePt, shown int) {
	shown = -1
	far := -1.0
	w, h := float64(c.s.Width), float64(c.s.Height)
	for _, part := range [][2]float64{{0.1, 0.1}, {0.9, 0.1}, {0.9, 0.9}, {0.1, 0.9}, {0.5, 0.5}} {
		p := calib.PicturePt{Col: part[0] * w, Row: part[1] * h}
		n, from := c.shown(p, open), c.nearest(p)
		if n > shown || n == shown && from > far {
			at, shown, far = p, n, from
		}
	}
	return at, shown
}

// nearest is how far a point lies from the nearest control point, in pixels.
func (c *held) nearest(at calib.PicturePt) float64 {
	near := math.Inf(1)
	for _, p := range c.list.Points {
		near = math.Min(near, math.Hypot(p.At.Col-at.Col, p.At.Row-at.Row))
	}
	return near
}
