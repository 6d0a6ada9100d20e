// Package calib ties a picture to a grid: it turns control points into a
// transform between picture pixels and grid metres, and says how far that
// transform may be trusted. It knows nothing of pictures' contents, of grids'
// projections or of the window.
//
// # How a fit is made
//
// A control point is a place in the picture whose grid coordinates are known,
// usually a crossing of printed grid lines. Two points fix a similarity (one
// scale, one turn, one shift); an affine map (two scales, a shear) needs
// three. Every point beyond that is redundant, and redundancy is the only
// thing a fit can be judged by.
//
// The fit minimises the grid residuals in metres, weighted by the points' own
// standard deviations, which leaves equal points equally weighted. Pictures
// are centred on the points' centroid and scaled by their mean radius before
// the normal equations are formed. That makes the matrix nearly diagonal, so
// that northings of a million metres and more cost no digits.
//
// A photograph of flat paper needs a perspective (four points, no three of them
// on one line), found by Gauss and Newton. Paper that is folded or stretched
// needs a smooth fit (nine points): a random surface over an affine map, whose
// stiffness the points themselves tell. Left to itself the fit is the simplest
// kind that a freer one does not clearly better: the error at a point left out
// of the fit must fall, by more than noise would give, and no point may look
// wrong, since a freer map hides a slip by bending to it.
//
// # What the uncertainty means
//
// Each control point carries an a-priori standard deviation: the click (0.7
// pixel an axis unless set) and that of its reference. It is propagated
// through the fit to every place of the picture. Where there is redundancy
// the outcome is multiplied by max(1, s₀²): points that agree less well than
// they should widen the error bars, while points that agree by luck never
// narrow them. Both ends of a leg share one calibration, so their errors are
// joint, and a bearing needs the 4×4 covariance that Joint gives.
//
// # What a fit cannot see
//
// Two points always fit. And a whole grid square misread alike at every point
// fits perfectly, whatever the number of points. So no fit proves itself: a
// sheet stays unproved until something independent of its control points
// agrees. CheckFeature is the cheapest such proof.
//
// # Slips
//
// When the points do not fit each other, the usual slips are tried one by one
// and the fit repeated: eastings and northings exchanged (at one point or at
// all), a mirrored picture, two references exchanged, one digit wrong, one
// point out of place. If no single slip will do, the points that the others
// disown are set aside one by one, and each is then held against the rest. A
// slip is named only if undoing it makes the points agree; if several would do
// so, all are named. Three points alone often leave more than one explanation, a
// fourth nearly always settles it.
package calib
