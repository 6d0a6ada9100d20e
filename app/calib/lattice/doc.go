// Package lattice finds the printed grid of a map in its picture: two families
// of thin straight lines, evenly spaced and about at right angles, among
// contours, roads, letters and margins. It knows pixels only. What the lines
// are called a person says who names intersections: two tell how wide a square is, for one
// it must be said (see Lattice.SquareOf and Lattice.Named).
//
// # How it looks
//
// Colour does not matter, since every ink is darker than its paper; luma is
// searched, and only if it holds nothing, its negative. In strips of 64 rows
// the contrast of thin dark ridges is summed along every straight way within
// 24° of upright, by the fast discrete Radon transform (Götz and Druck 1996,
// Brady 1998; neither text was at hand), and ways that stand out are kept as segments.
// Segments that continue each other are chained. The same is done for the
// other family on the picture with rows and columns swapped.
//
// Long chains propose pencils: lines that are parallel or, in a photograph,
// meet in a point, so that the slope of a line is a linear function of where
// it stands. A pencil of each family gives the vanishing line and with it a
// frame (u, v) in which the camera's tilt is undone and grid lines are evenly
// spaced again. In the frame all segments, not only the chained ones, are
// gathered into profiles, and the best comb of evenly spaced peaks is sought;
// a comb pays for teeth without a peak, for peaks between the teeth and for
// unevenness, so that neither half nor twice the true spacing wins. Both combs
// must agree on the size of a square.
//
// Every line is then followed from end to end, a sample each 8 to 24 rows, on
// the darkest way that drifts slowly (dynamic programming), and each intersection
// is where straight pieces of two lines meet, fitted over about half a square
// on each side. Intersections off the smooth surface of their fellows are dropped,
// and so is the map's frame: an outermost line at which the lines across end, and
// which does not lie where the others put a grid line.
//
// Where many lines have clearly less ink than a few even ones, they divide the
// squares, and the few are the grid.
//
// # When it says no
//
// A false lattice is worse than none. At least five lines must have intersections,
// three of one family and two of the other. A third of the lattice must be
// seen, and lines half a square beside must be seen much less. Lines as good as the
// grid's between its own, or a grid that covers only a part of the picture, are
// none. Squares that are unequal are found, but not named: they may be latitude and
// longitude. Two lines of a
// frame, or a page of writing, are no grid.
package lattice
