// Package proj projects an ellipsoid to a plane and back, with convergence and scale:
// Transverse Mercator, Lambert conformal conic, Lambert azimuthal equal-area, Swiss
// oblique Mercator, Mercator, Web Mercator, polar stereographic and plain degrees.
// It knows no datum, no catalogue and no text.
package proj
