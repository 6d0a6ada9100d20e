package calib

import (
	"math"

	"legwright/app/caution"
)

// Trust says how far a calibration may be used. The zero value of Code means
// that nothing is known against it anywhere in the picture.
type Trust struct {
	// Code is "", caution.PhotoNeedsFive (fewer than five points of a photograph) or
	// caution.ShortReach (a corner of the picture is known much less well than the
	// points, or not trusted).
	Code caution.Code
	// LimitM is the 95 % radius in metres beyond which a point is not trusted:
	// +Inf for a given matrix.
	LimitM float64
	// Far is the corner of the picture that is known least well, and FarErrorM
	// the 95 % radius there in metres. Both are 0 where the size of the picture
	// is not known.
	Far       PicturePt
	FarErrorM float64
}

// Limits of what control points support.
const (
	usefulPart   = 0.01 // of the diagonal: a point known worse than that is not trusted
	bentPart     = 0.1  // of the points' span: where a picture that bends much is trusted outside them
	mostBentUsed = 1    // bend factors beyond which that holds
	errorGrowth  = 4.0  // times that the error may grow from the points to a corner without a caution,
	usefulPx     = 1.5  // where it is at least so many pixels at the points
)

// Trust returns how far the calibration may be used.
func (c *Calibration) Trust() Trust { return c.trust }

// Beyond says by how much a point lies beyond trust, as a part of the limit: 0
// and below where it is trusted. It counts the 95 % radius against
// Trust().LimitM; on a picture that bends more than paper usually does, also
// the distance from the control points' hull, for beyond them its bend is a
// guess. +1 where the calibration is not trusted anywhere, and beyond the
// horizon of a photograph.
func (c *Calibration) Beyond(p PicturePt) float64 {
	switch {
	case c.given:
		return -1
	case c.Tilted():
		return 1
	}
	if u, v := c.estimate.plane.frame.centred(p); !(c.estimate.plane.depth(u, v) > leastDepthTrusted) {
		return 1
	}
	beyond := c.HalfWidth95M(p)/c.trust.LimitM - 1
	if c.estimate.softer > mostBentUsed {
		beyond = math.Max(beyond, c.hull.outside(p)/(bentPart*c.hull.span())-1)
	}
	if math.IsNaN(beyond) {
		return 1
	}
	return beyond
}

// Tilted reports whether a photograph has too few points to tell how the camera was
// tilted: held flat, right points disagree, which says nothing against them.
func (c *Calibration) Tilted() bool {
	return c.options.Medium == Photograph && len(c.points) < leastPhoto
}

// leastDepthTrusted is how near to the horizon of a photograph a point may lie,
// as a part of the depth amid the points.
const leastDepthTrusted = 0.1

// Trusted reports whether p lies where the control points support the
// calibration (see Beyond), and by how many pixels it lies outside their hull (0
// inside, and of a given matrix).
func (c *Calibration) Trusted(p PicturePt) (ok bool, outsidePx float64) {
	if len(c.points) > 0 {
		outsidePx = c.hull.outside(p)
	}
	return c.Beyond(p) <= 0, outsidePx
}

// HalfWidth95M returns the 95 % radius of the grid position of p in metres (see
// Cov2.Radius95). It counts the calibration alone, not the click. It may be NaN
// or infinite where the calibration is undefined, as beyond the horizon of a
// photograph.
func (c *Calibration) HalfWidth95M(p PicturePt) float64 { return c.Covariance(p, 0).Radius95() }

// weigh says how far the points reach in the picture.
func (c *Calibration) weigh() Trust {
	if c.given {
		return Trust{LimitM: math.Inf(1)}
	}
	t := Trust{LimitM: usefulPart * diagonalOf(c.options, c.points) * c.MetresPerPixel()}
	within := 0.0
	for _, p := range c.hull { // points inside it are known better
		within = math.Max(within, c.HalfWidth95M(p))
	}
	t.LimitM = math.Max(t.LimitM, within)
	if c.options.Medium == Photograph && len(c.points) < usefulPhoto {
		t.Code = caution.PhotoNeedsFive
	}
	c.trust = t
	w, h := float64(c.options.Width), float64(c.options.Height)
	if !(w > 0 && h > 0) {
		return t
	}
	for _, p := range []PicturePt{{}, {w, 0}, {w, h}, {0, h}} {
		err := c.HalfWidth95M(p)
		if err >= t.FarErrorM {
			t.Far, t.FarErrorM = p, err
		}
		if t.Code == "" && len(c.points) > 2 && c.Beyond(p) > 0 {
			t.Code = caution.ShortReach
		}
	}
	if t.Code == "" && len(c.points) > 2 && t.FarErrorM > errorGrowth*math.Max(within, usefulPx*c.MetresPerPixel()) {
		t.Code = caution.ShortReach
	}
	return t
}
