// Package ground is the planar work on what is drawn on the ground: whether a position
// lies in an area, how near a leg comes to a hazard and where, which parts of it lie
// inside. It knows shapes on one grid, in metres of that grid, and neither plans nor what
// a shape means: whoever holds positions on several grids converts them first.
//
// Points, distances and contents are paulmach/orb's, intersections and the test whether an
// outline crosses itself simplefeatures'. Metres on a grid differ from those on the ground
// by the grid's scale, at most 0.1 % on the grids that people walk on.
//
// Everything errs towards danger: a border belongs to its area, and where an intersection
// cannot be worked out the whole leg counts as inside.
package ground
