package calib

import "math"

// What is known of a camera, as standard deviations (common practice, no
// source). Lengths are parts of the picture's diagonal.
const (
	centreSD     = 0.01  // of the principal point, beside the picture's middle
	squareSD     = 0.002 // of the pixels' sides and corners
	statedSD     = 0.05  // of the logarithm of a focal length that the file states
	shortestLens = 0.7   // of usual focal lengths
	longestLens  = 1.6
)

// camera is the prior of the camera that took a picture.
type camera struct {
	middle     PicturePt
	diagonalPx float64
	focal      float64 // in diagonals
	focalSD    float64 // of its logarithm
}

// cameraOf returns what is known of the camera, false where the picture's size
// is not known.
func cameraOf(o Options) (camera, bool) {
	if o.Width <= 0 || o.Height <= 0 {
		return camera{}, false
	}
	w, h := float64(o.Width), float64(o.Height)
	c := camera{middle: PicturePt{w / 2, h / 2}, diagonalPx: math.Hypot(w, h)}
	c.focal, c.focalSD = math.Sqrt(shortestLens*longestLens), math.Log(longestLens/shortestLens)/4
	if o.Focal > 0 {
		c.focal, c.focalSD = o.Focal, statedSD
	}
	return c, true
}

// violated says by how much a plane misses two conditions of a camera of this
// focal length and principal point: the grid's axes, seen through it, are
// square and of one length (Zhang, A flexible new technique for camera
// calibration, IEEE PAMI 22, 2000, section 2.3).
func (c camera) violated(p plane, focal, centreX, centreY float64) (v [2]float64) {
	var axes [2][3]float64
	r := p.frame.radiusPx
	for axis := range axes {
		x, y, w := p.back[0][axis]*r, p.back[1][axis]*r, p.back[2][axis]
		x, y = x+w*(p.frame.col-c.middle.Col), y+w*(p.frame.row-c.middle.Row)
		axes[axis] = [3]float64{
			(x/c.diagonalPx - centreX*w) / focal,
			(y/c.diagonalPx - centreY*w) / focal,
			w,
		}
	}
	a, b := axes[0], axes[1]
	aa := a[0]*a[0] + a[1]*a[1] + a[2]*a[2]
	bb := b[0]*b[0] + b[1]*b[1] + b[2]*b[2]
	ab := a[0]*b[0] + a[1]*b[1] + a[2]*b[2]
	return [2]float64{2 * ab / (aa + bb), (aa - bb) / (aa + bb)}
}

// observed makes a pseudo-observation of the two conditions, linearised at the
// plane; what is not known of focal length and principal point is its noise.
func (c camera) observed(p plane) *pseudo {
	at := c.violated(p, c.focal, 0, 0)
	out := &pseudo{value: [2]float64{-at[0], -at[1]}}
	step := 1e-4 * p.frame.radiusPx
	for k := range planeFreedom {
		var d [planeFreedom]float64
		d[k] = step
		more := c.violated(p.moved(d[:]), c.focal, 0, 0)
		d[k] = -step
		less := c.violated(p.moved(d[:]), c.focal, 0, 0)
		for i := range 2 {
			out.rows[i][k] = (more[i] - less[i]) / (2 * step)
		}
	}
	cov := [2][2]float64{{squareSD * squareSD, 0}, {0, squareSD * squareSD}}
	for _, unknown := range [][2][2]float64{
		{c.violated(p, c.focal*math.Exp(c.focalSD), 0, 0), c.violated(p, c.focal*math.Exp(-c.focalSD), 0, 0)},
		{c.violated(p, c.focal, centreSD, 0), c.violated(p, c.focal, -centreSD, 0)},
		{c.violated(p, c.focal, 0, centreSD), c.violated(p, c.focal, 0, -centreSD)},
	} {
		s := [2]float64{(unknown[0][0] - unknown[1][0]) / 2, (unknown[0][1] - unknown[1][1]) / 2}
		for i := range 2 {
			for j := range 2 {
				cov[i][j] += s[i] * s[j]
			}
		}
	}
	det := cov[0][0]*cov[1][1] - cov[0][1]*cov[1][0]
	out.inv = [2][2]float64{{cov[1][1] / det, -cov[0][1] / det}, {-cov[1][0] / det, cov[0][0] / det}}
	return out
}
