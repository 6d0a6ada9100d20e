// Package calib ties a picture to a grid: it turns control points into a
// transform between picture pixels and grid metres, and says how far that
// transform may be trusted. It knows nothing of pictures' contents, of grids'
// projections or of the window.
//
// # The model
//
// A control point is a point in the picture whose grid coordinates are known,
// usually an intersection of printed grid lines. One linear model predicts and
// judges: y = Aβ + paper + clicks, in pixels of the picture. A is a similarity,
// or of a photograph a homography, linearised, whose camera has square pixels, a
// principal point near the middle and a focal length that the file states or that
// is usual (camera.go). Paper stretches 0.4 % each way, shears 0.1° and bends by
// 0.03 % of the picture's diagonal (standard deviations); a picture that a
// program drew has a tenth of it (paper.go). Clicks have a σ of 0.7 pixel an axis
// unless set, known as well as four observations would tell it.
//
// β is estimated by generalised least squares (gls.go), and a position is the best
// linear unbiased prediction: the fitted plane, moved by what the paper is likely
// to have done there (Cressie, Statistics for Spatial Data, 1993, section 3.4,
// universal kriging). The scale of the clicks and, from ten points on, a bend
// greater than usual paper's are those of the greatest likelihood (softness.go).
//
// Pictures are centred on the points' centroid and scaled by their mean radius,
// so that northings of a million metres and more cost no digits.
//
// # What the uncertainty means
//
// The covariance of a position counts clicks, references and paper, also far from
// the points, and Student's factor for clicks whose σ the points themselves must
// tell. Times 1.96 it holds 95 % along any direction; HalfWidth95M is the radius
// of the circle that holds 95 %. Both ends of a leg share the calibration, so
// their errors are joint, and a bearing needs the 4×4 covariance that Joint gives.
//
// # What a fit cannot see
//
// Two points always fit. And a whole grid square misread alike at every point
// fits perfectly, whatever the number of points. So no fit checks itself: evidence
// does, which is independent of the points. Judge checks points and evidence
// against the model and says of any slip how likely it is, whether it would show
// and how far it moves a point; package slips lists and names them, package check
// gives the verdict.
package calib
