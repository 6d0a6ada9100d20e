package calib

import "math"

// What paper does between the printing press and the picture, as standard
// deviations (common practice, no source: printers and scanners keep to a few
// parts in a thousand).
const (
	stretchSD = 0.004               // of the length, along columns and along rows
	shearSD   = 0.1 * math.Pi / 180 // radians
	bendSD    = 0.0003              // of the picture's diagonal
	bendReach = 0.32                // of the picture's diagonal: over how far a bend is alike
	drawnPart = 0.1                 // of all three where a program drew the picture
)

// paper is the prior of the paper: standard deviations of stretch (each way)
// and shear, and the bend, a random displacement in pixels whose covariance
// between points r apart is bend²·exp(−r²/2·length²).
type paper struct {
	stretch, shear float64
	bendPx         float64
	lengthPx       float64
}

// paperOf returns the prior for a picture of the diagonal given, in pixels.
func paperOf(m Medium, diagonalPx float64) paper {
	part := 1.0
	if m == Drawn {
		part = drawnPart
	}
	return paper{part * stretchSD, part * shearSD, part * bendSD * diagonalPx, bendReach * diagonalPx}
}

// bend is the covariance of the bend, in px² and of either axis, between two
// points.
func (p paper) bend(a, b PicturePt) float64 {
	if p.bendPx == 0 {
		return 0
	}
	dc, dr := a.Col-b.Col, a.Row-b.Row
	return p.bendPx * p.bendPx * math.Exp(-(dc*dc+dr*dr)/(2*p.lengthPx*p.lengthPx))
}

// diagonalOf is the picture's diagonal in pixels, or the extent of the points
// where the picture's size is not known.
func diagonalOf(o Options, points []ControlPoint) float64 {
	if o.Width > 0 && o.Height > 0 {
		return math.Hypot(float64(o.Width), float64(o.Height))
	}
	lo, hi := PicturePt{math.Inf(1), math.Inf(1)}, PicturePt{math.Inf(-1), math.Inf(-1)}
	for _, p := range points {
		lo = PicturePt{math.Min(lo.Col, p.At.Col), math.Min(lo.Row, p.At.Row)}
		hi = PicturePt{math.Max(hi.Col, p.At.Col), math.Max(hi.Row, p.At.Row)}
	}
	return math.Max(1, pictureDistance(lo, hi))
}
