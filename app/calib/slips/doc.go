// Package slips lists the usual slips of reading a map's figures, says which of
// them would show among control points and evidence, and names those that explain
// why points do not fit each other.
//
// # The list
//
// The unit is the square: the step between printed lines, from the typed
// references (StepOf). One point: one or ten squares out, any digit worth a square
// or more, easting and northing swapped, two references swapped. One line: all
// points that share a typed easting or northing, or all beyond it, one or ten
// squares out. All points: the same, and 100 km for their letters. The name of the
// grid and what a file may have wrong are lists of the package check, which makes
// families of them.
//
// # Visible, harmless, open
//
// A slip is a displacement b of some references. Judged by one linear model, its
// non-centrality is bᵀPb (Baarda, A testing procedure for use in geodetic networks,
// Netherlands Geodetic Commission, 1968). It is visible where that lies above
// Visible times the clicks' variance factor, so that either error, to see a slip
// where there is none or to miss one, is rarer than 1 in 4,000. It is harmless
// where it moves no trusted point by three times that point's stated 95 %. It is
// open where it is neither.
package slips
