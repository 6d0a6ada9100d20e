// Package terrain answers questions about the ground from height models: how
// high, how steep and which way it falls at a position, what the ground does
// along a line, and whether one position can be seen from another. It reads no files
// (mapio/dem does), draws nothing and plans nothing.
//
// # Posts
//
// A model is made of tiles. A tile holds heights at posts, the points of a
// lattice that is square to a grid of its own: columns run east, rows run south from the
// north-west post. Between posts the height is bilinear in that grid's
// coordinates. Tiles on one lattice are one surface, whether they share their
// outermost posts or lie side by side; where lattices overlap, the one with the
// closest posts answers. A post without a height is a void. Outside the posts, and
// where a void would be needed, every answer has ok false.
//
// # What a model cannot know
//
// Posts miss what stands between them. A crag lower than BlindHeight makes no ground
// between two posts look over-steep. Terrain may forbid ground; it never shows
// that ground is safe.
//
// # Sources
//
// Slope is that of B. K. P. Horn, Hill shading and the reflectance map,
// Proceedings of the IEEE 69 (1981), the 3 × 3 kernel that GDAL uses too. The
// correction for curvature and refraction is d²(1 − k)/2R with R 6371 km and k
// 0.13, as surveyors use it. Over-steep from 25°, or from 20° where posts stand
// more than 15 m apart, is common practice, no source.
package terrain
