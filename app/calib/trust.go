package calib

import (
	"fmt"
	"math"
)

// Trust says how far a fit reaches beyond its control points. The zero value
// of Code means that nothing is known against it anywhere in the picture.
type Trust struct {
	// Code is "", CodePhoto (fewer than four points of a photograph),
	// CodeCollinear (all points on one line) or CodeShortReach (all in one
	// corner or in a narrow band).
	Code string
	// ReachPx is how far outside the points' hull a place may lie in the
	// picture and still be trusted, in pixels; +Inf where Code is "" and the
	// fit is linear.
	ReachPx float64
	// Far is the corner of the picture that is known least well, FarPx its
	// distance from the hull in pixels, and FarErrorM half the width of its
	// 95 % interval in metres along the worst direction. All are 0 where the
	// size of the picture is not known.
	Far       PicturePt
	FarPx     float64
	FarErrorM float64
}

// Limits of what control points support.
const (
	usefulPx      = 3.0  // an error of so many pixels is borne before a place is called out of reach
	unseenPart    = 0.01 // of stretch that a line of points does not see: paper and copiers stretch by 1% to 2% (common practice, no source)
	spansLinear   = 1.5  // spans of the points that the far corner may lie outside them: linear fits
	spansBent     = 0.75 // perspective and smooth fits
	errorGrowth   = 4.0  // times that the error may grow from the points to the far corner
	bentReachPart = 0.1  // of the points' radius: where a fit that bends is trusted outside them
)

// Trust returns how far the fit may be trusted outside its control points.
func (c *Calibration) Trust() Trust { return c.trust }

// Trusted reports whether p lies where the control points support the fit, and
// by how many pixels it lies outside their hull (0 inside, and of two points).
// A linear fit is trusted anywhere, with error bars that grow, unless its
// points lie on one line or in one corner, or are too few for a photograph; a perspective or smooth one within a
// tenth of the points' spread around their hull.
func (c *Calibration) Trusted(p PicturePt) (ok bool, outsidePx float64) {
	if len(c.points) < 2 || len(c.points) == 2 && c.trust.Code == "" {
		return true, 0
	}
	outsidePx = c.hull.outside(p)
	return outsidePx <= c.trust.ReachPx, outsidePx
}

// HalfWidth95M returns half the width of the 95 % interval of the grid position
// of p, in metres: two standard deviations along the long axis of the error
// ellipse. It counts the calibration alone, not the click. It may be NaN or
// infinite where the fit is undefined, as beyond the horizon of a photograph.
func (c *Calibration) HalfWidth95M(p PicturePt) float64 {
	return 2 * math.Sqrt(math.Max(0, c.Covariance(p, 0).major()))
}

// weigh says how far the points reach in a picture of the size given.
func (c *Calibration) weigh(o Options) Trust {
	t := Trust{ReachPx: math.Inf(1)}
	if c.bend != nil {
		t.ReachPx = bentReachPart * c.sol.frame.radiusPx
	}
	t.look(c, o)
	if needsFour(c.points, o) {
		t.Code, t.ReachPx = CodePhoto, 0
		return t
	}
	if c.kind == Similarity && len(c.points) > 2 && checkSpread(c.points) != nil {
		t.Code, t.ReachPx = CodeCollinear, usefulPx/unseenPart
		t.FarErrorM = math.Hypot(t.FarErrorM, unseenPart*t.FarPx*c.MetresPerPixel())
		return t
	}
	if t.FarPx == 0 {
		return t
	}
	spans, span := spansLinear, c.hull.span()
	if c.bend != nil {
		spans = spansBent
	}
	within := c.worstWithin()
	limit := math.Max(2*within, usefulPx*c.MetresPerPixel())
	if t.FarPx > spans*span || t.FarErrorM > math.Max(errorGrowth*within, 2*limit) {
		t.Code = CodeShortReach
		t.ReachPx = math.Min(t.ReachPx, math.Min(span, c.reachTowards(t.Far, limit)))
	}
	return t
}

// needsFour says of a photograph that its points are too few for any fit.
func needsFour(points []ControlPoint, o Options) bool {
	return o.Photo && len(points) < atLeast(Perspective)
}

// look finds the corner that is known least well.
func (t *Trust) look(c *Calibration, o Options) {
	w, ht := float64(o.Width), float64(o.Height)
	if !(w > 0 && ht > 0) {
		return
	}
	for _, p := range []PicturePt{{}, {w, 0}, {w, ht}, {0, ht}} {
		if err := c.HalfWidth95M(p); err >= t.FarErrorM {
			t.Far, t.FarPx, t.FarErrorM = p, c.hull.outside(p), err
		}
	}
}

// worstWithin is the greatest half width at the points themselves, metres.
func (c *Calibration) worstWithin() float64 {
	var worst float64
	for _, p := range c.points {
		worst = math.Max(worst, c.HalfWidth95M(p.At))
	}
	return worst
}

// reachTowards is how far outside the hull, on the way from the points'
// centroid to a corner, the half width stays within a limit, in pixels.
func (c *Calibration) reachTowards(far PicturePt, limitM float64) float64 {
	f := c.sol.frame
	at := func(k float64) PicturePt { return PicturePt{f.col + k*(far.Col-f.col), f.row + k*(far.Row-f.row)} }
	if c.HalfWidth95M(far) <= limitM {
		return c.hull.outside(far)
	}
	near, beyond := 0.0, 1.0
	for range 30 {
		if mid := (near + beyond) / 2; c.HalfWidth95M(at(mid)) <= limitM {
			near = mid
		} else {
			beyond = mid
		}
	}
	return c.hull.outside(at(near))
}

// warning says in words how far the fit may be trusted.
func (t Trust) warning(o Options) (Warning, bool) {
	reach := fmt.Sprintf("%s px", grouped(t.ReachPx))
	if o.DPI > 0 {
		reach += fmt.Sprintf(" (%.0f mm)", t.ReachPx/o.DPI*25.4)
	}
	switch t.Code {
	case CodePhoto:
		return Warning{Code: CodePhoto, Text: "this picture is a photograph, whose scale differs from side to side: name at least four crossings, near its corners"}, true
	case CodeCollinear:
		text := "the control points lie on one line, along which a similarity holds: a stretch or a mirrored picture across that line would not be seen; trust the sheet within " + reach + " of them"
		if t.FarPx > 0 {
			text += fmt.Sprintf("; with a stretch of %g %% its far corner is good to ± %s m", 100*unseenPart, figure(t.FarErrorM))
		}
		return Warning{Code: CodeCollinear, Text: text + "; add a point well off the line"}, true
	case CodeShortReach:
		return Warning{Code: CodeShortReach, Text: fmt.Sprintf(
			"the control points lie in one part of the picture: trust the sheet within %s of them; at its far corner it is good to ± %s m at best; add a point over there",
			reach, figure(t.FarErrorM))}, true
	}
	return Warning{}, false
}
