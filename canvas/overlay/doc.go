// Package overlay draws everything committed that lies over the sheet, legs,
// sights, marks, control points, the calibrated grid, residuals and tracks, into
// one transparent picture for a view. It decides how things look and nothing
// else: a Scene says what there is, built from a plan by SceneOf.
//
// # Drawing
//
// Lines are drawn by their distance: for each pixel near a segment the
// distance from its axis picks a colour from a small table, which holds the
// whole cross-section of the line, rails, filling and casing, with soft edges.
// A segment costs only the pixels it covers. A later line lies over an earlier
// one with its casing, as a bridge over a road. A text is filled outlines, turned to
// any angle; the text renderer keeps it as a text image, a small picture with its halo.
//
// Everything is clipped to the picture before it is drawn, whatever its
// coordinates. Two goroutines share a picture, each with a strip of it, the upper and
// the lower half.
package overlay
