package calib

import (
	"math"
	"sync/atomic"
)

// reaches keeps how the control points reach some points of the picture. With hundreds of
// control points a reach takes a tenth of a millisecond, and the legs of a plan are read
// at the same points again and again. It is safe for concurrent use.
type reaches [256]atomic.Pointer[reach]

// of is where a point is kept: another one may take its place.
func (k *reaches) of(p PicturePt) *atomic.Pointer[reach] {
	const odd = 0x9e3779b97f4a7c15 // 2^64 over the golden ratio: it spreads near points
	h := math.Float64bits(p.Col)*odd ^ math.Float64bits(p.Row)
	return &k[h*odd>>56]
}

// reach is how the control points reach a point.
func (c *Calibration) reach(p PicturePt) reach {
	g := c.estimate.gls
	switch {
	case g == nil:
		return reach{at: p}
	case c.reaches == nil: // while it is being made
		return g.reach(p, false)
	}
	kept := c.reaches.of(p)
	if r := kept.Load(); r != nil && r.at == p {
		return *r
	}
	r := g.reach(p, false)
	kept.Store(&r)
	return r
}
